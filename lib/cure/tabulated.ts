/**
 * The rate laws again, for inner loops: exponentials and powers from tables with a short series, about 1e-10 off.
 *
 * An exponential costs V8 some 10 ns and a power some 40; a law needs up to three of each. What keeps this fast:
 * numbers that go through a call which is not inlined are boxed, so the common part is one long function that goes
 * through all places by itself; named constants of a module cost a look-up each, so the places in the flat list are
 * written as numbers.
 *
 * Symbols: a cure, T K, k 1/s.
 */
import type { RateLaw, RatePlaces } from "../materials/material.ts";
import { makeRatePlaces } from "../materials/rate-places.ts";
import { memoized } from "../numerics/memoized.ts";
import { GAS_CONSTANT } from "../units/constants.ts";
import { type RateForm, type RateSpec, rateForms, type VitrificationCap } from "./rate-form.ts";
import { evaluateForm, multiplyByRest } from "./rate-laws.ts";

// exp: 2112 entries, one every 1/8 from -200 to 64; x is found at place 8 (x + 200) + 0.5
const EXP = Float64Array.from({ length: 2112 }, (_, i) => Math.exp(i / 8 - 200));
const place = (x: number) => 8 * (x + 200) + 0.5;

// powers: one entry every 1/512, used from 1/16 up; a smaller number is first multiplied by 16, as often as needed
const CENTERS = Float64Array.from({ length: 1024 }, (_, i) => (i + 0.5) / 512);
const INVERSE = CENTERS.map((c) => 1 / c);

/** Tables of x^p: the members of a range differ in their speed, not in their powers. */
const raisedTo = new Map<number, Float64Array>();
const MOST_POWERS = 32;
const raised = (p: number) => memoized(raisedTo, p, MOST_POWERS, () => CENTERS.map((c) => c ** p));

/** Coefficients of (1 + u)^p from the first on, and 16^-p. */
function series(p: number): number[] {
  const c2 = (p * (p - 1)) / 2;
  const c3 = (c2 * (p - 2)) / 3;
  return [p, c2, c3, (c3 * (p - 3)) / 4, 16 ** -p];
}

/** A form with its tables. */
interface Prepared {
  readonly form: RateForm;
  /**
   * 0, 1: place of ln A1 in the exp table, 8 E1/R; 2, 3: the same of k2; 4 to 8, 9 to 13, 14 to 18: series of
   * a^m, (1-a)^p, (r-a)^q; 19: r; 20, 21: signs of A1, A2.
   */
  readonly list: Float64Array;
  /** m is 1 and p is 1 or 2: no table needed. */
  readonly whole: boolean;
  readonly m: Float64Array;
  readonly p: Float64Array;
  readonly q: Float64Array;
}

function prepare(form: RateForm): Prepared {
  const ln = (A: number) => (A === 0 ? 0 : Math.log(Math.abs(A)));
  const numbers = [
    place(ln(form.A1)),
    form.A1 === 0 ? 0 : (8 * form.E1) / GAS_CONSTANT,
    place(ln(form.A2)),
    form.A2 === 0 ? 0 : (8 * form.E2) / GAS_CONSTANT,
    ...series(form.m),
    ...series(form.p),
    ...series(form.q),
    form.r,
    Math.sign(form.A1),
    Math.sign(form.A2),
  ];
  return {
    form,
    list: new Float64Array(numbers),
    whole: form.m === 1 && (form.p === 1 || form.p === 2),
    m: raised(form.m),
    p: raised(form.p),
    q: raised(form.q),
  };
}

/**
 * The same law as `makeRateLaw`, up to six times faster: for the stepper.
 *
 * Agrees with the exact one to 1e-9 relative wherever the rate is not a difference of nearly equal numbers; keeps
 * its behavior outside 0 <= cure <= 1 and at any T.
 *
 * @throws InputError for negative, overflowing or missing constants
 * @example rate(makeTabulatedRateLaw({ law: "nth-order", A: 1e6, E: 6e4, n: 1.5 }), 0.5, 300) // 1.2640e-5
 */
