/** Weighing two parts: how small a batch a scale still gets right. Masses kg, densities kg/m3, volumes m3. */
import { Checks } from "../../units/check.ts";

/** Parts A to parts B by mass. */
export interface MassRatio {
  readonly a: number;
  readonly b: number;
}

function checkRatio(ratio: MassRatio): Checks {
  const checks = new Checks();
  checks.number("ratio.a", ratio.a, { above: 0 });
  checks.number("ratio.b", ratio.b, { above: 0 });
  return checks;
}

/**
 * Error of the mixing ratio when both parts are off by one count of the scale, the wrong way round.
 *
 *     error = step/massA + step/massB
 *
 * To first order; the exact error is larger by a share of itself that is no more than the error.
 *
 * @param mass of the whole batch, kg
 * @param ratio parts A to B by mass
 * @param step of the scale, kg
 * @returns share of the ratio: 0.05 is 5 %
 * @throws InputError when an input is not positive
 * @example ratioError(0.125, { a: 100, b: 25 }, 0.001) // 0.05
 */
export function ratioError(mass: number, ratio: MassRatio, step: number): number {
  const checks = checkRatio(ratio);
  checks.number("mass", mass, { above: 0 });
  checks.number("step", step, { above: 0 });
  checks.done();
  const whole = ratio.a + ratio.b;
  return (step * whole * (1 / ratio.a + 1 / ratio.b)) / mass;
}

/**
 * Smallest batch in kg that a scale of this step still mixes within the tolerance: worst case of one count on each part.
 *
 *     mass = step (1/share A + 1/share B) / tolerance
 *
 * @param ratio parts A to B by mass
 * @param step of the scale, kg
 * @param tolerance error of the ratio that does no harm, a share
 * @throws InputError when an input is not positive
 * @example smallestBatch({ a: 100, b: 25 }, 0.001, 0.05) // 0.125
 */
export function smallestBatch(ratio: MassRatio, step: number, tolerance: number): number {
  const checks = checkRatio(ratio);
  checks.number("step", step, { above: 0 });
  checks.number("tolerance", tolerance, { above: 0, most: 1 });
  checks.done();
  return ratioError(1, ratio, step) / tolerance;
}

/**
 * Ratio by mass from one by volume.
 *
 * @param ratio parts by volume
 * @param densityA kg/m3
 * @param densityB kg/m3
 * @returns parts by mass, 100 of A
 * @throws InputError when an input is not positive
 * @example ratioByMass({ a: 1, b: 1 }, 1100, 990).b // 90
 */
export function ratioByMass(ratio: MassRatio, densityA: number, densityB: number): MassRatio {
  const checks = checkRatio(ratio);
  checks.number("densityA", densityA, { above: 0 });
  checks.number("densityB", densityB, { above: 0 });
  checks.done();
  return { a: 100, b: (100 * ratio.b * densityB) / (ratio.a * densityA) };
}

/**
 * Ratio by volume from one by mass.
 *
 * @returns parts by volume, 100 of A
 * @example ratioByVolume({ a: 100, b: 90 }, 1100, 990).b // 100
 */
export function ratioByVolume(ratio: MassRatio, densityA: number, densityB: number): MassRatio {
  return ratioByMass(ratio, 1 / densityA, 1 / densityB);
}
