/** A mold as one lump that gets the same heat with every shot: how far it warms up. T K, times s, heat J. */
import { Checks } from "../units/check.ts";

/** A mold of one temperature that takes the same heat with every shot and loses it to the room in between. */
export interface LumpedShots {
  /** Heat that one shot leaves in the mold, J. */
  readonly heat: number;
  /** Heat capacity of the mold, J/K. */
  readonly capacity: number;
  /** Heat loss of the mold per kelvin, W/K. */
  readonly loss: number;
  /** From shot to shot, s. */
  readonly period: number;
  readonly air: number; // K
}

/** Share of the excess temperature that is left after a period. */
function left(shots: LumpedShots): number {
  const checks = new Checks();
  for (const path of ["heat", "capacity", "loss", "period", "air"] as const)
    checks.number(path, shots[path], { above: 0 });
  checks.done();
  return Math.exp((-shots.loss * shots.period) / shots.capacity);
}

/**
 * Temperature of the mold right after shot n, in K. It starts at the temperature of the air.
 *
 *     T_n = T_air + (E/C)(1 - r^n)/(1 - r),   r = exp(-hA P/C)
 *
 * @param n number of the shot, 1 for the first; Infinity: the limit
 * @throws InputError when an input is not positive
 * @example lumpedAfterShot({ heat: 9000, capacity: 1500, loss: 0.9, period: 240, air: 295.15 }, 5) // 318.1120070
 * @source geometric series of a lumped body, in any text on transient conduction
 */
export function lumpedAfterShot(shots: LumpedShots, n: number): number {
  const r = left(shots);
  if (!(n >= 1)) {
    const checks = new Checks();
    checks.number("n", n, { least: 1 });
    checks.done();
  }
  return shots.air + ((shots.heat / shots.capacity) * (1 - r ** n)) / (1 - r);
}

/**
 * The mold after many shots: right after one, right before the next, and the mean over time, K; and the number of
 * shots to 95 % of it.
 *
 * @throws InputError when an input is not positive
 * @example lumpedLimit({ heat: 9000, capacity: 1500, loss: 0.9, period: 240, air: 295.15 }).shotsTo95 // 20.80369634
 * @source geometric series of a lumped body
 */
export function lumpedLimit(shots: LumpedShots): {
  readonly peak: number;
  readonly valley: number;
  readonly mean: number;
  readonly shotsTo95: number;
} {
  const r = left(shots);
  const peak = lumpedAfterShot(shots, Number.POSITIVE_INFINITY);
  return {
    peak,
    valley: peak - shots.heat / shots.capacity,
    // in the long run all heat of a shot leaves within its period
    mean: shots.air + shots.heat / (shots.loss * shots.period),
    shotsTo95: Math.log(0.05) / Math.log(r),
  };
}
