/**
 * Rate laws of cure, evaluated as written: readable and exact. The engine uses the tabulated twin.
 *
 * Symbols: a cure (0 to 1), T K, k 1/s.
 */
import type { RateLaw } from "../materials/material.ts";
import { GAS_CONSTANT } from "../units/constants.ts";
import { glassCure } from "./glass-transition.ts";
import { type RateForm, type RateSpec, rateForms, type VitrificationCap } from "./rate-form.ts";

/**
 * Below this cure a power with an exponent under 1 is replaced by a parabola of the same value and slope there,
 * which starts at zero with a finite slope: a step solver can't use an infinite one. A part in 10^9.
 */
const SMALL = 2 ** -30;

/**
 * Rate of cure with its exact derivatives, as a function to be called many times.
 *
 *     da/dt = (k1 + k2 a^m)(1-a)^n ...,   k = A exp(-E/(R T))
 *
 * times the vitrification cap when there is one. Outside 0 <= a <= 1 the rate is that of the nearest end with slope 0.
 * Where the piecewise law's k1 + k2 a turns negative (cold, far below its range) the rate is 0: cure never falls.
 *
 * @param spec the law and its constants, A in 1/s, E in J/mol
 * @returns a law whose `evaluate(cure, T, out)` writes rate 1/s, d/dcure 1/s, d/dT 1/(s K); T below 1 K gives 0
 * @throws InputError for negative, overflowing or missing constants
 * @example rate(makeRateLaw({ law: "nth-order", A: 1e6, E: 6e4, n: 1 }), 0.5, 300) // 1.787e-5
 * @source Kamal & Sourour, Polym. Eng. Sci. 13 (1973) 59; the other laws: lib/cure/published.ts
 */
export function makeRateLaw(spec: RateSpec): RateLaw {
  const { first, second, switchAt, cap } = rateForms(spec);
  return {
    evaluate(cure, T, out) {
      const a = Math.min(Math.max(cure, 0), 1);
      const form = a <= switchAt ? first : second;
      evaluateForm(form, a, T, out);
      if (form.q !== 0) multiplyByRest(form, a, out);
      if (cap) applyCap(cap, a, T, out);
      if (a !== cure) out[1] = 0;
    },
  };
}

/**
 * Rate of cure in 1/s at one cure and temperature, for a look at a law rather than for a loop.
 *
 * @param cure 0 to 1
 * @param T K
 * @example rate(makeRateLaw({ law: "nth-order", A: 1e6, E: 6e4, n: 1 }), 0, 300) // 3.575e-5
 */
export function rate(law: RateLaw, cure: number, T: number): number {
  const out = new Float64Array(3);
  law.evaluate(cure, T, out);
  return out[0];
}

/** (k1 + k2 a^m)(1-a)^p and its derivatives, for 0 <= a <= 1. */
export function evaluateForm(f: RateForm, a: number, T: number, out: Float64Array): void {
  out[0] = out[1] = out[2] = 0;
  if (T < 1) return;
  const RT = GAS_CONSTANT * T;
  const k1 = f.A1 * Math.exp(-f.E1 / RT);
  const k2 = f.A2 * Math.exp(-f.E2 / RT);
  const growth = power(a, f.m);
  const left = power(1 - a, f.p);
  const k = k1 + k2 * growth;
  if (k < 0) return;
  out[0] = k * left;
  out[1] = k2 * powerSlope(a, f.m) * left - k * powerSlope(1 - a, f.p);
  out[2] = ((k1 * f.E1 + k2 * growth * f.E2) / (RT * T)) * left;
}

/** Multiplies a rate and its derivatives by (r-a)^q, which is 0 from a = r on. */
export function multiplyByRest(f: RateForm, a: number, out: Float64Array): void {
  const rest = a < f.r ? power(f.r - a, f.q) : 0;
  const slope = a < f.r ? powerSlope(f.r - a, f.q) : 0;
  out[1] = out[1] * rest - out[0] * slope;
  out[0] *= rest;
  out[2] *= rest;
}

/** x^p for x >= 0, with the smooth start described at SMALL. */
function power(x: number, p: number): number {
  if (p === 0) return 1;
  if (p >= 1 || x >= SMALL) return x ** p;
  const u = x / SMALL;
  return SMALL ** p * u * (2 - p + (p - 1) * u);
}

/** Slope of `power`. */
function powerSlope(x: number, p: number): number {
  if (p === 0) return 0;
  if (p >= 1 || x >= SMALL) return p * x ** (p - 1);
  return SMALL ** (p - 1) * (2 - p + 2 * (p - 1) * (x / SMALL));
}

function applyCap(cap: VitrificationCap, a: number, T: number, out: Float64Array): void {
  const limit =
    cap.kind === "linear" ? cap.intercept + cap.slope * T : glassCure(cap, T + cap.offset);
  const slope = cap.kind === "linear" ? cap.slope : glassCureSlope(cap, T + cap.offset);
  const share = 1 / (1 + Math.exp(cap.C * (a - limit)));
  const change = cap.C * share * (1 - share);
  const r = out[0];
  out[0] = r * share;
  out[1] = out[1] * share - r * change;
  out[2] = out[2] * share + r * change * slope;
}

/** d(cure at the glass transition)/dT, 1/K. */
function glassCureSlope(cap: VitrificationCap & { kind: "glass" }, T: number): number {
  const span = cap.lambda * (cap.cured - cap.uncured);
  const above = T - cap.uncured;
  if (above <= 0) return 1 / span;
  const bottom = span + (1 - cap.lambda) * above;
  return span / (bottom * bottom);
}
