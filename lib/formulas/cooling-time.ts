/**
 * Cooling times of molded bodies whose surface is held at the wall's temperature: the formulas of the trade.
 *
 * Symbols: a diffusivity m2/s, sizes m, times s; Y = (melt - wall)/(end - wall).
 */

import { findRoot } from "../numerics/roots.ts";
import { besselJ0, besselJ1 } from "../numerics/special-functions.ts";
import { Checks } from "../units/check.ts";

/** A body: its least thickness or its diameter, and the further sizes that matter. */
export type MoldedBody =
  | { readonly kind: "plate"; readonly thickness: number }
  | { readonly kind: "round"; readonly diameter: number }
  | { readonly kind: "ball"; readonly diameter: number }
  | { readonly kind: "bar"; readonly width: number; readonly height: number }
  | { readonly kind: "rod"; readonly diameter: number; readonly length: number };

/** A part that cools between walls of one temperature. */
export interface CoolingCase {
  readonly melt: number; // K
  readonly wall: number; // K
  readonly end: number; // K
  readonly diffusivity: number; // m2/s
  /** Which temperature has to reach `end`. */
  readonly criterion: "center" | "mean";
}

/** First zero of J0. */
export const BESSEL_ZERO = findRoot(besselJ0, 2.3, 2.5, 1e-16);

const PI2 = Math.PI * Math.PI;
const ROUND2 = BESSEL_ZERO * BESSEL_ZERO;
/** Factors c of t = ln(c Y)/rate: center and mean. */
const PLATE = { center: 4 / Math.PI, mean: 8 / PI2 };
const ROUND = { center: 2 / (BESSEL_ZERO * besselJ1(BESSEL_ZERO)), mean: 4 / ROUND2 };
const BALL = { center: 2, mean: 6 / PI2 };

/**
 * Cooling time in s by the first term of the series.
 *
 *     plate    t = s2/(pi2 a) ln(c Y)               c = 4/pi center, 8/pi2 mean
 *     round    t = D2/(23.13 a) ln(c Y)             c = 1.602, 0.6917
 *     ball     t = D2/(4 pi2 a) ln(c Y)             c = 2, 6/pi2
 *     bar      t = ln(c Y) / [pi2 a (1/w2 + 1/h2)]  c = products of plates
 *     rod      t = ln(c Y) / [a (23.13/D2 + pi2/L2)]
 *
 * A lower bound for a mold: its wall does not stay at one temperature.
 *
 * @returns s; 0 when the formula falls below the start (Y near 1, where one term is not enough)
 * @throws InputError unless wall < end < melt, and sizes and diffusivity are positive
 * @example coolingTime({ kind: "plate", thickness: 0.008 }, { melt: 448.15, wall: 308.15, end: 333.15, diffusivity: 8.5e-8, criterion: "center" }) // 149.8566395
 * @source plate: Ballman & Shusman 1959, checked by Stelson, Proc. IMechE B 217 (2003) 709; other shapes: Carslaw & Jaeger 1959, 7.6, 9.3, products 5.6
 */
export function coolingTime(body: MoldedBody, c: CoolingCase): number {
  const checks = new Checks();
  checks.number("wall", c.wall, { above: 0 });
  checks.number("melt", c.melt, { above: c.wall });
  checks.number("end", c.end, { above: c.wall, below: c.melt });
  checks.number("diffusivity", c.diffusivity, { above: 0 });
  for (const [path, size] of Object.entries(body))
    if (path !== "kind") checks.number(path, size as number, { above: 0 });
  checks.done();
  const Y = (c.melt - c.wall) / (c.end - c.wall);
  const { factor, rate } = decay(body, c.criterion);
  return Math.max(0, Math.log(factor * Y) / (rate * c.diffusivity));
}

/** Factor, and decay rate over the diffusivity in 1/m2, of the slowest mode. */
function decay(body: MoldedBody, at: "center" | "mean"): { factor: number; rate: number } {
  switch (body.kind) {
    case "plate":
      return { factor: PLATE[at], rate: PI2 / body.thickness ** 2 };
    case "round":
      return { factor: ROUND[at], rate: (4 * ROUND2) / body.diameter ** 2 };
    case "ball":
      return { factor: BALL[at], rate: (4 * PI2) / body.diameter ** 2 };
    case "bar":
      return {
        factor: PLATE[at] ** 2,
        rate: PI2 * (1 / body.width ** 2 + 1 / body.height ** 2),
      };
    default:
      return {
        factor: ROUND[at] * PLATE[at],
        rate: (4 * ROUND2) / body.diameter ** 2 + PI2 / body.length ** 2,
      };
  }
}

/**
 * Temperature in a plate between two walls of different temperature, in K.
 *
 *     T = T1 + (T2-T1) x/s + sum 2/(n pi) [(T0-T1)(1-(-1)^n) + (T2-T1)(-1)^n] sin(n pi x/s) exp(-n2 pi2 a t/s2)
 *
 * @param plate start K, walls K at x = 0 and x = s, diffusivity m2/s, thickness m
 * @param x m from the first wall, or "mean"
 * @param t s, > 0
 * @throws InputError when an input is not positive or x lies outside
 * @example plateBetween({ start: 448.15, first: 303.15, second: 323.15, diffusivity: 9e-8, thickness: 0.006 }, 0.003, 60) // 352.2607044
 * @source Carslaw & Jaeger 1959, 3.4
 */
export function plateBetween(
  plate: {
    readonly start: number;
    readonly first: number;
    readonly second: number;
    readonly diffusivity: number;
    readonly thickness: number;
  },
  x: number | "mean",
  t: number,
): number {
  const checks = new Checks();
  for (const [path, given] of Object.entries(plate)) checks.number(path, given, { above: 0 });
  checks.number("t", t, { above: 0 });
  if (x !== "mean") checks.number("x", x, { least: 0, most: plate.thickness });
  checks.done();
  const { start, first, second, thickness } = plate;
  const fourier = (plate.diffusivity * t) / thickness ** 2;
  let T = x === "mean" ? (first + second) / 2 : first + ((second - first) * x) / thickness;
  for (let n = 1; n < 1000; n++) {
    const fall = Math.exp(-n * n * PI2 * fourier);
    const sign = n % 2 === 0 ? 1 : -1;
    const amplitude =
      (2 / (n * Math.PI)) * ((start - first) * (1 - sign) + (second - first) * sign) * fall;
    T +=
      amplitude *
      (x === "mean" ? (1 - sign) / (n * Math.PI) : Math.sin((n * Math.PI * x) / thickness));
    if (fall < 1e-18) break;
  }
  return T;
}
