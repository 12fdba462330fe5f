/**
 * What may be touched, and for how long. Thresholds of healthy adult skin; a child's burns sooner.
 *
 * T K, times s.
 */

import { linearAt } from "../numerics/linear.ts";
import { Checks } from "../units/check.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";

/** What a hand touches: it decides how fast heat comes out of it. */
export type TouchedMaterial = "metal" | "plastic" | "water";

/** Contact time s against surface temperature degC. The lower edge of each published band. */
const THRESHOLDS: Readonly<Record<TouchedMaterial, readonly (readonly [number, number])[]>> = {
  // ISO 13732-1, bare smooth metal (from memory); 10 s interpolated by the standard's own curve
  metal: [
    [1, 65],
    [10, 55],
    [60, 51],
    [600, 48],
    [28800, 43],
  ],
  // ISO 13732-1, plastics (from memory)
  plastic: [
    [1, 85],
    [10, 70],
    [60, 60],
    [600, 48],
    [28800, 43],
  ],
  // hot water, second-degree burn; plumbing safety table after Moritz & Henriques, Am. J. Pathol. 23 (1947) 695 (read);
  // 1 s at 68 degC from the same family of tables
  water: [
    [1, 68],
    [3, 60],
    [17, 55],
    [120, 51],
    [480, 49],
    [900, 48],
    [1200, 47],
    [7200, 45],
  ],
};

/**
 * Surface temperature that begins to burn after `duration` s of contact, in K: stay below it.
 *
 * Straight in the logarithm of the time between the published points; the shortest and longest point hold beyond them.
 * A bait that has just been opened reheats its skin from inside: judge it by its mean, not by its skin. Molten
 * plastisol sticks: no contact time is short enough.
 *
 * @param material bare metal, plastic or hot water; a soft bait counts as plastic
 * @param duration of contact, 1 s or more
 * @throws InputError when the duration is under 1 s: nobody lets go faster
 * @example touchLimit("metal", 60) // 324.15
 * @source ISO 13732-1 (from memory); hot water: Moritz & Henriques 1947
 */
export function touchLimit(material: TouchedMaterial, duration: number): number {
  const checks = new Checks();
  checks.number("duration", duration, { least: 1 });
  checks.done();
  const points = THRESHOLDS[material];
  const limit = linearAt(
    points.map(([t]) => Math.log(t)),
    points.map(([, T]) => T),
    Math.log(duration),
  );
  return limit + ZERO_CELSIUS;
}

/**
 * Longest contact in s that a surface of T allows: the inverse of `touchLimit`.
 *
 * @returns s; Infinity below the threshold of the longest contact; 0 when even a second burns
 * @throws InputError when T is no temperature
 * @example Math.round(touchTime("water", 333.15)) // 3
 */
export function touchTime(material: TouchedMaterial, T: number): number {
  const checks = new Checks();
  checks.number("T", T, { above: 0, most: 2000 });
  checks.done();
  const degC = T - ZERO_CELSIUS;
  const points = THRESHOLDS[material];
  // a hair of rounding must not turn a tabled temperature into a burn
  if (degC > points[0][1] + 1e-9) return 0;
  for (let i = 1; i < points.length; i++) {
    const [t0, T0] = points[i - 1];
    const [t1, T1] = points[i];
    if (degC < T1) continue;
    return t0 * (t1 / t0) ** Math.max(0, (T0 - degC) / (T0 - T1));
  }
  return Number.POSITIVE_INFINITY;
}