export function makeTabulatedRateLaw(spec: RateSpec): RateLaw {
  const { first, second, switchAt, cap } = rateForms(spec);
  const low = prepare(first);
  const pieces = { low, high: second === first ? low : prepare(second), switchAt };
  const rest = first.q !== 0;
  const capList = cap === null ? null : prepareCap(cap);
  const one = makeRatePlaces(new Int32Array(1), new Int32Array(1));
  const cureOfOne = new Float64Array(1);
  const TOfOne = new Float64Array(1);

  function evaluateAt(u: Float64Array, T: Float64Array, places: RatePlaces): void {
    evaluatePrepared(pieces, u, T, places);
    if (rest) applyRest(pieces, u, places);
    if (capList !== null) applyFastCap(capList, u, T, places);
  }

  return {
    evaluate(cure, T, out) {
      cureOfOne[0] = cure;
      TOfOne[0] = T;
      evaluateAt(cureOfOne, TOfOne, one);
      out[0] = one.rate[0];
      out[1] = one.byCure[0];
      out[2] = one.byT[0];
    },
    evaluateAt,
  };
}

/** The form up to a cure, and the one above it. */
interface Pieces {
  readonly low: Prepared;
  readonly high: Prepared;
  readonly switchAt: number;
}

const written = new Float64Array(3);

/** (k1 + k2 a^m)(1-a)^p. */
function evaluatePrepared(
  { low, high, switchAt }: Pieces,
  u: Float64Array,
  temperatures: Float64Array,
  { at, cells, rate, byCure, byT, withSlopes }: RatePlaces,
): void {
  const count = at.length;
  for (let place = 0; place < count; place++) {
    const cure = u[at[place]];
    const T = temperatures[cells[place]];
    const a = cure < 0 ? 0 : cure > 1 ? 1 : cure;
    const f = a <= switchAt ? low : high;
    const c = f.list;
    const b = 1 - a;
    const over = 1 / T;
    const x1 = c[0] - c[1] * over;
    const x2 = c[2] - c[3] * over;
    // at the ends of cure and beyond the exp table: as written
    if (!(a > 1e-9 && b > 1e-9 && x1 >= 0 && x1 < 2112 && x2 >= 0 && x2 < 2112)) {
      evaluateForm(f.form, a, T, written);
      rate[place] = written[0];
      byCure[place] = a === cure ? written[1] : 0;
      byT[place] = written[2];
      continue;
    }
    // k = A exp(-E/RT)
    let i = x1 | 0;
    let d = (x1 - 0.5 - i) * 0.125; // within 1/16
    let dd = d * d;
    const k1 = c[20] * EXP[i] * (1 + d + dd * (0.5 + d * (1 / 6) + dd * (1 / 24 + d * (1 / 120))));
    i = x2 | 0;
    d = (x2 - 0.5 - i) * 0.125;
    dd = d * d;
    const k2 = c[21] * EXP[i] * (1 + d + dd * (0.5 + d * (1 / 6) + dd * (1 / 24 + d * (1 / 120))));
    let growth = a;
    let left = b;
    if (!f.whole) {
      // a^m
      let x = a;
      let scale = 1;
      while (x < 0.0625) {
        x *= 16;
        scale *= c[8];
      }
      i = (x * 512) | 0;
      let e = x * INVERSE[i] - 1; // within 1/64
      let ee = e * e;
      growth = scale * f.m[i] * (1 + c[4] * e + ee * (c[5] + c[6] * e + ee * c[7]));
      // (1-a)^p
      x = b;
      scale = 1;
      while (x < 0.0625) {
        x *= 16;
        scale *= c[13];
      }
      i = (x * 512) | 0;
      e = x * INVERSE[i] - 1;
      ee = e * e;
      left = scale * f.p[i] * (1 + c[9] * e + ee * (c[10] + c[11] * e + ee * c[12]));
    } else if (c[9] === 2) left = b * b;

    const k = k1 + k2 * growth;
    // cure never goes back
    if (k < 0) left = 0;
    rate[place] = left === 0 ? 0 : k * left;
    if (!withSlopes) continue;
    byCure[place] = ((k2 * c[4] * growth * b - k * c[9] * a) / (a * b)) * left;
    byT[place] = 0.125 * (k1 * c[1] + k2 * growth * c[3]) * over * over * left;
  }
}

