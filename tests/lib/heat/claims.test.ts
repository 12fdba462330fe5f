import { expect, test } from "vitest";
import { type HeatProblem, simulate } from "../../../lib/index.ts";
import {
  ELLIPSE_S,
  ellipseInBlock,
  LAYERED_SLAB_S,
  layeredSlab,
  problemOf,
} from "../../bench/problems.ts";
import { claims, heldOf, keptOf } from "./claims.ts";

// the table of all: npm run bench claims, CLAIMS=long for 200 problems
test("errors are what the answer says: a sample of random layers", () => {
  const all = claims("layers", 40);
  const temperatures = heldOf(all.map(({ temperature }) => temperature));
  expect(temperatures.holds).toBeGreaterThanOrEqual(0.95);
  expect(temperatures.near).toBeGreaterThanOrEqual(0.8);
  const crossings = heldOf(all.flatMap((claim) => claim.crossings));
  expect(crossings.holds).toBeGreaterThanOrEqual(0.95);
  expect(crossings.near).toBeGreaterThanOrEqual(0.8);
  expect(keptOf(all)).toBeGreaterThanOrEqual(0.97);
}, 60_000);

test("errors are what the answer says: a few random slabs and sections that cure", () => {
  const all = claims("curing", 6);
  const { holds, near } = heldOf(all.map(({ temperature }) => temperature));
  expect(holds).toBe(1);
  expect(near).toBeGreaterThanOrEqual(0.6);
  expect(keptOf(all)).toBe(1);
}, 120_000);

test("errors are what the answer says: a few random sections", () => {
  const all = claims("sections", 6);
  const { holds, near } = heldOf(all.map(({ temperature }) => temperature));
  expect(holds).toBe(1);
  expect(near).toBeGreaterThanOrEqual(0.8);
  expect(keptOf(all)).toBe(1);
}, 60_000);

// converged answers of independent solvers: see tests/bench/problems.ts
test.each([
  ["layers", layeredSlab, LAYERED_SLAB_S],
  ["an ellipse", ellipseInBlock(), ELLIPSE_S.perfect],
  ["an ellipse with a contact", ellipseInBlock(1000), ELLIPSE_S.film],
] as const)(
  "three grids know the error of a crossing to a factor of ten: %s",
  (_, json, seconds) => {
    const found = (more: Partial<HeatProblem>) => {
      const { crossings, effort } = simulate(problemOf(json, more));
      return { ...crossings[0]!, cells: effort.cells };
    };
    const three = found({ grids: 3 });
    const off = Math.abs(three.time! - seconds);
    expect(off).toBeLessThan(three.error);
    expect(three.error).toBeLessThan(10 * off);
    // of two no more than their difference is known
    const two = found({});
    expect(Math.abs(two.time! - seconds)).toBeLessThan(two.error);
    expect(two.error).toBeGreaterThan(5 * three.error);
    // a tolerance asks for the third by itself; a problem that must not have its cells makes do with two
    expect(found({ tolerance: 1e-2 }).cells).toBe(three.cells);
    expect(found({ grids: 3, mostCells: two.cells }).cells).toBe(two.cells);
  },
);
