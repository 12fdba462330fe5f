import { expect, test } from "vitest";
import { leftIn, startFrom } from "../../../lib/heat/left-state.ts";
import { makeRepeat } from "../../../lib/heat/repeat.ts";
import { type HeatProblem, type Side, simulate } from "../../../lib/index.ts";

const K = 273.15;
const air = { kind: "exchange", h: 40, ambient: 20 + K } as const;
/** Nothing in it is its own mirror image. */
const section: HeatProblem = {
  frame: "section",
  materials: { m: { name: "m", conductivity: 0.5, density: 1500, specificHeat: 1000 } },
  block: { width: 0.04, height: 0.03, material: "m", initial: 20 + K },
  shapes: [
    {
      name: "hot",
      outline: { kind: "ellipse", axes: [0.012, 0.008], center: [0.014, 0.011] },
      material: "m",
      initial: 170 + K,
    },
  ],
  boundary: Object.fromEntries((["left", "right", "top", "bottom"] as Side[]).map((s) => [s, air])),
  stages: [{ until: 60 }],
  estimateGrid: false,
  probes: { m: { kind: "mean", region: "block" } },
};

test("what a section left is taken up in its like cell by cell, and in other cells place by place, never beyond its reach", () => {
  const [from] = makeRepeat(section).integrators;
  from!.run(true);
  const left = leftIn(from!);
  const everywhere = { lowest: 0, highest: 1e4 };
  const [like] = makeRepeat(section).integrators;
  startFrom(left, like!, everywhere);
  for (const [i, T] of from!.cellT.entries()) expect(like!.cellT[i]).toBeCloseTo(T, 9);

  const [finer] = makeRepeat({ ...section, resolution: 1.7 }).integrators;
  startFrom(left, finer!, everywhere);
  const { grid } = finer!.op;
  expect(grid.nx).toBeGreaterThan(like!.op.grid.nx);
  // the same field on other cells: as its probes read it
  const places = [0.013, 0.021, 0.031].flatMap((x) => [0.009, 0.016, 0.024].map((y) => ({ x, y })));
  const read = simulate({
    ...section,
    times: [60],
    probes: Object.fromEntries(places.map((p, i) => [`${i}`, { kind: "point", ...p }])),
  });
  for (const [k, { x, y }] of places.entries()) {
    const i = grid.xc.findIndex((c) => c > x);
    const j = grid.yc.findIndex((c) => c > y);
    const near = [i - 1, i].flatMap((a) => [j - 1, j].map((b) => finer!.cellT[b * grid.nx + a]!));
    const T = read.probes[`${k}`]![0]!;
    // between the cells around, by what a row of the other grid is off
    expect(T).toBeGreaterThan(Math.min(...near) - 6);
    expect(T).toBeLessThan(Math.max(...near) + 6);
  }

  startFrom(left, like!, { lowest: 25 + K, highest: 45 + K });
  expect(Math.min(...like!.cellT)).toBe(25 + K);
  expect(Math.max(...like!.cellT)).toBe(45 + K);
});
