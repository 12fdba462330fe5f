/** How long a batch of a resin can be used: one rule for what is poured and for what is weighed. Masses kg, T K, times s. */
import type { Range } from "../../confidence/range.ts";
import { CUP_LOSS, cupGelTime, START } from "../../cure/cup.ts";
import type { Job } from "../../job/types.ts";
import type { MaterialEntry } from "../../materials/entry.ts";
import { pouredOf } from "./batch.ts";
import { type ResinCorner, type ResinMaker, resinMaker, sheetTimes } from "./resin.ts";

/** From the moment of mixing until a cup gels, s. */
export interface PotLife extends Range {
  /** Of so much in its cup, mixed and standing at `at`. */
  readonly mass: number;
  readonly at: number;
}

/**
 * As the job has it for its own resin: the pot life of its sheet, or what its thin film or its hardener make of it. Of
 * another resin it is the catalog's. Null: it does not cure by itself, or the catalog knows none.
 */
export function potLifeOf(given: Job, material: MaterialEntry): PotLife | null {
  const { resin } = material;
  if (!resin) return null;
  const job = { ...given, pour: pouredOf(given, material) };
  const { potLife, thinFilm } = job.pour;
  if (potLife === null && thinFilm !== null)
    return cupOfFilm(job, { mass: resin.potLifeMass, at: thinFilm.at });
  const at = (speed: ResinCorner["speed"]) => sheetTimes(job, speed).potLife!;
  const { duration: value, mass, at: standing } = at("value");
  return { value, low: at("high").duration, high: at("low").duration, mass, at: standing };
}

const ENDS = ["low", "high"] as const;

/** A thin film says how fast the resin is where it can't warm itself: what its cup does follows from its heat. */
function cupOfFilm(job: Job, cup: Pick<PotLife, "mass" | "at">): PotLife {
  // glass slows a film, not the fit to it: a cup gels no later than a film
  const resin = resinMaker(job, { vitrification: false });
  const at = (corner: Pick<ResinCorner, "speed" | "energy" | "heat">) =>
    cupTime(resin({ ...corner, conductivity: "value" }), cup);
  const value = at({ speed: "value", energy: "value", heat: "value" });
  const drawn = ENDS.flatMap((end) => ENDS.map((energy) => at({ speed: end, energy, heat: end })));
  return { value, low: Math.min(value, ...drawn), high: Math.max(value, ...drawn), ...cup };
}

/** Far longer than any resin of the catalog stands. */
const LOOKED = 60 * 24 * 3600;

function cupTime(
  { material, heat, specificHeat, density, gel }: ReturnType<ResinMaker>,
  { mass, at }: Pick<PotLife, "mass" | "at">,
): number {
  const { law } = material.cure!;
  const cup = { law, heat, specificHeat, density, mass, start: at, room: at, h: CUP_LOSS };
  return cupGelTime({ ...cup, initial: START }, gel, LOOKED) ?? Number.POSITIVE_INFINITY;
}
