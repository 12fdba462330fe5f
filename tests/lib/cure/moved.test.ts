/** A law that is made faster and moved to another energy: Arrhenius about 25 degC, at any cure. */
import { expect, test } from "vitest";
import { leadingEnergy, moved } from "../../../lib/cure/calibrate.ts";
import type { RateSpec } from "../../../lib/cure/rate-form.ts";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import { InputError } from "../../../lib/units/problem.ts";

const R = 8.314462618;
const LAWS: readonly RateSpec[] = [
  { law: "nth-order", A: 1e6, E: 6e4, n: 1.4 },
  { law: "second-order", A: 2, E: 45e3, concentration: 4000, ratio: 1.2 },
  { law: "autocatalytic", A1: 2e4, E1: 62e3, A2: 3e5, E2: 54e3, m: 0.7, n: 1.6 },
  { law: "autocatalytic", A1: 0, E1: 0, A2: 3e5, E2: 54e3, m: 1, n: 1.3, final: 0.95 },
  { law: "autocatalytic", A1: 2e6, E1: 62e3, A2: 0, E2: 0, m: 0.7, n: 1.6 },
  {
    law: "piecewise",
    A1: 1e5,
    E1: 58e3,
    A2: 4e5,
    E2: 56e3,
    B: 0.6,
    A3: 2e4,
    E3: 52e3,
    switchAt: 0.4,
  },
];

test.each(LAWS)("$law", (spec) => {
  const rate = (given: RateSpec, a: number, T: number) => {
    const out = new Float64Array(3);
    makeRateLaw(given).evaluate(a, T, out);
    return out[0]!;
  };
  for (const [scale, by] of [
    [1, 0],
    [3, 0],
    [1, 7e3],
    [0.2, -5e3],
  ] as const) {
    const other = moved(spec, scale, leadingEnergy(spec) + by);
    expect(leadingEnergy(other)).toBeCloseTo(leadingEnergy(spec) + by, 6);
    for (const a of [0.05, 0.3, 0.39, 0.5, 0.8])
      for (const T of [278, 298.15, 350]) {
        const times = scale * Math.exp((-by / R) * (1 / T - 1 / 298.15));
        expect(rate(other, a, T) / rate(spec, a, T) / times, `${a} ${T}`).toBeCloseTo(1, 6);
      }
  }
});

test("the leading energy is that of the term that carries the most", () => {
  expect(LAWS.map(leadingEnergy)).toEqual([6e4, 45e3, 54e3, 54e3, 62e3, 52e3]);
});

test("neither a scale nor an energy that is none is taken", () => {
  for (const [scale, energy] of [
    [0, 5e4],
    [-1, 5e4],
    [Number.NaN, 5e4],
    [1e13, 5e4],
    [1, 0],
    [1, 6e5],
  ] as const)
    expect(() => moved(LAWS[0]!, scale, energy), `${scale} ${energy}`).toThrow(InputError);
});
