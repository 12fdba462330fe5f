/** Safety notes that a job calls for, whatever is asked about it: what is too hot, what cools it, what is mixed. */
import type { CautionCode, Lever } from "../answers/answer.ts";
import { touchLimit } from "../formulas/touch.ts";
import type { Job } from "../job/types.ts";
import type { MaterialEntry } from "../materials/entry.ts";

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
  const fumes = hot.some((plastic) => overheats(plastic, job));
  return fumes ? ["plastisol_fumes", "hot_plastisol"] : ["hot_plastisol"];
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
export function colorsOf({ shot, layer }: Job): HotPlastic[] {
  return [{ material: shot.material, temperature: layer.temperature }, layer.second, ...layer.more];
}

/** Contact that nobody avoids who takes hold of a hot thing, s. */
const TAKEN_HOLD = 1;

/**
 * A mold that starts so hot that it burns the hand. What conducts no worse than stone is judged as metal is.
 *
 * @param levers what is advised: a mold that a lever heats has its caution, too
 */
export function moldCautions({ mold, run }: Job, levers: readonly Lever[] = []): CautionCode[] {
  const { family, filler } = mold.material;
  const isSlow = family === "silicone" || family === "wood" || (family === "resin" && !filler);
  const asked = levers.flatMap(({ change }) =>
    change?.path === "mold.temperature" || change?.path === "run.preheat" ? [change.to] : [],
  );
  const hottest = Math.max(mold.temperature, mold.upperTemperature, run.preheat ?? 0, ...asked);
  return hottest >= touchLimit(isSlow ? "plastic" : "metal", TAKEN_HOLD) ? ["hot_mold"] : [];
}

/** Water near hot plastic, where the job cools with it. */
export function waterCautions({ room, run, mold }: Job): CautionCode[] {
  const wet = room.air === "bath" || run.bath > 0 || (mold.back?.water ?? null) !== null;
  return wet ? ["water_near_melt"] : [];
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
