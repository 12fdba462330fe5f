import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { mesh } from "../../lib/questions/shape/one-bait.ts";
import { binaryStl } from "../../lib/shape/solids.ts";
import { testWorld } from "./world.ts";

const calipers = readFileSync(
  new URL("../../../data/jobs/caliper-shad.yaml", import.meta.url),
  "utf8",
);
/** All questions; what does not read the shape is asked once. */
const WAY = ["shape", "mix", "shrink", "pour", "walls", "shots", "layer", "plan", "swim"];

async function jobFromMesh(): Promise<string> {
  const bytes = binaryStl(mesh(32, 60));
  const world = testWorld({});
  Object.assign(world, {
    size: (path: string) =>
      path === "b.stl" ? { bytes: bytes.length } : { problem: { code: "file_missing", path } },
    bytes: () => ({ bytes }),
  });
  expect(await runCommand(["shape", "b.stl", "--write", "b.yaml"], world), world.complained).toBe(
    0,
  );
  return world.saved.get("b.yaml")!;
}

test.each([
  ["caliper stations", WAY, async () => calipers],
  ["a mesh", ["mix", "shrink", "plan", "swim"], jobFromMesh],
])(
  "one bait from %s, all the way to its evening and into the water",
  async (_, way, made) => {
    const world = testWorld({ "b.yaml": await made() });
    for (const question of way) {
      world.complained = "";
      const quick = ["run.shots=2", "run.session=30 min"].flatMap((s) => ["--set", s]);
      expect(
        await runCommand([question, "b.yaml", "--quick", ...quick], world),
        `${question}: ${world.complained}`,
      ).toBe(0);
    }
  },
  120_000,
);
