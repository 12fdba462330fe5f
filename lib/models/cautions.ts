/** Safety notes that a job calls for, whatever is asked about it: what is too hot, what cools it, what is mixed. */
import type { CautionCode, Lever } from "../answers/answer.ts";
import { touchLimit } from "../formulas/touch.ts";
import type { Job } from "../job/types.ts";
import type { MaterialEntry } from "../materials/entry.ts";
import { warmerHalf } from "./start.ts";
import { asPoured, wallLimitOf } from "./wall-limit.ts";

/** Plastic as it enters a mold. */
interface HotPlastic {
  readonly material: MaterialEntry;
  readonly temperature: number; // K
}

/** As hot as its entry allows, or perhaps, for its reading may be off: it fumes and gives off hydrogen chloride. */
export function overheats(
  { material, temperature }: HotPlastic,
  { uncertainty }: Pick<Job, "uncertainty">,
): boolean {
  const most = material.plastisol?.pourMost ?? Number.POSITIVE_INFINITY;
  return temperature + uncertainty.shotTemperature >= most - 1e-9;
}

/**
 * Cooler plastic by about this much, but never hotter than its entry allows, K.
 *
 * @returns null when it would no longer pour
 */
export function coolerBy({ material, temperature }: HotPlastic, by: number): number | null {
  const { pourLeast = 0, pourMost = Number.POSITIVE_INFINITY } = material.plastisol ?? {};
  const cooler = Math.min(temperature - by, pourMost);
  return cooler >= pourLeast ? cooler : null;
}

/**
 * Of hot plastic: its burns, and first of all its fumes where one of the shots is too hot, or would be.
 *
 * @param levers what is advised: plastic that a lever heats has its caution, too
 */
export function plasticCautions(
  job: Job,
  shots: readonly HotPlastic[],
  levers: readonly Lever[] = [],
): CautionCode[] {
  const hot = [...shots, ...levers.flatMap((lever) => advised(job, lever))];
  const tooHot = hot.some(isTooHot);
  const fumes = tooHot || hot.some((plastic) => overheats(plastic, job));
  return [
    ...(fumes ? (["plastisol_fumes"] as const) : []),
    ...(tooHot ? (["plastic_too_hot"] as const) : []),
    ...(coreFlows(job) ? (["core_flows"] as const) : []),
    "hot_plastisol",
  ];
}

/** Hotter than its entry allows, as far as it is known. */
export function isTooHot({ material, temperature }: HotPlastic): boolean {
  return temperature > (material.plastisol?.pourMost ?? Number.POSITIVE_INFINITY) + 1e-9;
}

/** Opened at its limit, its plastic may still flow inside: with bad luck it sets only below that. */
function coreFlows({ limits, shot }: Job): boolean {
  const sets = limits.set ?? shot.material.plastisol?.setTemperature.low;
  return sets !== undefined && limits.demold >= sets - 1e-9;
}

/** The plastic whose temperature a lever changes. */
function advised({ shot, layer }: Job, { change }: Lever): HotPlastic[] {
  const material = {
    "shot.temperature": shot.material,
    "layer.second.temperature": layer.second.material,
  }[change?.path ?? ""];
  return change && material ? [{ material, temperature: change.to }] : [];
}

/** Every color of a layered job, in the order in which they are shot. */
export function hotColorsOf({ shot, layer }: Job): HotPlastic[] {
  return [{ material: shot.material, temperature: layer.temperature }, layer.second, ...layer.more];
}

/** Contact that nobody avoids who takes hold of a hot thing, s. */
const TAKEN_HOLD = 1;

/** From this temperature on a mold burns who takes hold of it, K. What conducts no worse than stone is judged as metal is. */
export function moldBurnsFrom({ mold }: Pick<Job, "mold">): number {
  const { family, filler } = mold.material;
  const isSlow = family === "silicone" || family === "wood" || (family === "resin" && !filler);
  return touchLimit(isSlow ? "plastic" : "metal", TAKEN_HOLD);
}

/**
 * Of the mold that is shot into: one that is so hot that it burns the hand as it starts or while it is handled, and one that
 * soaks up water.
 *
 * @param handledAt hottest that its face is as it is opened or lies open, K; left out: not known
 * @param levers what is advised: a mold that a lever heats, or has opened warmer, has its caution, too
 */
