/** Values at wanted times, at the first instant and between steps. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import {
  type Boundary,
  type HeatProblem,
  InputError,
  readSolveProblem,
  simulate,
  solve,
} from "../../../lib/index.ts";

const mold = { conductivity: 0.9, density: 1700, specificHeat: 1100 };
const plastisol = { conductivity: 0.16, density: 1000, specificHeat: "1500 + 2.5*T" };

const slab = (times: readonly number[]) => ({
  frame: "slab",
  materials: { mold },
  layers: [{ name: "m", material: "mold", thickness: 0.01, initial: 100 }],
  boundary: { right: { h: 50, ambient: 20 } },
  probes: { c: [0] },
  until: 100,
  times,
});

test("what is handed out has memory of its own: a caller may hand it on to another thread", () => {
  const times = Array.from({ length: 20 }, (_, k) => 5 * (k + 1));
  const { probes, trace, times: told } = simulate(readSolveProblem(slab(times)));
  for (const list of [probes["c"]!, trace.times, trace.probes["c"]!, told])
    expect(list.buffer.byteLength).toBe(list.byteLength);
});

test("times come back in the order given", () => {
  const given = [100, 10, 50, 10];
  const shuffled = solve(slab(given));
  const rising = solve(slab([10, 50, 100]));
  expect(shuffled.times).toEqual(given);
  const at = (t: number) => rising.probes["c"]?.[rising.times.indexOf(t)] ?? 0;
  given.forEach((t, k) => {
    expect(shuffled.probes["c"]?.[k]).toBeCloseTo(at(t), 3);
  });
});

test("a time after the end is refused", () => {
  const file = new URL("../../reference/problems/times-after-until.json", import.meta.url);
  expect(() => solve(JSON.parse(readFileSync(file, "utf8")))).toThrow(InputError);
});

const ellipse = (resolution: number, contact?: number) => ({
  frame: "section",
  materials: { mold, plastisol },
  block: { width: 0.08, height: 0.06, material: "mold", initial: 25 },
  shapes: [
    {
      name: "bait",
      ellipse: [0.028, 0.016],
      center: [0.04, 0.03],
      material: "plastisol",
      initial: 175,
      ...(contact === undefined ? {} : { contact }),
    },
  ],
  probes: {
    wall: [0.04, 0.022, "left"],
    face: { face: "block", neighbor: "bait" },
    mean: "bait",
    hottest: { hottest: "bait" },
  },
  until: 1,
  resolution,
  times: [0],
});

test.each([0.5, 1, 1.7])("the first instant is not the grid's, resolution %d", (resolution) => {
  // converged answer of independent general-purpose solvers: 69.24664 at 0+
  const touching = solve(ellipse(resolution));
  expect(touching.probes["wall"]?.[0]).toBeCloseTo(69.24664, 2);
  expect(touching.probes["face"]?.[0]).toBeCloseTo(69.24664, 2);
  expect(touching.probes["mean"]?.[0]).toBeCloseTo(175, 9);
  expect(touching.probes["hottest"]?.[0]).toBeCloseTo(175, 9);
  expect(Math.abs((touching.extremes["hottest"]?.max ?? 0) - 175)).toBeLessThan(0.05);
  const apart = solve(ellipse(resolution, 1000));
  expect(apart.probes["wall"]?.[0]).toBeCloseTo(25, 9);
  expect(apart.extremes["face"]?.min).toBeCloseTo(25, 9);
});

test("two bodies of constant properties meet at the temperature between, weighed by their effusivities", () => {
  // Carslaw & Jaeger, section 2.8
  const steel = { conductivity: 45, density: 7850, specificHeat: 470 };
  const e1 = Math.sqrt(45 * 7850 * 470);
  const e2 = Math.sqrt(0.9 * 1700 * 1100);
  const { probes, extremes } = solve({
    frame: "slab",
    materials: { mold, steel },
    layers: [
      { name: "s", material: "steel", thickness: 0.02, initial: 20 },
      { name: "m", material: "mold", thickness: 0.02, initial: 120 },
    ],
    probes: { i: [0.02] },
    until: 1,
    times: [0],
  });
  const between = (e1 * 20 + e2 * 120) / (e1 + e2);
  expect(probes["i"]?.[0]).toBeCloseTo(between, 6);
  expect(Math.abs((extremes["i"]?.max ?? 0) - between)).toBeLessThan(0.5);
});

test("a boundary that moves takes the same steps where it stands in the problem and in its only stage", () => {
  const swinging: Boundary = {
    kind: "exchange",
    h: 200,
    ambient: (t) => 300 + 10 * Math.sin(t / 50),
  };
  const base: HeatProblem = {
    frame: "slab",
    materials: { m: { name: "m", conductivity: 1, density: 1500, specificHeat: 1200 } },
    layers: [{ name: "plate", material: "m", thickness: 0.01, initial: 300 }],
    boundary: { right: swinging },
    stages: [{ until: 1000 }],
    times: [1000],
    probes: { face: { kind: "point", x: 0.01 } },
  };
  const inStage = simulate({
    ...base,
    boundary: {},
    stages: [{ until: 1000, boundary: { right: swinging } }],
  });
  const inProblem = simulate(base);
  expect(inStage.effort).toEqual(inProblem.effort);
  expect(inStage.probes["face"]![0]).toBe(inProblem.probes["face"]![0]);
});
