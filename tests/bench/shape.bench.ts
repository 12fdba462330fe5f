/** A bait as a mesh: how long a large file takes to read. The command adds its start and reading the file from the disk. */
import { readMesh } from "../../lib/shape/mesh-reading.ts";
import { slicedVolume } from "../../lib/shape/slice.ts";
import { binaryStl, ellipsoid, textStl } from "../lib/shape/solids.ts";
import { printTable } from "./measure.ts";

/** Full axes of the bait, mm. */
const AXES = [90, 14, 16] as const;
const VOLUME = ((Math.PI / 6) * AXES[0] * AXES[1] * AXES[2]) / 1e9;

/** The file alone: the triangles that it was made of are not kept, so that they don't weigh on what is measured. */
function fileOf(written: "binary" | "text", triangles: number): Uint8Array {
  const mesh = ellipsoid(...AXES, Math.round(Math.sqrt(triangles / 2)));
  if (written === "binary") return binaryStl(mesh);
  // one text of that size would not fit into a string
  const parts: Uint8Array[] = [];
  for (let i = 0; i < mesh.length; i += 100_000) parts.push(textStl(mesh.slice(i, i + 100_000)));
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

export function shapeBench(): void {
  const rows = [20_000, 200_000, 2_000_000].flatMap((triangles) =>
    (["binary", "text"] as const).map((written) => {
      const bytes = fileOf(written, triangles);
      const start = performance.now();
      const reading = readMesh(bytes, { unit: 1e-3 });
      const ms = performance.now() - start;
      const off = slicedVolume(reading) / VOLUME - 1;
      return [
        `${written}, ${triangles / 1000} thousand triangles`,
        (bytes.length / 1e6).toFixed(0),
        ms.toFixed(0),
        `${(100 * off).toFixed(3)} %`,
      ];
    }),
  );
  printTable("A bait from an STL file, read once", ["file", "MB", "ms", "volume"], rows);
}
