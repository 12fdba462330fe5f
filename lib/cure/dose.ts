/** Thermal dose of hot plastisol: how much of its life before yellowing is used up. T K, durations s, energy J/mol. */
import { Checks } from "../units/check.ts";
import { GAS_CONSTANT } from "../units/constants.ts";

/** One observation of a plastisol that yellowed, with the energy of its degradation. */
export interface Yellowing {
  readonly duration: number;
  readonly T: number;
  /** About 150 kJ/mol for PVC, plasticized or not, 160 to 220 degC. */
  readonly energy: number;
}

/** Some time at one temperature. */
export interface Heating {
  readonly duration: number;
  readonly T: number;
}

/**
 * How much faster a plastisol ages at T than at a reference temperature.
 *
 *     exp[-E/R (1/T - 1/reference)]
 *
 * @param T K; holds from about 150 to 220 degC
 * @param reference K
 * @param energy J/mol, default 150 000
 * @throws InputError when an input is out of range
 * @example agingSpeed(473.15, 453.15) // 5.381
 * @source Krongauz, Lee & Bourassa, J. Therm. Anal. Calorim. 106 (2011) 139: energy of PVC degradation (abstract read)
 */
export function agingSpeed(T: number, reference: number, energy = 150e3): number {
  const checks = new Checks();
  checks.number("T", T, { above: 0, most: 1000 });
  checks.number("reference", reference, { above: 0, most: 1000 });
  checks.number("energy", energy, { above: 0, most: 500e3 });
  checks.done();
  return Math.exp((-energy / GAS_CONSTANT) * (1 / T - 1 / reference));
}

/**
 * Share of a plastisol's life that its heats so far have used: 1 means yellow.
 *
 *     dose = sum duration_i speed(T_i) / duration of the observation
 *
 * @param heats each time it was hot, s and K, in any order
 * @param observed one observation: yellowed after this long at this temperature
 * @returns share, 0 or more
 * @throws InputError when an input is out of range
 * @example thermalDose([{ duration: 1800, T: 453.15 }], { duration: 3600, T: 453.15, energy: 150e3 }) // 0.5
 */
export function thermalDose(heats: readonly Heating[], observed: Yellowing): number {
  const checks = new Checks();
  checks.number("observed.duration", observed.duration, { above: 0 });
  heats.forEach((heat, i) => {
    checks.number(`heats[${i}].duration`, heat.duration, { least: 0 });
    checks.number(`heats[${i}].T`, heat.T, { above: 0, most: 1000 });
  });
  checks.done();
  let used = 0;
  for (const heat of heats) used += heat.duration * agingSpeed(heat.T, observed.T, observed.energy);
  return used / observed.duration;
}

/**
 * Time in s that a plastisol may still be held at T before it yellows.
 *
 * @returns s; 0 when it is used up already
 * @example lifeLeft([], { duration: 3600, T: 453.15, energy: 150e3 }, 473.15) // 669.0
 */
export function lifeLeft(heats: readonly Heating[], observed: Yellowing, T: number): number {
  const left = 1 - thermalDose(heats, observed);
  return Math.max(0, (left * observed.duration) / agingSpeed(T, observed.T, observed.energy));
}

/**
 * Dose of a temperature recorded over time, straight between its points.
 *
 * @param times s, rising
 * @param T K, as many
 * @returns share of the life used
 * @throws InputError when the lists differ in length or time runs backwards
 * @example doseOfCourse([0, 900, 1800], [453.15, 453.15, 453.15], { duration: 3600, T: 453.15, energy: 150e3 }) // 0.5
 */
export function doseOfCourse(
  times: ArrayLike<number>,
  T: ArrayLike<number>,
  observed: Yellowing,
): number {
  checkCourse(times, T);
  const speed = (at: number) => agingSpeed(at, observed.T, observed.energy);
  return integrateAlong(times, T, speed) / observed.duration;
}

/** Problems of a course: lists of different length, no number, time that runs backwards. */
export function checkCourse(times: ArrayLike<number>, T: ArrayLike<number>): void {
  const checks = new Checks();
  if (times.length !== T.length || times.length < 2)
    checks.add({ code: "lists_differ", path: "T", given: T.length, most: String(times.length) });
  for (let i = 1; i < times.length; i++)
    if (!(times[i] >= times[i - 1]))
      checks.add({ code: "time_runs_back", path: `times[${i}]`, given: times[i] });
  for (let i = 0; i < T.length; i++)
    if (!(T[i] > 0)) checks.add({ code: "temperature_impossible", path: `T[${i}]`, given: T[i] });
  checks.done();
}

/** int f(T(t)) dt of a course straight between its points: Simpson, each piece cut so that T changes by 2 K at most. */
export function integrateAlong(
  times: ArrayLike<number>,
  T: ArrayLike<number>,
  f: (T: number) => number,
): number {
  let sum = 0;
  for (let i = 1; i < times.length; i++) {
    const dt = times[i] - times[i - 1];
    const rise = T[i] - T[i - 1];
    const pieces = Math.max(1, Math.ceil(Math.abs(rise) / 2));
    for (let k = 0; k < pieces; k++) {
      const a = T[i - 1] + (rise * k) / pieces;
      const b = T[i - 1] + (rise * (k + 1)) / pieces;
      sum += (dt / pieces / 6) * (f(a) + 4 * f((a + b) / 2) + f(b));
    }
  }
  return sum;
}