/** The lower form times (r-a)^q. */
function applyRest(
  { low: f, switchAt }: Pieces,
  u: Float64Array,
  { at, rate, byCure, byT, withSlopes }: RatePlaces,
): void {
  const c = f.list;
  for (let place = 0; place < at.length; place++) {
    const cure = u[at[place]];
    const a = cure < 0 ? 0 : cure > 1 ? 1 : cure;
    if (!(a <= switchAt)) continue;
    const d = c[19] - a;
    if (!(d > 1e-9)) {
      written[0] = rate[place];
      written[1] = byCure[place];
      written[2] = byT[place];
      multiplyByRest(f.form, a, written);
      rate[place] = written[0];
      byCure[place] = a === cure ? written[1] : 0;
      byT[place] = written[2];
      continue;
    }
    let x = d;
    let scale = 1;
    while (x < 0.0625) {
      x *= 16;
      scale *= c[18];
    }
    const i = (x * 512) | 0;
    const e = x * INVERSE[i] - 1;
    const ee = e * e;
    const rest = scale * f.q[i] * (1 + c[14] * e + ee * (c[15] + c[16] * e + ee * c[17]));
    const full = rate[place];
    rate[place] = full * rest;
    if (!withSlopes) continue;
    byCure[place] = a === cure ? (byCure[place] - (full * c[14]) / d) * rest : 0;
    byT[place] *= rest;
  }
}

/** 0: C; 1: 1 for the linear kind; then intercept, slope, or uncured - offset, span, 1 - lambda. */
function prepareCap(cap: VitrificationCap): Float64Array {
  return new Float64Array(
    cap.kind === "linear"
      ? [cap.C, 1, cap.intercept, cap.slope, 0]
      : [
          cap.C,
          0,
          cap.uncured - cap.offset,
          cap.lambda * (cap.cured - cap.uncured),
          1 - cap.lambda,
        ],
  );
}

function applyFastCap(
  c: Float64Array,
  u: Float64Array,
  temperatures: Float64Array,
  { at, cells, rate, byCure, byT, withSlopes }: RatePlaces,
): void {
  for (let place = 0; place < at.length; place++) {
    const cure = u[at[place]];
    const T = temperatures[cells[place]];
    const a = cure < 0 ? 0 : cure > 1 ? 1 : cure;
    let limit = c[2] + c[3] * T;
    let slope = c[3];
    if (c[1] === 0) {
      const above = T - c[2];
      const over = 1 / (above <= 0 ? c[3] : c[3] + c[4] * above);
      limit = above * over;
      slope = c[3] * over * over;
    }
    const x = 8 * (c[0] * (a - limit) + 200) + 0.5;
    let e: number;
    if (x >= 0 && x < 2112) {
      const i = x | 0;
      const d = (x - 0.5 - i) * 0.125;
      const dd = d * d;
      e = EXP[i] * (1 + d + dd * (0.5 + d * (1 / 6) + dd * (1 / 24 + d * (1 / 120))));
    } else e = Math.exp(c[0] * (a - limit));
    const share = 1 / (1 + e);
    const full = rate[place];
    rate[place] = full * share;
    if (!withSlopes) continue;
    const change = full * c[0] * share * (1 - share);
    byCure[place] = a === cure ? byCure[place] * share - change : 0;
    byT[place] = byT[place] * share + change * slope;
  }
}
