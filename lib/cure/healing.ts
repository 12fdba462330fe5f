/**
 * Bond between two shots of plastisol: hot enough, long enough. T K, times s, energy J/mol.
 *
 * No published healing time of soft PVC was found: time and energy are guesses and stay dials.
 */
import { Checks } from "../units/check.ts";
import { GAS_CONSTANT } from "../units/constants.ts";
import { checkCourse, integrateAlong } from "./dose.ts";

/** Time for full healing at one temperature, with its activation energy. */
export interface HealingTime {
  /** s at `T`. */
  readonly duration: number;
  readonly T: number;
  readonly energy: number;
}

/**
 * A guess, no measurement: 1 s at 150 degC, 80 kJ/mol. To be calibrated by a peel test at three closing times.
 */
export const GUESSED_HEALING: HealingTime = { duration: 1, T: 423.15, energy: 80e3 };

/**
 * Time in s to full healing at a constant T.
 *
 *     tw = tw_ref exp[E/R (1/T - 1/T_ref)]
 *
 * @throws InputError when an input is out of range
 * @example healingTime(GUESSED_HEALING, 403.15) // 3.090
 */
export function healingTime(known: HealingTime, T: number): number {
  const checks = new Checks();
  checks.number("duration", known.duration, { above: 0 });
  checks.number("T", T, { above: 0, most: 1000 });
  checks.number("energy", known.energy, { least: 0, most: 500e3 });
  checks.done();
  return known.duration * Math.exp((known.energy / GAS_CONSTANT) * (1 / T - 1 / known.T));
}

/**
 * Degree of healing of an interface, from its temperature over time: 1 is as strong as the bulk.
 *
 *     D = [ int dt / tw(T(t)) ]^(1/4), at most 1
 *
 * @param times s, rising, from the moment the surfaces meet
 * @param T interface temperature in K at those times
 * @param gate no healing below this, K: crystallites lock the surface (a guess; left out: none)
 * @returns 0 to 1
 * @throws InputError when the lists differ in length, time runs backwards, or a temperature is impossible
 * @example degreeOfHealing([0, 0.0625], [423.15, 423.15], GUESSED_HEALING) // 0.5
 * @source Yang & Pitchumani, Macromolecules 35 (2002) 3213 (abstract read; equation from memory)
 */
export function degreeOfHealing(
  times: ArrayLike<number>,
  T: ArrayLike<number>,
  known: HealingTime,
  gate = 0,
): number {
  checkCourse(times, T);
  const speed = (at: number) => (at < gate ? 0 : 1 / healingTime(known, at));
  return Math.min(1, integrateAlong(times, T, speed) ** 0.25);
}

/** How two colors hold together, by the temperature of their joint. */
export type Bond = "good" | "marginal" | "poor";

/**
 * Judges a bond by the temperature that the interface takes when the second shot arrives.
 *
 * @param T hottest interface temperature, K
 * @param gate coldest that bonds, K; a guess, 110 degC
 * @param sure from here on good, K; a guess, 130 degC
 * @throws InputError when an input is out of range
 * @example bondByTemperature(393.15, 383.15, 403.15) // "marginal"
 */
export function bondByTemperature(T: number, gate = 383.15, sure = 403.15): Bond {
  const checks = new Checks();
  checks.number("T", T, { above: 0, most: 1000 });
  checks.number("gate", gate, { above: 0, most: 1000 });
  checks.number("sure", sure, { least: gate, most: 1000 });
  checks.done();
  if (T >= sure) return "good";
  return T >= gate ? "marginal" : "poor";
}

/**
 * Coldest surface of the first color that still gives an interface of `gate` K with a second shot of the same
 * material: the interface starts at the mean of the two.
 *
 *     T1 = 2 gate - T2
 *
 * @throws InputError when an input is out of range
 * @example coldestFirstLayer(403.15, 450.15) // 356.15
 * @source Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, 2.15, equal effusivities
 */
export function coldestFirstLayer(gate: number, second: number): number {
  const checks = new Checks();
  checks.number("gate", gate, { above: 0, most: 1000 });
  checks.number("second", second, { above: gate, most: 1000 });
  checks.done();
  return 2 * gate - second;
}
