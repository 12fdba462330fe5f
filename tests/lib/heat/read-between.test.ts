/**
 * What probes read between the steps: values and cures, of every kind of probe, against closed forms. A wrong
 * rate at the end of a step is seen nowhere else.
 */
import { describe, expect, test } from "vitest";
import {
  cureAfter,
  type HeatProblem,
  makeRateLaw,
  makeTabulatedRateLaw,
  type Probe,
  simulate,
} from "../../../lib/index.ts";

const K = 273.15;
const SPEC = {
  law: "autocatalytic",
  A1: 1e4,
  E1: 55e3,
  A2: 8.28e5,
  E2: 5e4,
  m: 0.8,
  n: 1.4,
} as const;
const law = makeRateLaw(SPEC);
const START = 60 + K;
const UNTIL = 900;

/** Resin that sets next to no heat free (0.7 mK), beside a wall as warm: it cures as at one temperature. */
const coldResin = {
  resin: {
    name: "resin",
    conductivity: 0.5,
    density: 1200,
    specificHeat: 1500,
    cure: { law: makeTabulatedRateLaw(SPEC), heat: 1, initial: 0.02 },
  },
  wall: { name: "wall", conductivity: 2, density: 2000, specificHeat: 900 },
};
const times = Array.from({ length: 101 }, (_, k) => (k * UNTIL) / 100);
const common = {
  materials: coldResin,
  boundary: {},
  stages: [{ until: UNTIL }],
  times,
  // nothing to resolve in space
  estimateGrid: false,
  tolerance: 1e-6,
} as const;

const probesOf = (x: number, y?: number): Record<string, Probe> => ({
  "a place": { kind: "point", x, ...(y === undefined ? {} : { y }) },
  mean: { kind: "mean", region: "resin" },
  hottest: { kind: "hottest", region: "resin" },
  coldest: { kind: "coldest", region: "resin" },
  face: { kind: "face", region: "resin", neighbor: "wall", of: "mean" },
  "hottest of the face": { kind: "face", region: "resin", neighbor: "wall", of: "hottest" },
  "coldest of the face": { kind: "face", region: "resin", neighbor: "wall", of: "coldest" },
});

const layered: HeatProblem = {
  ...common,
  frame: "slab",
  layers: [
    { name: "resin", material: "resin", thickness: 0.01, initial: START },
    { name: "wall", material: "wall", thickness: 0.01, initial: START },
  ],
  probes: {
    ...probesOf(0.004),
    "the outer face": { kind: "point", x: 0 },
    "the resin's side of the face": { kind: "point", x: 0.01, side: "left" },
  },
};

const section: HeatProblem = {
  ...common,
  frame: "section",
  block: { width: 0.03, height: 0.03, material: "wall", initial: START },
  shapes: [
    {
      name: "resin",
      outline: { kind: "rectangle", size: [0.0113, 0.0127], center: [0.0157, 0.0143] },
      material: "resin",
      initial: START,
    },
  ],
  probes: Object.fromEntries(
    Object.entries(probesOf(0.014, 0.0135)).map(([name, probe]) => [
      name,
      "neighbor" in probe ? { ...probe, neighbor: "block" } : probe,
    ]),
  ),
};

describe.each([
  ["layers", layered],
  ["a section", section],
])("resin almost without heat in %s cures as at one temperature", (_name, problem) => {
  const names = Object.keys(problem.probes);
  const found = simulate(problem);
  const expected = times.map((t) => cureAfter(law, START, t, 0.02));

  test.each(names)("%s: at every time that is asked for", (name) => {
    expect(expected[100]).toBeGreaterThan(0.6);
    times.forEach((t, k) => {
      expect(Math.abs(found.cure[name]![k]! - expected[k]!), `${t} s`).toBeLessThan(2e-4);
      expect(Math.abs(found.probes[name]![k]! - START)).toBeLessThan(1e-3);
    });
  });
});

test("no crossing that was not asked for is answered", () => {
  expect(simulate(layered).crossings).toEqual([]);
});

/** Complex numbers as [real, imaginary]. */
type Complex = readonly [number, number];
const times2 = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
const over = (a: Complex, [c, d]: Complex): Complex => {
  const [re, im] = times2(a, [c, -d]);
  return [re / (c * c + d * d), im / (c * c + d * d)];
};

/**
 * Swing of a plate, insulated behind, over that of the air before it: h cosh(q x) / (h cosh(q L) + k q sinh(q L)),
 * q = sqrt(i w / a), x from the insulated face. Carslaw & Jaeger, section 3.6 with a film.
 */
function swing(x: number, L: number, h: number, k: number, a: number, w: number): Complex {
  const s = Math.sqrt(w / (2 * a));
  const q: Complex = [s, s];
  const cosh = (y: number): Complex => [
    Math.cosh(s * y) * Math.cos(s * y),
    Math.sinh(s * y) * Math.sin(s * y),
  ];
  const sinh = (y: number): Complex => [
    Math.sinh(s * y) * Math.cos(s * y),
    Math.cosh(s * y) * Math.sin(s * y),
  ];
  const [top, film] = [cosh(x), cosh(L)];
  const flow = times2(q, sinh(L));
  return over([h * top[0], h * top[1]], [h * film[0] + k * flow[0], h * film[1] + k * flow[1]]);
}

test.each([200, 5000])(
  "a plate that swings through a film of %d W/(m2 K): its face and its back, between the steps",
  (h) => {
    const [L, k, density, specificHeat] = [0.01, 1, 1500, 1200];
    const period = 600;
    const w = (2 * Math.PI) / period;
    const until = 10 * period;
    const asked = Array.from({ length: 240 }, (_, i) => until - period + (i * period) / 240);
    const found = simulate({
      frame: "slab",
      materials: { m: { name: "m", conductivity: k, density, specificHeat } },
      layers: [{ name: "plate", material: "m", thickness: L, initial: 20 + K }],
      boundary: {
        left: { kind: "insulated" },
        right: { kind: "exchange", h, ambient: (t: number) => 20 + K + 10 * Math.sin(w * t) },
      },
      stages: [{ until }],
      times: asked,
      tolerance: 1e-4,
      probes: { back: { kind: "point", x: 0 }, face: { kind: "point", x: L } },
    });
    for (const [name, x] of [
      ["back", 0],
      ["face", L],
    ] as const) {
      const [re, im] = swing(x, L, h, k, k / (density * specificHeat), w);
      const exact = (t: number) => 20 + K + 10 * (re * Math.sin(w * t) + im * Math.cos(w * t));
      for (const [i, t] of asked.entries())
        expect(Math.abs(found.probes[name]![i]! - exact(t)), `${name} ${t}`).toBeLessThan(
          Math.max(found.effort.asked!, found.effort.reached),
        );
    }
  },
);
