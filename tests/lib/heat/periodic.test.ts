import { expect, test } from "vitest";
import { type HeatProblem, makeRepeat, periodic } from "../../../lib/index.ts";

const ZERO = 273.15;
const air = { kind: "exchange", h: 10, ambient: 22 + ZERO } as const;

/** 12 mm of plastisol between two 40 mm molds, shot anew every 300 s. */
const slab: HeatProblem = {
  frame: "slab",
  materials: {
    m: { name: "m", conductivity: 0.9, density: 1700, specificHeat: 1100 },
    p: {
      name: "p",
      conductivity: 0.16,
      density: 1000,
      specificHeat: { T: [ZERO, ZERO + 300], value: [1500, 2250] },
    },
  },
  layers: [
    { name: "left", material: "m", thickness: 0.04, initial: 25 + ZERO, contact: 2000 },
    { name: "bait", material: "p", thickness: 0.012, initial: 175 + ZERO, contact: 2000 },
    { name: "right", material: "m", thickness: 0.04, initial: 25 + ZERO },
  ],
  boundary: { left: air, right: air },
  stages: [{ until: 300, refill: [{ name: "bait", temperature: 175 + ZERO }] }],
  probes: {
    wall: { kind: "face", region: "left", neighbor: "bait", of: "hottest" },
    hottest: { kind: "hottest", region: "bait" },
  },
};

const openUntil = (limit: number): HeatProblem => ({
  ...slab,
  stages: [
    {
      until: 9000,
      refill: [{ name: "bait", temperature: 175 + ZERO }],
      stop: { probe: "hottest", below: limit + ZERO },
    },
    { until: 18_000, lasts: 60, absent: ["bait"], exposed: air },
  ],
});

const section: HeatProblem = {
  frame: "section",
  materials: slab.materials,
  block: { width: 0.06, height: 0.05, material: "m", initial: 25 + ZERO },
  shapes: [
    {
      name: "bait",
      outline: { kind: "ellipse", axes: [0.02, 0.014], center: [0.03, 0.025] },
      material: "p",
      initial: 175 + ZERO,
      contact: 1000,
    },
  ],
  boundary: { left: air, right: air, top: air, bottom: air },
  stages: [
    {
      until: 9000,
      refill: [{ name: "bait", temperature: 175 + ZERO }],
      stop: { probe: "hottest", below: 65 + ZERO },
    },
    { until: 18_000, lasts: 60, absent: ["bait"], exposed: air },
  ],
  probes: {
    wall: { kind: "face", region: "block", neighbor: "bait", of: "hottest" },
    hottest: { kind: "hottest", region: "bait" },
  },
  estimateGrid: false,
};

test("slab shot every 300 s: the periodic peak of the cavity face, and the first ones on the way", () => {
  // converged with three solvers (BDF, Radau, Rosenbrock) on refined grids: 153.3414 degC; shot by shot 68.657, 92.709,
  // 103.941, 111.303, 116.957
  const fine = periodic({ ...slab, resolution: 4, tolerance: 1e-6 }, { within: 1e-3 });
  expect(fine.history.extremes["wall"]!.max - ZERO).toBeCloseTo(153.3414, 2);
  const found = periodic(slab);
  expect(Math.abs(found.history.extremes["wall"]!.max - ZERO - 153.3414)).toBeLessThan(0.06);
  expect(found.cycles).toBeLessThan(20);
  const repeat = makeRepeat({ ...slab, resolution: 4, tolerance: 1e-6 });
  for (const peak of [68.65734, 92.7089, 103.9408, 111.3031, 116.9566])
    expect(repeat.next().extremes["wall"]!.max - ZERO).toBeCloseTo(peak, 2);
});

test.each([
  ["fixed time", slab],
  ["ends at 65 degC", openUntil(65)],
  ["ends at 90 degC", openUntil(90)],
])("direct periodic state equals 200 shots one after the other, slab, %s", (_, problem) => {
  const found = periodic(problem);
  const repeat = makeRepeat(problem);
  let repeated = repeat.next();
  for (let k = 1; k < 200; k++) repeated = repeat.next();
  const [a, b] = [found.history, repeated];
  // both stop on steps of their own: the times agree to what the tolerance of the steps leaves
  expect(Math.abs(a.extremes["wall"]!.max - b.extremes["wall"]!.max)).toBeLessThan(0.01);
  expect(Math.abs(a.stageEnds[0]! / b.stageEnds[0]! - 1)).toBeLessThan(3e-4);
});

test("direct periodic state equals 200 shots one after the other to 0.1 K, section", () => {
  const found = periodic(section);
  const repeat = makeRepeat(section);
  let repeated = repeat.next();
  for (let k = 1; k < 200; k++) repeated = repeat.next();
  const [a, b] = [found.history, repeated];
  expect(Math.abs(a.extremes["wall"]!.max - b.extremes["wall"]!.max)).toBeLessThan(0.1);
  expect(Math.abs(a.stageEnds[0]! / b.stageEnds[0]! - 1)).toBeLessThan(2e-3);
  expect(found.cycles).toBeLessThan(20);
}, 60_000);

test("a periodic state does not depend on where the mold starts", () => {
  const warm = slab.layers!.map((l) => ({
    ...l,
    initial: l.name === "bait" ? l.initial : 120 + ZERO,
  }));
  const a = periodic(slab).history.extremes["wall"]!.max;
  const b = periodic({ ...slab, layers: warm }).history.extremes["wall"]!.max;
  expect(Math.abs(a - b)).toBeLessThan(0.02);
});

test("a search that begins where one has ended runs few cycles, says how many, and gives the same twice", () => {
  const first = periodic(slab);
  const before = JSON.stringify(first.left);
  let runs = 0;
  let last = Number.POSITIVE_INFINITY;
  const counted: HeatProblem = {
    ...slab,
    // each cycle begins at 0 again
    follow: ({ time }) => {
      if (time < last) runs++;
      last = time;
    },
  };
  const again = periodic(counted, { from: first.left });
  expect(again.cycles).toBe(runs);
  expect(again.cycles).toBeLessThan(first.cycles);
  expect(JSON.stringify(first.left)).toBe(before);
  const twice = periodic(slab, { from: first.left });
  expect(twice).toEqual(again);
  const peaks = [first, again].map(({ history }) => history.extremes["wall"]!.max);
  expect(Math.abs(peaks[1] - peaks[0])).toBeLessThan(0.02);
});