export function moldCautions(
  job: Job,
  handledAt = Number.NEGATIVE_INFINITY,
  levers: readonly Lever[] = [],
): CautionCode[] {
  const { mold, run, limits } = job;
  const asked = levers.flatMap(({ change }) => {
    if (change?.path === "mold.temperature" || change?.path === "run.preheat") return [change.to];
    return change?.path === "limits.demold" ? [handledAt + change.to - limits.demold] : [];
  });
  const starts = Math.max(warmerHalf(job), run.preheat ?? 0);
  const hot = Math.max(starts, handledAt, ...asked) >= moldBurnsFrom(job);
  const damp = mold.material.porous && !isWet(job);
  return [...(hot ? (["hot_mold"] as const) : []), ...(damp ? (["damp_mold"] as const) : [])];
}

/** Cooled with water. */
function isWet({ room, run, mold }: Job): boolean {
  return room.air === "bath" || run.bath > 0 || (mold.back?.water ?? null) !== null;
}

/**
 * Of a shot that is logged, or is to be: plastic, and the mold that it goes into.
 *
 * @param read what the log says of either, K
 */
export function loggedCautions(
  job: Job,
  read: { readonly plastic?: readonly number[]; readonly mold?: readonly number[] } = {},
): CautionCode[] {
  const { material, temperature } = job.shot;
  const hottest = (readings: readonly number[] = []) =>
    readings.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  return [
    ...plasticCautions(job, [
      { material, temperature: Math.max(temperature, hottest(read.plastic)) },
    ]),
    ...moldCautions(job, hottest(read.mold)),
    ...waterCautions(job),
  ];
}

/**
 * Water near hot plastic, where the job cools with it; at a mold that soaks it up it must not be.
 *
 * @param levers what is advised: a mold that a lever wets has its caution, too
 */
export function waterCautions(job: Job, levers: readonly Lever[] = []): CautionCode[] {
  const advised = levers.some(({ code }) => code === "water_bath" || code === "water_back");
  if (!isWet(job) && !advised) return [];
  return job.mold.material.porous ? ["soaked_mold", "water_near_melt"] : ["water_near_melt"];
}

/** What gives way as the face of a cavity gets hotter than its material bears. */
const ABOVE_LIMIT: Partial<Record<MaterialEntry["family"], CautionCode>> = {
  plaster: "plaster_above_limit",
  silicone: "silicone_above_limit",
  wood: "wood_above_limit",
  metal: "metal_above_limit",
};

/** Of a cavity face that gets hotter than its mold bears, or than it bears as it is poured. @param peak hottest that it gets, K */
export function faceCautions(job: Job, peak: number): CautionCode[] {
  const limit = wallLimitOf(job);
  if (limit === null) return [];
  const { family } = job.mold.material;
  const above = peak > limit ? [ABOVE_LIMIT[family] ?? ("wall_above_limit" as const)] : [];
  return [...above, ...postCureCautions(job, peak)];
}

/** No resin that hardened in a room surely bears more, K: the least of the catalog's room-cured ones (from memory). */
const ROOM_CURED_BEARS = 318.15;
/** A resin whose glass surely gets higher than that of any that hardened in a room was in an oven, K. */
const POST_CURED_GLASS = 338.15;

/** Of a mold whose limit is that of the post-cured resin, in a job that pours that resin and no more. */
export function postCureCautions({ mold, pour, limits }: Job, peak: number): CautionCode[] {
  const { resin, name } = mold.material;
  const isPoured = pour.described && asPoured(name) === asPoured(pour.material.name);
  const catalogs = limits.wall === null && resin !== undefined;
  if (!isPoured || pour.postCure.length > 0 || !catalogs) return [];
  const isOvens = resin.glassReached.low > POST_CURED_GLASS;
  return isOvens && peak > ROOM_CURED_BEARS ? ["mold_not_post_cured"] : [];
}

/** Of what is mixed and cast: each kind of resin by its own hazard. */
export function castingCautions({ family, resin, filler }: MaterialEntry): CautionCode[] {
  const cautions: CautionCode[] = [];
  if (family === "resin")
    cautions.push(resin?.law === "polyurethane" ? "isocyanate" : "resin_contact");
  if (family === "silicone") cautions.push("silicone_inhibited");
  if (filler) cautions.push("metal_powder");
  return cautions;
}
