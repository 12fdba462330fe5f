/** Safety notes that a job calls for, whatever is asked about it: what is too hot, what cools it, what is mixed. */
import type { CautionCode } from "../answers/answer.ts";
import type { Job } from "../job/types.ts";
import type { MaterialEntry } from "../materials/entry.ts";

/** Plastic as it enters a mold. */
interface HotPlastic {
  readonly material: MaterialEntry;
  readonly temperature: number; // K
}

/** Hotter than its entry allows: it fumes and gives off hydrogen chloride. */
function overheats({ material, temperature }: HotPlastic): boolean {
  return temperature > (material.plastisol?.pourMost ?? Number.POSITIVE_INFINITY) + 1e-9;
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

/** Of hot plastic: its burns, and first of all its fumes where one of the shots is too hot. */
export function plasticCautions(shots: readonly HotPlastic[]): CautionCode[] {
  return shots.some(overheats) ? ["plastisol_fumes", "hot_plastisol"] : ["hot_plastisol"];
}

/** Every color of a layered job, in the order in which they are shot. */
export function colorsOf({ shot, layer }: Job): HotPlastic[] {
  return [{ material: shot.material, temperature: layer.temperature }, layer.second, ...layer.more];
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
