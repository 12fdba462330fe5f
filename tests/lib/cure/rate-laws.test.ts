import fc from "fast-check";
import { expect, test } from "vitest";
import { publishedLaw, publishedLaws } from "../../../lib/cure/published.ts";
import type { RateSpec, VitrificationCap } from "../../../lib/cure/rate-form.ts";
import { makeRateLaw, rate } from "../../../lib/cure/rate-laws.ts";
import { makeTabulatedRateLaw } from "../../../lib/cure/tabulated.ts";
import type { InputError } from "../../../lib/units/problem.ts";

const PER_MINUTE = 1 / 60;
const C = 273.15;

// Rates worked out by hand from the published constants, per minute, at cure 0.05, 0.1, 0.2, 0.5; five digits.
const RATES: [string, number, number[]][] = [
  // Lee, Loos & Springer, J. Compos. Mater. 16 (1982) 510
  ["prepreg-piecewise", 177, [0.32478, 0.23959, 0.11459, 0.026521]],
  // Bogetti & Gillespie, J. Compos. Mater. 25 (1991) 239
  ["glass-polyester", 110, [0.10776, 0.14307, 0.1729, 0.13965]],
  // Johnston & Hubert, constants as in three public codes
  ["prepreg-capped", 177, [0.013407, 0.020314, 0.025855, 0.01505]],
];

test.each(RATES)("%s at %d degC: rates of the published constants", (name, degC, expected) => {
  const law = makeRateLaw(publishedLaw(name).spec);
  const computed = [0.05, 0.1, 0.2, 0.5].map((a) => rate(law, a, degC + C) / PER_MINUTE);
  computed.forEach((r, i) => {
    expect(Math.abs(r / expected[i] - 1)).toBeLessThan(5e-5);
  });
});

test("published constants come out in SI", () => {
  // per minute and kJ in print
  expect(publishedLaw("glass-polyester").spec).toMatchObject({ A2: 3.7e22 / 60, E2: 167400 });
  expect(publishedLaw("prepreg-piecewise").spec).toMatchObject({ A2: -2.014e9 / 60, E3: 56600 });
  expect(publishedLaw("prepreg-piecewise").heat).toBe(473600);
  try {
    publishedLaw("epoxi");
    expect.unreachable();
  } catch (error) {
    const [problem] = (error as InputError).problems;
    expect(problem).toEqual({
      code: "unknown_word",
      path: "law",
      given: "epoxi",
      possible: publishedLaws.map(({ name }) => name),
    });
  }
});

const CAPS: (VitrificationCap | undefined)[] = [
  undefined,
  { kind: "linear", C: 43.09, intercept: -1.684, slope: 5.475e-3 },
  { kind: "glass", C: 30, uncured: 251, cured: 403, lambda: 0.4, offset: 12 },
];

const anySpec: fc.Arbitrary<RateSpec> = fc
  .record({
    kind: fc.constantFrom("nth-order", "autocatalytic", "final", "piecewise", "second-order"),
    // rate constants at 400 K, energies
    k1: fc.double({ min: 1e-6, max: 1e-1, noNaN: true }),
    k2: fc.double({ min: 1e-6, max: 1e-1, noNaN: true }),
    E1: fc.double({ min: 3e4, max: 1.7e5, noNaN: true }),
    E2: fc.double({ min: 3e4, max: 1.7e5, noNaN: true }),
    m: fc.oneof(fc.constantFrom(0, 0.5, 1, 2), fc.double({ min: 0, max: 3, noNaN: true })),
    n: fc.oneof(fc.constantFrom(0.5, 1, 2, 3), fc.double({ min: 0.3, max: 4, noNaN: true })),
    final: fc.double({ min: 0.3, max: 1.15, noNaN: true }),
    first: fc.boolean(),
    cap: fc.constantFrom(...CAPS),
  })
  .map(({ kind, k1, k2, E1, E2, m, n, final, first, cap }) => {
    const A = (k: number, E: number) => k * Math.exp(E / (8.314462618 * 400));
    const capped = cap === undefined ? {} : { cap };
    if (kind === "nth-order") return { law: kind, A: A(k1, E1), E: E1, n, ...capped };
    if (kind === "piecewise") return publishedLaw("prepreg-piecewise").spec;
    if (kind === "second-order")
      return { law: kind, A: A(k1, E1) / 3000, E: E1, concentration: 3000, ratio: 1.05, ...capped };
    const A1 = first ? A(k1, E1) : 0;
    const auto = { law: "autocatalytic" as const, A1, E1, A2: A(k2, E2), E2, m, n, ...capped };
    return kind === "final" ? { ...auto, final } : auto;
  });

