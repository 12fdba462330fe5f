/**
 * Contraction of plastic and of a chain of castings. T K, volume expansion 1/K; shrinkage is the share of length lost,
 * negative when the casting grows.
 */
import { Checks } from "../units/check.ts";

/**
 * Length that a body loses on cooling, as a share.
 *
 *     1 - exp(-beta (from - to)/3)
 *
 * @param expansion volume expansion beta, 1/K
 * @param from hotter, K: for a bait, the temperature at which nothing more could be fed
 * @param to K
 * @throws InputError when an input is out of range
 * @example linearContraction(7e-4, 373.15, 293.15) // 0.01849
 * @source definition of the volume expansion coefficient, equal in all directions
 */
export function linearContraction(expansion: number, from: number, to: number): number {
  const checks = new Checks();
  checks.number("expansion", expansion, { least: 0, most: 0.01 });
  checks.number("from", from, { above: 0, most: 1000 });
  checks.number("to", to, { above: 0, most: 1000 });
  checks.done();
  return -Math.expm1((-expansion * (from - to)) / 3);
}

/**
 * Density at T from that at another temperature, kg/m3.
 *
 *     rho = rho_at exp(-beta (T - at))
 *
 * @param density kg/m3 at the temperature `at` K
 * @throws InputError when an input is out of range
 * @example densityAt(1063, 293.15, 7e-4, 443.15) // 957.0
 */
export function densityAt(density: number, at: number, expansion: number, T: number): number {
  const checks = new Checks();
  checks.number("density", density, { above: 0 });
  checks.number("at", at, { above: 0 });
  checks.number("expansion", expansion, { least: 0, most: 0.01 });
  checks.number("T", T, { above: 0, most: 1000 });
  checks.done();
  return density * Math.exp(-expansion * (T - at));
}

/** How much smaller a silicone mold cured warm gets per kelvin on cooling, 1/K; from memory. */
export const SILICONE_CONTRACTION = { value: 2.75e-4, low: 2.5e-4, high: 3e-4 };

/** Linear shrinkage of one casting step, with its range. */
export interface Shrinking {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Size after a chain of castings over the size of the first master.
 *
 *     factor = product of (1 - s_i)
 *
 * The steps are independent: what they leave open adds up as the root of the sum of squares.
 *
 * @param steps linear shrinkage of each step with its range, -0.1 to 0.2
 * @returns factor with its range; below 1: the bait is smaller than the sculpt
 * @throws InputError when a step is out of range or its range is upside down
 * @example sizeFactor([{ value: 0.01, low: 0.01, high: 0.01 }, { value: 0.02, low: 0.02, high: 0.02 }]).value // 0.9702
 */
export function sizeFactor(steps: readonly Shrinking[]): Shrinking {
  const checks = new Checks();
  steps.forEach((step, i) => {
    checks.number(`steps[${i}].value`, step.value, { least: -0.1, most: 0.2 });
    checks.number(`steps[${i}].low`, step.low, { least: -0.1, most: step.value });
    checks.number(`steps[${i}].high`, step.high, { least: step.value, most: 0.2 });
  });
  checks.done();
  let value = 1;
  let up = 0;
  let down = 0;
  for (const { value: s, low, high } of steps) {
    value *= 1 - s;
    up += ((s - low) / (1 - s)) ** 2;
    down += ((high - s) / (1 - s)) ** 2;
  }
  return { value, low: value * (1 - Math.sqrt(down)), high: value * (1 + Math.sqrt(up)) };
}
