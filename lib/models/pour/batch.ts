/** How hot a batch gets that is left in the cup it was mixed in. Masses kg, T K. */
import { CUP_LOSS, cureInCup, START } from "../../cure/cup.ts";
import { timeToCure } from "../../cure/isothermal.ts";
import type { Job } from "../../job/types.ts";
import type { MaterialEntry } from "../../materials/entry.ts";
import { type ResinCorner, resinMaker, TOO_HOT } from "./resin.ts";

/** A cup is past its peak after so many times as long as a thin layer takes to gel. */
const LOOKED = 3;
/** A thin layer that gels later than this makes its heat more slowly than any cup loses it, s. */
const LONGEST = 30 * 24 * 3600;
const UNLUCKY: ResinCorner = {
  speed: "high",
  energy: "value",
  heat: "high",
  conductivity: "value",
};

/** The job's pour as if it were of this material: what it says of its own resin is told of no other. */
export function pouredOf({ pour }: Job, material: MaterialEntry): Job["pour"] {
  if (pour.material.name === material.name) return { ...pour, granules: 0 };
  return {
    ...pour,
    material,
    granules: 0,
    fillerMassShare: null,
    hardener: "medium",
    potLife: null,
    thinFilm: null,
    peakExotherm: null,
  };
}

/** Peak of a batch in its cup with a fast hardener, much heat and a warm room, K: its middle is warmer than this one temperature. */
function batchPeak(job: Job, mass: number): number {
  const { material, heat, specificHeat, density, gel } = resinMaker(job)(UNLUCKY);
  const { law, initial: given } = material.cure!;
  const initial = Math.max(START, given);
  const room = job.room.temperature + job.uncertainty.roomTemperature;
  // where glass stops a thin layer, a large cup may still warm itself past it
  const thin = timeToCure(law, room, { from: initial, to: gel }) ?? LONGEST;
  const gelled = Math.min(thin, LONGEST);
  const cup = { law, heat, specificHeat, density, mass, h: CUP_LOSS, initial };
  return cureInCup({ ...cup, start: room, room }, gel, LOOKED * gelled).peak;
}

/** Whether a batch that is larger than the cup of its pot life may smoke in its own cup. */
export function batchMaySmoke(job: Job, material: MaterialEntry, mass: number): boolean {
  if (!material.resin) return false;
  const pour = pouredOf(job, material);
  const tested = pour.potLife?.mass ?? material.resin.potLifeMass;
  return mass > tested && batchPeak({ ...job, pour }, mass) > TOO_HOT;
}
