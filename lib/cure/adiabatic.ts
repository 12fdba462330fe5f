/** Cure of a mass so large that it loses no heat: the worst case. T K, times s, cure 0 to 1. */
import type { RateLaw } from "../materials/material.ts";
import { findRoot } from "../numerics/roots.ts";
import { Checks } from "../units/check.ts";
import { type CureSpan, timeAlong } from "./isothermal.ts";

/** Where a resin that loses no heat starts from. */
export interface AdiabaticStart {
  /** Temperature at the start, K. */
  readonly T: number;
  /** Rise by full cure, heat / specific heat, K. */
  readonly rise: number;
  /** Cure at the start, 0 to 1. Default 0. */
  readonly initial?: number;
  /** Allowed relative error of each step of a time. Default 1e-10. */
  readonly within?: number;
}

/**
 * Time in s to a cure without any heat loss.
 *
 *     t = int da / rate(a, T0 + rise (a - a0))
 *
 * @returns s; null when the law never gets there
 * @throws InputError when an input is out of range
 * @example adiabaticTime(makeRateLaw({ law: "nth-order", A: 1.2e6, E: 62000, n: 1 }), { T: 298.15, rise: 140 }, 0.5) // 6227.841876
 * @source Townsend & Tou, Thermochim. Acta 37 (1980) 1
 */
export function adiabaticTime(law: RateLaw, start: AdiabaticStart, to: number): number | null {
  checkStart(start);
  const from = start.initial ?? 0;
  const span: CureSpan = { from, to, ...(start.within && { within: start.within }) };
  return timeAlong(law, (a) => start.T + start.rise * (a - from), start.T, span);
}

/** The moment of fastest cure of a resin that loses no heat. */
export interface Runaway {
  /** Time to the largest rate, s. */
  readonly time: number;
  readonly cure: number;
  readonly T: number; // K
  /** 1/s. */
  readonly rate: number;
}

/**
 * When a mass without heat loss runs away: the time to its largest rate.
 *
 * @returns time s, cure, T K and rate 1/s there; null when the rate is largest at the very start or never rises
 * @throws InputError when an input is out of range
 * @example adiabaticRunaway(makeRateLaw({ law: "nth-order", A: 1.2e6, E: 62000, n: 1 }), { T: 298.15, rise: 140 })?.time // 6406.795707
 * @source Townsend & Tou, Thermochim. Acta 37 (1980) 1
 */
export function adiabaticRunaway(law: RateLaw, start: AdiabaticStart): Runaway | null {
  checkStart(start);
  const a0 = start.initial ?? 0;
  const out = new Float64Array(3);
  const rateAt = (a: number) => {
    law.evaluate(a, start.T + start.rise * (a - a0), out);
    return out[0];
  };
  // slope of the rate along the adiabatic path
  const slopeAt = (a: number) => {
    rateAt(a);
    return out[1] + out[2] * start.rise;
  };
  // coarse search, then the exact place: a piecewise law may have its largest rate at the jump
  const points = 2000;
  let best = 0;
  let largest = rateAt(a0);
  for (let i = 1; i < points; i++) {
    const r = rateAt(a0 + ((1 - a0) * i) / points);
    if (r > largest) {
      largest = r;
      best = i;
    }
  }
  if (best === 0) return null;
  const step = (1 - a0) / points;
  const low = a0 + step * (best - 1);
  const high = Math.min(a0 + step * (best + 1), 1 - 1e-12);
  const smooth = slopeAt(low) > 0 && slopeAt(high) < 0;
  const cure = smooth ? findRoot(slopeAt, low, high, 1e-13) : a0 + step * best;
  const time = adiabaticTime(law, start, cure);
  if (time === null) return null;
  return { time, cure, T: start.T + start.rise * (cure - a0), rate: rateAt(cure) };
}

function checkStart(start: AdiabaticStart): void {
  const checks = new Checks();
  checks.number("T", start.T, { above: 0, most: 2000 });
  checks.number("rise", start.rise, { least: 0, most: 2000 });
  checks.number("initial", start.initial ?? 0, { least: 0, below: 1 });
  checks.done();
}
