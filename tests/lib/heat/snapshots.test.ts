/** Pictures of the whole field: of one moment, temperature and cure alike. */
import { expect, test } from "vitest";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { simulate } from "../../../lib/heat/simulate.ts";

const HOUR = 3600;
const RATE = 1 / HOUR;
const TIMES = [0.1, 0.3, 1, 2.5, 6].map((h) => h * HOUR);

/** A resin whose rate does not depend on temperature: its cure is 1 - exp(-t / 1 h) everywhere. */
const resin = {
  name: "resin",
  conductivity: 0.2,
  density: 1100,
  specificHeat: 1600,
  cure: { law: makeRateLaw({ law: "nth-order", A: RATE, E: 0, n: 1 }), heat: 2e5, initial: 0 },
};
const clay = { name: "clay", conductivity: 0.5, density: 1700, specificHeat: 1150 };
const air = { kind: "exchange", h: 8, ambient: 293 } as const;

const line: HeatProblem = {
  frame: "slab",
  materials: { resin, clay },
  layers: [
    { name: "bed", material: "clay", thickness: 0.02, initial: 293 },
    { name: "pour", material: "resin", thickness: 0.03, initial: 293 },
  ],
  boundary: { left: air, right: air },
  stages: [{ until: 6 * HOUR }],
  probes: { hot: { kind: "hottest", region: "pour" } },
  snapshots: TIMES,
};

const section: HeatProblem = {
  frame: "section",
  materials: { resin, clay },
  block: { width: 0.06, height: 0.05, material: "clay", initial: 293 },
  shapes: [
    {
      name: "pour",
      outline: { kind: "rectangle", size: [0.04, 0.03], center: [0.03, 0.025] },
      material: "resin",
      initial: 293,
    },
  ],
  boundary: { left: air, right: air, top: air, bottom: air },
  stages: [{ until: 6 * HOUR }],
  probes: { hot: { kind: "hottest", region: "pour" } },
  snapshots: TIMES,
};

const isResin = (cure: number) => cure > 0;

test.each([
  ["a line", line],
  ["a section", section],
])("the cure in pictures of %s is that of their moments: 1 - exp(-kt)", (_, problem) => {
  const { snapshots } = simulate({ ...problem, tolerance: 1e-4 });
  expect(snapshots.map(({ time }) => time)).toEqual(TIMES);
  for (const { time, cure } of snapshots) {
    const cured = [...cure!].filter(isResin);
    expect(cured.length).toBeGreaterThan(4);
    for (const a of cured) expect(Math.abs(a - (1 - Math.exp(-RATE * time)))).toBeLessThan(5e-4);
  }
});

test("heat that has come out of an insulated pour is that of its cure, in the same picture", () => {
  const insulated = { kind: "insulated" } as const;
  const { snapshots } = simulate({ ...line, boundary: { left: insulated, right: insulated } });
  for (const { x, temperature, cure } of snapshots) {
    let warmed = 0;
    let released = 0;
    temperature.forEach((T, i) => {
      const width = x[i + 1] - x[i];
      const m = cure![i] > 0 ? resin : clay;
      warmed += width * m.density * m.specificHeat * (T - 293);
      released += width * resin.density * resin.cure.heat * cure![i];
    });
    expect(warmed / released).toBeCloseTo(1, 4);
  }
});

test("with every step, pictures stand at the end of each, the wanted times among them", () => {
  const every = simulate({ ...line, everyStep: true, estimateGrid: false });
  const times = every.snapshots.map(({ time }) => time);
  expect(times.length).toBe(every.effort.steps);
  expect(times).toEqual([...times].sort((a, b) => a - b));
  for (const wanted of TIMES) expect(times).toContain(wanted);
  expect(simulate(line).snapshots.length).toBe(TIMES.length);
});
