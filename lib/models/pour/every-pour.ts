/** Every pour on the way from the master to the bait, where the job lists none of its own. Volumes m3. */
import type { Job, MixPour } from "../../job/types.ts";
import { materialNamed } from "../../materials/catalog.ts";
import type { MaterialEntry } from "../../materials/entry.ts";
import { baitVolume } from "../bait/body.ts";
import { masterVolume } from "./masters.ts";
import { measuredPour } from "./measured.ts";

/** Silicone around the master on every side, m: a quarter to half an inch is common practice. */
const SILICONE_WALL = 0.01;
/** Parts of B to 100 of A by weight where the catalog knows none. */
const USUAL_PARTS = 12;

/** Both halves of the mold, the masters for them, and the silicone in which those are cast. */
export function everyPour(given: Job): MixPour[] {
  const job = measuredPour(given);
  const { pour, bait } = job;
  const { box, depth, masters } = pour;
  const half = (name: string): MixPour => ({
    ...usual(name, pour.material),
    volume: pour.mass === null ? null : pour.mass / pour.material.density.value,
    box: { length: box.length, width: box.width, height: depth },
    less: masters.count * masterVolume(job),
  });
  if (masters.count === 0) return [half("first half"), half("second half")];
  const volume = baitVolume(bait);
  const wide = Math.max(...bait.stations.map((s) => s.width));
  const high = Math.max(...bait.stations.map((s) => s.height));
  return [
    half("first half"),
    half("second half"),
    { ...usual("masters", masters.material), volume: masters.count * volume },
    {
      ...usual("silicone", siliconeOf(job)),
      box: {
        length: bait.length + 2 * SILICONE_WALL,
        width: wide + 2 * SILICONE_WALL,
        height: high + 2 * SILICONE_WALL,
      },
      less: volume,
    },
  ];
}

function usual(name: string, material: MaterialEntry): MixPour {
  return {
    name,
    material,
    volume: null,
    box: null,
    less: 0,
    ratio: { a: 100, b: material.resin?.hardenerParts.value ?? USUAL_PARTS, by: "weight" },
    densityA: null,
    densityB: null,
    waste: 0.1,
    tolerance: 0.03,
  };
}

/** The silicone of the chain of castings. */
function siliconeOf({ shrink }: Job): MaterialEntry {
  const step = shrink.steps.find(({ material }) => material.family === "silicone");
  return step?.material ?? materialNamed("silicone");
}
