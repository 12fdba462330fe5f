/** Gel point and work time. T K, times s, cure 0 to 1. */
import type { RateLaw } from "../materials/material.ts";
import { Checks } from "../units/check.ts";
import { timeToCure } from "./isothermal.ts";
import { cureAtThickening } from "./viscosity.ts";

/**
 * Cure at which a network of two kinds of groups first spans the whole casting.
 *
 *     a = 1 / sqrt(ratio (fA - 1)(fB - 1))
 *
 * @param functionsA reacting groups of a molecule of one part: 4 for a diamine, 5 for diethylenetriamine, 3 for a triol
 * @param functionsB of the other: 2 for a diepoxide or a diisocyanate
 * @param ratio groups B for each group A, 1 for an even mix; `a` counts the groups that are scarcer, 0 < ratio <= 1
 * @returns cure, 0 to 1; real resins gel at 0.5 to 0.65, since rings close and groups differ
 * @throws InputError when the groups are too few to gel at all
 * @example gelPoint(4, 2) // 0.5773502692
 * @source Flory, J. Am. Chem. Soc. 63 (1941) 3083; Stockmayer, J. Polym. Sci. 9 (1952) 69
 */
export function gelPoint(functionsA: number, functionsB: number, ratio = 1): number {
  const checks = new Checks();
  checks.number("functionsA", functionsA, { above: 1, most: 20 });
  checks.number("functionsB", functionsB, { above: 1, most: 20 });
  checks.number("ratio", ratio, { above: 0, most: 1 });
  checks.done();
  const cure = 1 / Math.sqrt(ratio * (functionsA - 1) * (functionsB - 1));
  if (cure > 1) {
    checks.add({ code: "never_gels", path: "functionsA", given: functionsA });
    checks.done();
  }
  return cure;
}

/**
 * Time in s until a thin layer held at T gels.
 *
 * @param gel cure at the gel point
 * @param initial cure at the start
 * @returns s; null when the cure stops before
 * @example gelTime(makeRateLaw({ law: "nth-order", A: 0.002, E: 0, n: 1 }), 298, 0.6) // 458.1453659
 */
export function gelTime(law: RateLaw, T: number, gel: number, initial = 0): number | null {
  return timeToCure(law, T, { from: initial, to: gel });
}

/**
 * Time in s in which a thin layer held at T can be worked: until it is `ratio` times as thick as fresh.
 *
 * @param ratio default 10: honey has become paste (common practice, no source)
 * @returns s; null when the cure stops before
 * @example workTime(makeRateLaw({ law: "nth-order", A: 0.002, E: 0, n: 1 }), 298, 0.6) // 271.7
 */
export function workTime(
  law: RateLaw,
  T: number,
  gel: number,
  initial = 0,
  ratio = 10,
): number | null {
  const to = cureAtThickening(ratio, gel);
  return to <= initial ? 0 : timeToCure(law, T, { from: initial, to });
}
