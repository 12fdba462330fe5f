/** Tables that reach as far as a run gets, and laws that end before. */
import { describe, expect, test } from "vitest";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { BeyondTables, withinTables } from "../../../lib/heat/reach.ts";
import { scaleOf } from "../../../lib/heat/scale.ts";
import type { Material } from "../../../lib/materials/material.ts";
import { InputError, type Problem } from "../../../lib/units/problem.ts";

const plain: Material = {
  name: "plain",
  conductivity: (T: number) => 0.2 + 1e-4 * T,
  density: 1000,
  specificHeat: 1500,
};
/** A conductivity that is zero at 227 and -173 degC, K: 500 and 100. */
const falling: Material = { ...plain, conductivity: (T: number) => (500 - T) * 1e-3 };
const rising: Material = { ...plain, specificHeat: (T: number) => T - 260 };

function problemOf(material: Material, more: Partial<HeatProblem> = {}): HeatProblem {
  return {
    frame: "slab",
    materials: { m: material, plain },
    layers: [
      { name: "a", material: "plain", thickness: 0.01, initial: 300 },
      { name: "b", material: "m", thickness: 0.01, initial: 400 },
    ],
    boundary: {},
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  };
}
/** Runs that get to these temperatures, one after the other; what each could read. */
function reaching(problem: HeatProblem, ...gets: number[]) {
  const seen: { low: number; high: number }[] = [];
  const left = [...gets];
  const answer = withinTables(problem, scaleOf(problem), (properties) => {
    const tables = [...properties.values()];
    seen.push({
      low: Math.max(...tables.map((one) => one.T0)),
      high: Math.min(...tables.map((one) => one.Tlast)),
    });
    const T = left.shift();
    if (T !== undefined) throw new BeyondTables(T);
    return "done";
  });
  expect(answer).toBe("done");
  return seen;
}
function refused(call: () => unknown): readonly Problem[] {
  try {
    call();
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
  return [];
}

test("a run that gets beyond its tables is run again with some that reach there and half as far again", () => {
  expect(reaching(problemOf(plain))).toHaveLength(1);
  const up = reaching(problemOf(plain), 900, 2500);
  expect(up).toHaveLength(3);
  // the run's span is 600 K: half of it and 50 K more
  expect(up[1]!.high).toBeGreaterThanOrEqual(900 + 350);
  expect(up[1]!.high).toBeLessThan(900 + 351);
  expect(up[2]!.high).toBeGreaterThanOrEqual(2500 + 1150);
  expect(up[1]!.low).toBeLessThanOrEqual(290);
  const down = reaching(problemOf(plain), 150);
  expect(down[1]!.low).toBeLessThanOrEqual(150 - 175 + 27);
  expect(down[1]!.low).toBeGreaterThan(0);
  expect(reaching(problemOf(plain), 20)[1]!.low).toBeCloseTo(1, 6);
});

test("what no law of conduction answers, and any other error, is passed on", () => {
  const problem = problemOf(plain);
  const run = (error: unknown) => () =>
    withinTables(problem, scaleOf(problem), () => {
      throw error;
    });
  expect(run(new BeyondTables(20_001))).toThrow(BeyondTables);
  expect(run(new TypeError("other"))).toThrow(TypeError);
  expect(new BeyondTables(512)).toMatchObject({ T: 512, name: "BeyondTables" });
});

describe("a law that is not above zero where the problem gets", () => {
  test("is refused with the key, how far it holds and how far it is needed", () => {
    const [up, ...rest] = refused(() => reaching(problemOf(falling), 530));
    expect(rest).toEqual([]);
    expect(up).toMatchObject({ code: "law_not_positive", path: "materials.m.conductivity" });
    // 500 K is 226.85 degC, 530 K 256.9 degC
    expect(Number.parseFloat(up!.most!)).toBeCloseTo(226.6, 0);
    expect(Number.parseFloat(up!.least!)).toBeCloseTo(256.9, 1);
    expect(Math.abs(Number(up!.given))).toBeLessThan(1e-3);
    const [down, ...others] = refused(() => reaching(problemOf(rising), 255));
    expect(others).toEqual([]);
    expect(down).toMatchObject({ path: "materials.m.specificHeat" });
    expect(Number.parseFloat(down!.most!)).toBeCloseTo(-12.9, 0);
    expect(Number.parseFloat(down!.least!)).toBeCloseTo(-18.15, 1);
  });
  test("matters only where the problem gets, and for what it uses, refills with it", () => {
    expect(refused(() => reaching(problemOf(falling), 499))).toEqual([]);
    const layers = problemOf(falling).layers!.map((one) => ({ ...one, material: "plain" }));
    expect(refused(() => reaching(problemOf(falling, { layers }), 530))).toEqual([]);
    const refill = { name: "a", temperature: 300, material: "m" };
    const stages = [{ until: 1, refill: [{ name: "a", temperature: 300 }, refill] }];
    expect(refused(() => reaching(problemOf(falling, { layers, stages }), 530))).toHaveLength(1);
    const { layers: _none, ...rest } = problemOf(falling);
    const outline = { kind: "rectangle", size: [1, 1], center: [1, 1] } as const;
    const shapes = [{ name: "s", material: "m", initial: 300, outline }];
    const section = (block: string, own: readonly (typeof shapes)[number][]): HeatProblem => ({
      ...rest,
      frame: "section",
      block: { width: 4, height: 4, material: block, initial: 300 },
      shapes: own,
    });
    expect(refused(() => reaching(section("plain", shapes), 530))).toHaveLength(1);
    expect(refused(() => reaching(section("m", []), 530))).toHaveLength(1);
    expect(refused(() => reaching(section("plain", []), 530))).toEqual([]);
  });
});
