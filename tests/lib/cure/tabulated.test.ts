/** Tables of exponentials and powers against the law as it is written, place by place; and that they are what is used. */
import { expect, test } from "vitest";
import type { RateSpec } from "../../../lib/cure/rate-form.ts";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import { makeTabulatedRateLaw } from "../../../lib/cure/tabulated.ts";
import { evaluateAt, makeRatePlaces } from "../../../lib/materials/rate-places.ts";

const auto = { law: "autocatalytic", A1: 2e4, E1: 58e3, A2: 3e5, E2: 54e3 } as const;
const linear = { kind: "linear", C: 43.09, intercept: -1.684, slope: 5.475e-3 } as const;
const glass = {
  kind: "glass",
  C: 30,
  uncured: 251,
  cured: 403,
  lambda: 0.4,
  offset: 12,
} as const;
const LAWS: readonly (readonly [string, RateSpec])[] = [
  ["first order", { law: "nth-order", A: 1e6, E: 6e4, n: 1 }],
  ["second order", { law: "nth-order", A: 1e6, E: 6e4, n: 2 }],
  ["order 1.4", { law: "nth-order", A: 1e6, E: 6e4, n: 1.4 }],
  ["order 0.7", { law: "nth-order", A: 1e6, E: 6e4, n: 0.7 }],
  ["m 1, n 1", { ...auto, m: 1, n: 1 }],
  ["m 1, n 2", { ...auto, m: 1, n: 2 }],
  ["m 1, n 3", { ...auto, m: 1, n: 3 }],
  ["m 0.7, n 1", { ...auto, m: 0.7, n: 1 }],
  ["m 0.7, n 1.6", { ...auto, m: 0.7, n: 1.6 }],
  ["m 2.3, n 0.6", { ...auto, m: 2.3, n: 0.6 }],
  ["second term alone", { ...auto, A1: 0, E1: 0, m: 0.5, n: 1.3 }],
  ["first term alone", { ...auto, A2: 0, E2: 0, m: 0.5, n: 1.3 }],
  ["final 0.95", { ...auto, m: 0.8, n: 1.7, final: 0.95 }],
  ["final 1.1", { ...auto, m: 1, n: 2, final: 1.1 }],
  ["linear cap", { ...auto, m: 0.7, n: 1.6, cap: linear }],
  ["glass cap", { ...auto, m: 0.7, n: 1.6, cap: glass }],
  [
    "two groups",
    { law: "second-order", A: 2e-3, E: 45e3, concentration: 4000, ratio: 1.2, cap: glass },
  ],
  [
    "pieces",
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
  ],
];
const CURES = [
  -0.1,
  0,
  1e-12,
  1e-7,
  3e-4,
  0.003,
  0.01,
  0.0619,
  0.0624,
  0.0626,
  0.2,
  0.333,
  0.4,
  0.41,
  0.5999,
  0.72,
  0.93,
  0.9379,
  0.949,
  0.96,
  0.9999,
  1 - 1e-12,
  1,
  1.1,
];
const TEMPERATURES = [0, 20, 45, 120, 240, 263.7, 300, 333.3, 415, 600, 1500, 9000];

test.each(LAWS)(
  "%s: rate and slopes are those of the law, at every cure and temperature",
  (_, spec) => {
    const [law, tabulated] = [makeRateLaw(spec), makeTabulatedRateLaw(spec)];
    const [exact, fast] = [new Float64Array(3), new Float64Array(3)];
    const off: string[] = [];
    for (const a of CURES)
      for (const T of TEMPERATURES) {
        law.evaluate(a, T, exact);
        tabulated.evaluate(a, T, fast);
        // what the slopes are differences of
        const inside = Math.min(Math.max(a, 1e-9), 1 - 1e-9);
        const scales = [
          exact[0]!,
          exact[0]! * (50 + 3 / Math.min(inside, 1 - inside)) + Math.abs(exact[1]!),
          Math.abs(exact[2]!) + exact[0]! / Math.max(T, 1),
        ];
        scales.forEach((scale, k) => {
          const is = Math.abs(fast[k]! - exact[k]!) <= 5e-10 * scale + 1e-90;
          if (!is) off.push(`${a} ${T}: ${k} ${fast[k]} for ${exact[k]}`);
        });
      }
    expect(off).toEqual([]);
  },
);

/** How many exponentials are worked out. */
function exponentials(run: () => void): number {
  const { exp } = Math;
  let count = 0;
  Math.exp = (x) => {
    count += 1;
    return exp(x);
  };
  try {
    run();
  } finally {
    Math.exp = exp;
  }
  return count;
}

test.each(LAWS)("%s: in a workshop no exponential is worked out", (_, spec) => {
  const law = makeTabulatedRateLaw(spec);
  const out = new Float64Array(3);
  const count = exponentials(() => {
    for (const a of [1e-6, 0.001, 0.3, 0.41, 0.9, 1 - 1e-6])
      for (const T of [260, 300, 350, 500]) law.evaluate(a, T, out);
  });
  expect(count).toBe(0);
});

test("one law has one set of tables, with its own constants", () => {
  const steep = makeTabulatedRateLaw({ law: "nth-order", A: 1e8, E: 7e4, n: 1 });
  const flat = makeTabulatedRateLaw({ law: "nth-order", A: 1e4, E: 4e4, n: 2.5 });
  const out = new Float64Array(3);
  for (const [law, A, E, n] of [
    [steep, 1e8, 7e4, 1],
    [flat, 1e4, 4e4, 2.5],
    [steep, 1e8, 7e4, 1],
  ] as const) {
    law.evaluate(0.4, 320, out);
    // by hand: A exp(-E / R T) (1 - a)^n
    const k = A * Math.exp(-E / (8.314462618 * 320)) * 0.6 ** n;
    expect(out[0]! / k).toBeCloseTo(1, 8);
    expect(out[1]! / ((-n * k) / 0.6)).toBeCloseTo(1, 8);
    expect(out[2]! / ((k * E) / (8.314462618 * 320 ** 2))).toBeCloseTo(1, 8);
  }
});

test.each(LAWS)("%s: at many places at once as at each", (_, spec) => {
  const law = makeTabulatedRateLaw(spec);
  const pairs = CURES.flatMap((a) => TEMPERATURES.map((T) => [a, T] as const));
  // the cures stand after other numbers, and are read backwards
  const cure = Float64Array.of(0.5, 0.5, ...pairs.map(([a]) => a));
  const T = Float64Array.from(pairs, ([, own]) => own);
  const last = pairs.length - 1;
  const places = makeRatePlaces(
    Int32Array.from(pairs, (_, b) => 2 + last - b),
    Int32Array.from(pairs, (_, b) => last - b),
  );
  evaluateAt(law, cure, T, places);
  const alone = makeRatePlaces(places.at, places.cells);
  evaluateAt({ evaluate: law.evaluate }, cure, T, alone);
  expect(places).toEqual(alone);
  const out = new Float64Array(3);
  law.evaluate(...pairs[7]!, out);
  expect([places.rate, places.byCure, places.byT].map((one) => one[last - 7])).toEqual([...out]);
});