const anyCure = fc.oneof(
  fc.double({ min: -0.05, max: 1.05, noNaN: true }),
  fc.double({ min: -14, max: 0, noNaN: true }).map((x) => 10 ** x), // close to 0
  fc.double({ min: -14, max: 0, noNaN: true }).map((x) => 1 - 10 ** x), // close to 1
  fc.constantFrom(0, 1, 0.3, 1e-9, 1e-300),
);
const anyT = fc.oneof(
  fc.double({ min: 230, max: 700, noNaN: true }),
  fc.double({ min: 0, max: 3000, noNaN: true }),
);

test("never NaN, never negative, 0 slope outside, for any law, cure and temperature", () => {
  const out = new Float64Array(3);
  fc.assert(
    fc.property(anySpec, anyCure, anyT, (spec, cure, T) => {
      for (const make of [makeRateLaw, makeTabulatedRateLaw]) {
        make(spec).evaluate(cure, T, out);
        expect(out.every(Number.isFinite)).toBe(true);
        expect(out[0]).toBeGreaterThanOrEqual(0);
        if (cure < 0 || cure > 1) expect(out[1]).toBe(0);
      }
    }),
    { numRuns: 3000, seed: 4 },
  );
});

test("the derivatives are those of the rate", () => {
  const at = new Float64Array(3);
  const more = new Float64Array(3);
  const less = new Float64Array(3);
  const inside = fc.double({ min: 0.01, max: 0.99, noNaN: true });
  fc.assert(
    fc.property(anySpec, inside, fc.double({ min: 250, max: 600, noNaN: true }), (spec, a, T) => {
      // not across the jump of the piecewise law, nor where the final cure ends the reaction
      if (spec.law === "piecewise" && Math.abs(a - 0.3) < 0.01) return;
      if (spec.law === "autocatalytic" && Math.abs(a - (spec.final ?? 2)) < 0.02) return;
      const law = makeRateLaw(spec);
      law.evaluate(a, T, at);
      const scale = 1e-7 * (at[0] / Math.min(a, 1 - a) + Math.abs(at[1]));
      const h = 1e-5;
      law.evaluate(a + h, T, more);
      law.evaluate(a - h, T, less);
      // a central difference is wrong by h2/6 times the third derivative: with C = 43 some 1e-5 of the slope
      expect(Math.abs((more[0] - less[0]) / (2 * h) - at[1])).toBeLessThan(1e-30 + 500 * scale);
      law.evaluate(a, T + 1e-2, more);
      law.evaluate(a, T - 1e-2, less);
      expect(Math.abs((more[0] - less[0]) / 2e-2 - at[2])).toBeLessThan(
        1e-30 + 1e-4 * (Math.abs(at[2]) + at[0] / T),
      );
    }),
    { numRuns: 2000, seed: 5 },
  );
});

test("the tabulated law is the exact one to 5e-10, also at the ends of cure and far from the tables", () => {
  const exact = new Float64Array(3);
  const fast = new Float64Array(3);
  fc.assert(
    fc.property(anySpec, anyCure, anyT, (spec, cure, T) => {
      makeRateLaw(spec).evaluate(cure, T, exact);
      makeTabulatedRateLaw(spec).evaluate(cure, T, fast);
      // the piecewise law subtracts nearly equal numbers: relative to its larger term
      const tolerance = spec.law === "piecewise" ? 1e-7 : 5e-10;
      expect(Math.abs(fast[0] - exact[0])).toBeLessThanOrEqual(tolerance * exact[0] + 1e-90);
      const slope = Math.abs(exact[1]) + exact[0];
      expect(Math.abs(fast[1] - exact[1])).toBeLessThanOrEqual(tolerance * slope + 1e-90);
      expect(Math.abs(fast[2] - exact[2])).toBeLessThanOrEqual(
        tolerance * (Math.abs(exact[2]) + exact[0] / Math.max(T, 1)) + 1e-90,
      );
    }),
    { numRuns: 5000, seed: 6 },
  );
});

