/** Cure at one temperature. T K, times s, cure 0 to 1. */
import type { RateLaw } from "../materials/material.ts";
import { integrate } from "../numerics/runge-kutta.ts";
import { Checks } from "../units/check.ts";

/** A stretch of cure: from where to where, 0 to 1. */
export interface CureSpan {
  /** Cure at the start. Default 0; a law that does not start by itself needs more. */
  readonly from?: number;
  /** Cure to reach. */
  readonly to: number;
  /** Allowed relative error of each step. Default 1e-10. */
  readonly within?: number;
}

/**
 * Time in s that a resin held at T needs from one cure to another.
 *
 *     t = int da / rate(a, T)
 *
 * @param T K
 * @param span cure 0 <= from < to < 1
 * @returns s; null when the rate falls to zero on the way: the law never gets there
 * @throws InputError when the span or T is out of range
 * @example timeToCure(makeRateLaw({ law: "nth-order", A: 0.002, E: 0, n: 1 }), 298, { to: 0.6 }) // 458.1453659
 * @source definition; closed forms for checking: Levenspiel, Chemical Reaction Engineering, ch. 3
 */
export function timeToCure(law: RateLaw, T: number, span: CureSpan): number | null {
  return timeAlong(law, () => T, T, span);
}

/**
 * Time in s from one cure to another when the temperature follows the cure: `temperature(cure)` in K.
 *
 * @returns s; null when the rate falls to zero on the way
 */
export function timeAlong(
  law: RateLaw,
  temperature: (cure: number) => number,
  startT: number,
  span: CureSpan,
): number | null {
  const from = span.from ?? 0;
  const checks = new Checks();
  checks.number("T", startT, { above: 0, most: 2000 });
  checks.number("from", from, { least: 0, below: 1 });
  checks.number("to", span.to, { above: from, below: 1 });
  checks.done();
  const out = new Float64Array(3);
  law.evaluate(span.to, temperature(span.to), out);
  // followed to an end that it never reaches, it would take ever smaller steps
  if (!(out[0] > 0)) return null;
  let stuck = false;
  const run = integrate({
    slope(a, _t, dt) {
      law.evaluate(a, temperature(a), out);
      if (!(out[0] > 0)) stuck = true;
      dt[0] = stuck ? 0 : 1 / out[0];
    },
    from,
    until: span.to,
    start: [0],
    relative: span.within ?? 1e-10,
    absolute: 1e-300,
  });
  return stuck ? null : run.y[0];
}

/**
 * Cure reached after `duration` s at T.
 *
 * @param initial cure at the start, 0 to 1
 * @throws InputError when an input is out of range
 * @example cureAfter(makeRateLaw({ law: "nth-order", A: 0.002, E: 0, n: 1 }), 298, 300) // 0.4511883639
 */
export function cureAfter(law: RateLaw, T: number, duration: number, initial = 0): number {
  const checks = new Checks();
  checks.number("T", T, { above: 0, most: 2000 });
  checks.number("duration", duration, { least: 0 });
  checks.number("initial", initial, { least: 0, most: 1 });
  checks.done();
  const out = new Float64Array(3);
  const run = integrate({
    slope(_t, a, da) {
      law.evaluate(a[0], T, out);
      da[0] = out[0];
    },
    from: 0,
    until: duration,
    start: [initial],
    relative: 1e-11,
    absolute: 1e-13,
  });
  return Math.min(run.y[0], 1);
}
