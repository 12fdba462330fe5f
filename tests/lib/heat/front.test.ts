/** A body that runs away from one face on is crossed by a front of reaction: the cells follow it, or the answer says that they did not. */
import { expect, test } from "vitest";
import { simulate } from "../../../lib/heat/simulate.ts";
import { notesOn } from "../../../lib/solve/notes.ts";
import { readSolveProblem } from "../../../lib/solve/solve.ts";
import { CURING_SLAB, curingSlab, curingSquare } from "../../bench/problems.ts";

interface Runaway {
  readonly heat: number; // J/kg
  readonly A: number; // 1/s
  readonly E: number; // J/mol
  readonly thickness: number; // m
  readonly start: number; // degC
  readonly ambient: number; // degC
  readonly h: number; // W/(m2 K)
}

const problemOf = ({ heat, A, E, thickness, start, ambient, h }: Runaway) => {
  const law = { law: "autocatalytic", A1: A / 1000, E1: E, A2: A, E2: E, m: 0.8, n: 1.5 };
  return readSolveProblem({
    frame: "slab",
    materials: {
      resin: {
        conductivity: 0.3,
        density: 1200,
        specificHeat: 1500,
        cure: { ...law, heat, initial: 0 },
      },
    },
    layers: [{ name: "resin", material: "resin", thickness, initial: start }],
    boundary: { left: { h, ambient }, right: "insulated" },
    until: 20_000,
    probes: { face: [0, "left"], middle: [thickness / 2], hot: { hottest: "resin" } },
  });
};

const WARM = { thickness: 0.05, start: 25, h: 10 };
const runaways: readonly Runaway[] = [
  { ...WARM, heat: 400e3, A: 8e5, E: 5e4, ambient: 25 },
  { ...WARM, heat: 400e3, A: 8e6, E: 6e4, start: 40, ambient: 20, h: 8 },
  { ...WARM, heat: 500e3, A: 5e7, E: 6.5e4, thickness: 0.08, start: 30, ambient: 90, h: 50 },
  { ...WARM, heat: 400e3, A: 8e5, E: 5e4, ambient: 150, h: 200 },
  { ...WARM, heat: 300e3, A: 1e8, E: 7e4, thickness: 0.04, start: 60, ambient: 140, h: 100 },
];

test.each(runaways)("what a lost front leaves open is said: %o", (given) => {
  const problem = problemOf(given);
  const finer = simulate({ ...problem, resolution: 24, tolerance: 1e-5, estimateGrid: false });
  const off = ({ extremes }: ReturnType<typeof simulate>) =>
    Math.max(
      ...Object.entries(extremes).map(([name, { max }]) =>
        Math.abs(max - finer.extremes[name]!.max),
      ),
    );
  for (const more of [{}, { grids: 3 }, { tolerance: 1e-3 }] as const) {
    const found = simulate({ ...problem, ...more });
    const { reached, gridError, frontError } = found.effort;
    expect(off(found)).toBeLessThan(reached);
    expect(gridError).toBeGreaterThanOrEqual(frontError);
    if (frontError > 0) expect(notesOn(found.effort).join()).toMatch(/front of reaction/);
  }
  const plain = simulate(problem);
  expect(plain.effort.frontError).toBeGreaterThan(100);
  // not an error that says nothing: no body is that far off its adiabatic temperature
  expect(plain.effort.frontError).toBeLessThanOrEqual((0.7 * given.heat) / 1500 + 1e-9);
});

test("cells that follow a front have lost nothing", () => {
  const [first] = runaways;
  const found = simulate({ ...problemOf(first!), tolerance: 1e-3 });
  expect(found.effort.frontError).toBe(0);
  expect(found.effort.cells).toBeGreaterThan(100);
});

test("a body that cures evenly has no front", () => {
  for (const problem of [curingSlab, curingSquare]) {
    const { effort } = simulate(readSolveProblem(problem));
    expect(effort.frontError).toBe(0);
  }
  const { extremes } = simulate(readSolveProblem(curingSlab));
  // @source tests/bench/problems.ts: independent solvers
  expect(Math.abs(extremes["center"]!.max - 273.15 - CURING_SLAB.peakC)).toBeLessThan(0.1);
});