test("cured as far as it goes and beyond, the tabulated law is the exact one", () => {
  const spec = { law: "autocatalytic", A1: 1, E1: 3e4, A2: 2, E2: 4e4, m: 1, n: 1.6 } as const;
  for (const final of [0.4, 0.9, 1])
    for (const past of [-1e-10, 0, 1e-12, 1e-10, 0.05]) {
      const [exact, fast] = [new Float64Array(3), new Float64Array(3)];
      makeRateLaw({ ...spec, final }).evaluate(final + past, 400, exact);
      makeTabulatedRateLaw({ ...spec, final }).evaluate(final + past, 400, fast);
      for (const k of [0, 1, 2]) {
        const allowed = 1e-6 * Math.abs(exact[k]!) + 1e-18;
        expect(Math.abs(fast[k]! - exact[k]!), `${final} ${past} ${k}`).toBeLessThan(allowed);
      }
      if (past >= 0) expect(exact[0]).toBeCloseTo(0, 12);
    }
});

test("a power under 1 starts at zero with a finite slope, and is itself from a part in 10^9 on", () => {
  const law = makeRateLaw({ law: "autocatalytic", A1: 0, E1: 0, A2: 1, E2: 0, m: 0.5, n: 1 });
  const out = new Float64Array(3);
  law.evaluate(0, 300, out);
  expect(out[0]).toBe(0);
  expect(out[1]).toBeGreaterThan(0);
  expect(Number.isFinite(out[1])).toBe(true);
  expect(rate(law, 1e-8, 300)).toBeCloseTo(1e-4 * (1 - 1e-8), 15);
});

test("below a part in 10^9 such a power is the parabola from 0 that goes over into it without a kink", () => {
  const SMALL = 2 ** -30;
  const out = new Float64Array(3);
  for (const p of [0.3, 0.5, 0.9]) {
    // by its three conditions: 0 at 0, value and slope of x^p at SMALL
    const b = (p - 1) * SMALL ** (p - 2);
    const a = SMALL ** (p - 1) - b * SMALL;
    const parabola = (x: number) => a * x + b * x * x;
    const growth = makeRateLaw({ law: "autocatalytic", A1: 0, E1: 0, A2: 1, E2: 0, m: p, n: 1 });
    const left = makeRateLaw({ law: "nth-order", A: 1, E: 0, n: p });
    for (const share of [0.001, 0.2, 0.5, 0.9, 0.9999, 1, 1.0001, 3, 100]) {
      const x = share * SMALL;
      const value = share < 1 ? parabola(x) : x ** p;
      const slope = share < 1 ? a + 2 * b * x : p * x ** (p - 1);
      growth.evaluate(x, 300, out);
      expect(out[0]! / value).toBeCloseTo(1, 6);
      expect(out[1]! / slope).toBeCloseTo(1, 6);
      // 1 - x keeps a few digits of x
      const kept = 1 - (1 - x);
      left.evaluate(1 - x, 300, out);
      expect(out[0]! / (share < 1 ? parabola(kept) : kept ** p)).toBeCloseTo(1, 3);
      expect(-out[1]! / slope).toBeCloseTo(1, 3);
    }
  }
});

test("all that is wrong with the constants is listed at once", () => {
  const problems = (spec: unknown) => {
    try {
      makeRateLaw(spec as RateSpec);
    } catch (error) {
      return (error as InputError).problems.map((p) => `${p.path} ${p.code}`);
    }
    return [];
  };
  expect(
    problems({ law: "autocatalytic", A1: -1, E1: 5e4, A2: 1, E2: -5e4, m: Number.NaN, n: 0 }),
  ).toEqual(["A1 too_small", "E2 too_small", "m not_a_number", "n too_small"]);
  expect(problems({ law: "nth-order", A: 1e300, E: 1e4, n: 1 })).toEqual(["A rate_overflow"]);
  expect(problems({ law: "nth-order", A: 1e20, E: 1e3, n: 1 })).toEqual(["A rate_overflow"]);
  expect(problems({ law: "nth-order" })).toEqual(["A missing", "E missing", "n missing"]);
  expect(problems({ law: "magic" })).toEqual(["law unknown_word"]);
  expect(
    problems({
      law: "nth-order",
      A: 1,
      E: 1,
      n: 1,
      cap: { kind: "glass", C: -1, uncured: 300, cured: 290, lambda: 0, offset: 0 },
    }),
  ).toEqual(["cap.C too_small", "cap.cured too_small", "cap.lambda too_small"]);
});

test("every published law can be evaluated over its range", () => {
  for (const { spec, from, to, initial } of publishedLaws)
    for (let T = from; T <= to; T += 5)
      for (let a = initial; a < 0.95; a += 0.05) {
        expect(rate(makeRateLaw(spec), a, T)).toBeGreaterThanOrEqual(0);
      }
});
