/** Runs of nested grids whose errors follow a power of the cell size: extrapolation leaves none, and says how much it trusts that. */
import { describe, expect, test } from "vitest";
import { errorReached, gridDistance } from "../../../lib/heat/grid-distance.ts";
import {
  errorLeft,
  gridOrder,
  merge,
  nestedRuns,
  valueErrorLeft,
} from "../../../lib/heat/merge.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { makeRunRecord, type RunRecord } from "../../../lib/heat/run-record.ts";

const TIMES = [10, 20, 50, 90];
const exact = {
  values: [310, 330, 345, 338],
  cures: [0.1, 0.3, 0.8, 0.999],
  crossing: 33,
  max: 346,
  maxTime: 55,
  min: 300,
  minTime: 7,
  stageEnds: [40, 100],
};
const slab = (more: Partial<HeatProblem> = {}) =>
  ({
    frame: "slab",
    materials: { m: { name: "m", conductivity: 1, density: 1, specificHeat: 1, cure: {} } },
    layers: [],
    boundary: {},
    stages: [],
    probes: { p: { kind: "point", x: 0 } },
    times: TIMES,
    crossings: [{ probe: "p", above: 340 }],
    ...more,
  }) as unknown as HeatProblem;

/** A run on cells of this size: everything is off by `off` times size to the power. */
function runOf(problem: HeatProblem, size: number, order = 2, off = 8): RunRecord {
  const by = off * size ** order;
  const found = makeRunRecord(problem, ["p"], 1e4);
  [...exact.values].forEach((v, k) => {
    found.values[0]![k] = v + by;
    found.cures[0]![k] = exact.cures[k]! + 1e-3 * by;
    found.holds[0]![k] = 1;
  });
  if (found.crossings.length > 0) {
    found.crossings[0] = exact.crossing + 0.1 * by;
    found.crossingSlopes[0] = 0.5;
    found.crossingErrors[0] = 0.02;
  }
  found.max[0] = exact.max + by;
  found.maxTime[0] = exact.maxTime + 0.1 * by;
  found.min[0] = exact.min - by;
  found.minTime[0] = exact.minTime + 0.01 * by;
  found.startMax[0] = 305;
  found.startMin[0] = 305;
  found.stageEnds.push(...exact.stageEnds.map((end) => end + 0.01 * by));
  found.flows.push(5 + by, 0, -5 - by, 0);
  found.trace.row(0, 0);
  found.trace.probe(300, 0, 300, 0);
  found.trace.row(100, 100);
  const slope = 0.01 * (38 + by);
  found.trace.probe(300, slope, 338 + by, slope);
  found.end = found.stageEnds[1]!;
  found.steps = 100 / size;
  found.rejected = 3;
  found.imbalance = size * 1e-12;
  found.timeError = 0.02;
  return found;
}
const EFFORT = { cells: 10, reached: 1, asked: null, limitedBy: null };
const merged = (problem: HeatProblem, ...sizes: number[]) => {
  const order = gridOrder(problem);
  const [fine, coarse, coarsest] = sizes.map((size) => runOf(problem, size, order));
  return merge(problem, ["p"], nestedRuns(problem, fine!, coarse, coarsest), EFFORT);
};
const round = {
  block: { width: 1, height: 1 },
  shapes: [{ outline: { kind: "ellipse" } }],
} as unknown as Partial<HeatProblem>;

describe("from two grids", () => {
  test.each([
    ["of second order along the grid", {}, 2],
    ["of a lower one where a curved outline is cut", round, 1.75],
    [
      "of second order where shapes lie along it",
      {
        block: {},
        shapes: [{ outline: { kind: "rectangle" } }],
      } as unknown as Partial<HeatProblem>,
      2,
    ],
  ])("the error is gone: %s", (_, more, order) => {
    const problem = slab(more);
    expect(gridOrder(problem)).toBe(order);
    const history = merged(problem, 0.5, 1);
    exact.values.forEach((v, k) => {
      expect(history.probes["p"]![k]).toBeCloseTo(v, 9);
      expect(history.cure["p"]![k]).toBeCloseTo(exact.cures[k]!, 9);
    });
    expect(history.crossings[0]!.time).toBeCloseTo(exact.crossing, 9);
    expect(history.extremes["p"]).toEqual({
      max: expect.closeTo(exact.max, 9),
      maxTime: expect.closeTo(exact.maxTime, 9),
      min: expect.closeTo(exact.min, 9),
      minTime: expect.closeTo(exact.minTime, 9),
    });
    expect(history.stageEnds.map((end) => Number(end.toFixed(9)))).toEqual(exact.stageEnds);
    expect(history.end).toBeCloseTo(100, 9);
    // effort: steps of both, the worse imbalance
    expect(history.effort).toMatchObject({
      steps: 300,
      rejected: 6,
      energyImbalance: 1e-12,
      timeError: 0.02,
      cells: 10,
    });
    expect(Array.from(history.trace.times)).toEqual([0, 100]);
    expect(Array.from(history.holds["p"]!)).toEqual([1, 1, 1, 1]);
    expect(history).not.toHaveProperty("flows");
  });
  test("from one grid all is what it found, with no error of the grid", () => {
    const problem = slab();
    const history = merged(problem, 0.5);
    expect(history.probes["p"]![0]).toBe(312);
    expect(history.extremes["p"]!.max).toBe(348);
    expect(history.effort).toMatchObject({ steps: 200, rejected: 3, gridError: 0 });
    expect(history.crossings[0]).toMatchObject({ time: 33.2, error: 0.04 });
  });
  test("wanted times come in the order in which they were given", () => {
    const times = [50, 10, 90, 20];
    const { probes, cure, times: told, holds } = merged(slab({ times }), 0.5, 1);
    expect(Array.from(told)).toEqual(times);
    expect(Array.from(probes["p"]!, (v) => Math.round(v))).toEqual([345, 310, 338, 330]);
    expect(cure["p"]![1]).toBeCloseTo(0.1, 9);
    expect(holds["p"]).toHaveLength(4);
  });
  test("flows of a steady state, by their sides", () => {
    const { flows } = merged(slab({ steady: true }), 0.5, 1);
    expect(Object.values(flows!).map((q) => Math.round(q * 1e6) / 1e6)).toEqual([5, 0, -5, 0]);
  });
  test("cure that would overshoot stays that of the finer grid", () => {
    const problem = slab();
    const [fine, coarse] = [runOf(problem, 0.5), runOf(problem, 1)];
    [0.99, 0.01, 0.5, 1].forEach((a, k) => {
      fine.cures[0]![k] = a;
      coarse.cures[0]![k] = a + (k === 0 ? -0.2 : 0.2);
    });
    const { cure } = merge(problem, ["p"], nestedRuns(problem, fine, coarse, undefined), EFFORT);
    expect(Array.from(cure["p"]!)).toEqual([
      0.99,
      0.01,
      expect.closeTo(0.5 - 0.2 / 3, 9),
      expect.closeTo(1 - 0.2 / 3, 9),
    ]);
  });
  test("nothing is extrapolated across the end of a stage that the grids reach at other times", () => {
    const problem = slab();
    const [fine, coarse] = [runOf(problem, 0.5), runOf(problem, 1)];
    const valuesOf = () =>
      merge(problem, ["p"], nestedRuns(problem, fine, coarse, undefined), EFFORT).probes["p"]!;
    // 20 s lies in other stages
    fine.stageEnds[0] = 19;
    coarse.stageEnds[0] = 21;
    expect(valuesOf()[1]).toBe(fine.values[0]![1]);
    expect(valuesOf()[0]).toBeCloseTo(310, 9);
    // nor is their difference an error of the grid
    const errorOf = () =>
      merge(problem, ["p"], nestedRuns(problem, fine, coarse, undefined), EFFORT).effort.gridError;
    const error = errorOf();
    fine.values[0]![1]! += 1000;
    expect(errorOf()).toBeCloseTo(error, 9);
    fine.values[0]![1]! -= 1000;
    // 29 s after 21 are more than five times the two between
    expect(valuesOf()[2]).toBeCloseTo(345, 9);
    // shortly after it the two are of different things
    fine.stageEnds[0] = 42;
    coarse.stageEnds[0] = 40;
    expect(valuesOf()[2]).toBe(fine.values[0]![2]);
    fine.stageEnds[0] = 41.5;
    coarse.stageEnds[0] = 40;
    expect(valuesOf()[2]).toBeCloseTo(345, 9);
    expect(valuesOf()[1]).toBeCloseTo(330, 9);
  });
});

describe("extremes", () => {
  const extremes = (change: (fine: RunRecord, coarse: RunRecord) => void) => {
    const problem = slab();
    const [fine, coarse] = [runOf(problem, 0.5), runOf(problem, 1)];
    change(fine, coarse);
    return merge(problem, ["p"], nestedRuns(problem, fine, coarse, undefined), EFFORT).extremes[
      "p"
    ]!;
  };
  test("that the bodies have at their start are no grid's", () => {
    expect(extremes((f) => f.startMax.fill(f.max[0]!)).max).toBe(348);
    expect(extremes((f) => f.startMin.fill(f.min[0]!)).min).toBe(298);
    // none falls short of what was there at the start
    expect(extremes((f) => f.startMax.fill(347)).max).toBe(347);
    expect(extremes((f) => f.startMin.fill(299)).min).toBe(299);
  });
  test("of a place that was empty are none; a lowest is not over the highest", () => {
    expect(
      extremes((f) => {
        f.max[0] = Number.NEGATIVE_INFINITY;
        f.min[0] = Number.POSITIVE_INFINITY;
      }),
    ).toEqual({
      max: Number.NEGATIVE_INFINITY,
      maxTime: 0,
      min: Number.POSITIVE_INFINITY,
      minTime: 0,
    });
    const level = extremes((f, c) => {
      f.max[0] = 310;
      c.max[0] = 313;
      f.min[0] = 309.9;
      f.startMin[0] = Number.POSITIVE_INFINITY;
      c.min[0] = 308;
      // it hardly moves
      for (const run of [f, c]) run.values[0]!.fill(309);
    });
    expect(level.max).toBeCloseTo(309, 9);
    expect(level.min).toBe(level.max);
  });
  test("keep their time within the stage in which the finer grid has them, and where the grids agree on it", () => {
    const timeOf = (fine: number, coarse: number) =>
      extremes((f, c) => {
        f.maxTime[0] = fine;
        c.maxTime[0] = coarse;
        f.stageEnds[0] = 40;
        f.stageEnds[1] = 100;
        f.end = 100;
      }).maxTime;
    expect(timeOf(55, 56)).toBeCloseTo(55 - 1 / 3, 9);
    // further apart than a twentieth they are of different peaks
    expect(timeOf(55, 60)).toBe(55);
    expect(timeOf(40.2, 41.8)).toBe(40);
    expect(timeOf(39.8, 38.2)).toBe(40);
    expect(timeOf(0, 3)).toBe(0);
    expect(timeOf(100, 97)).toBe(100);
    expect(timeOf(99.9, 97)).toBe(100);
  });
});

test("no value lies beyond the extremes that are told beside it", () => {
  const problem = slab();
  const [fine, coarse] = [0.5, 1].map((size) => runOf(problem, size));
  // a face that stays where the bodies met, and of which the coarse grid reads too little early
  for (const run of [fine!, coarse!]) {
    run.max[0] = run.startMax[0] = 360;
    run.min[0] = 300;
  }
  fine!.values[0]!.set([359, 355, 340, 361]);
  coarse!.values[0]!.set([350, 340, 341, 361]);
  const { probes, extremes } = merge(
    problem,
    ["p"],
    nestedRuns(problem, fine!, coarse, undefined),
    EFFORT,
  );
  // beyond them by extrapolation: the finer grid's own; within: extrapolated; the finer grid's itself beyond: they reach it
  expect([...probes["p"]!]).toEqual([359, 360, 340 - 1 / 3, 361]);
  expect(extremes["p"]!.max).toBe(361);
});

describe("what is left of the error", () => {
  test("of two grids 1.6 times what extrapolation moved; of three about half of what the last halving moved the extrapolated value by, and little of their difference", () => {
    const problem = slab();
    const two = nestedRuns(problem, runOf(problem, 0.5), runOf(problem, 1), undefined);
    expect(errorLeft(two, 312, 318, undefined)).toBeCloseTo((1.6 * 6) / 3, 9);
    expect(errorLeft(two, 318, 312, undefined)).toBeCloseTo(3.2, 9);
    const three = { ...two, coarsest: runOf(problem, 2) };
    // of the order that is taken, a little of the difference alone
    expect(errorLeft(three, 312, 318, 342)).toBeCloseTo(0.06 * 6, 9);
    // of first order: errors 1, 2, 4 times, extrapolated 300 2/3 after 301 1/3
    const first = errorLeft(three, 301, 302, 304);
    expect(first).toBeCloseTo((0.62 * 2) / 3 + 0.06, 9);
    // and never less than is left of orders between the first and the one taken: of 1.5 a fifth of the last error
    const [f, c, d] = [1, 2 ** 1.5, 8];
    expect(errorLeft(three, f, c, d)).toBeGreaterThan(Math.abs(f + (f - c) / 3));
    const section = nestedRuns(slab(round), two.fine, two.coarse, three.coarsest);
    expect(section.w).toBeCloseTo(1 / (2 ** 1.75 - 1), 12);
    expect(nestedRuns(problem, two.fine, undefined, undefined).w).toBe(0);
  });
  test("a probe in a cut cell has their whole difference, with two grids", () => {
    const problem = slab();
    const [fine, coarse, coarsest] = [0.5, 1, 2].map((size) => runOf(problem, size));
    const two = nestedRuns(problem, fine!, coarse, undefined);
    expect(valueErrorLeft(two, 0, 312, 318, undefined)).toBeCloseTo(3.2, 9);
    coarse!.isCut[0] = 1;
    expect(valueErrorLeft(two, 0, 312, 318, undefined)).toBe(6);
    expect(valueErrorLeft(two, 0, 318, 312, undefined)).toBe(6);
    coarse!.isCut[0] = 0;
    fine!.isCut[0] = 1;
    expect(valueErrorLeft(two, 0, 312, 318, undefined)).toBe(6);
    const three = nestedRuns(problem, fine!, coarse, coarsest);
    expect(valueErrorLeft(three, 0, 312, 318, 342)).toBeCloseTo(0.36, 9);
  });
  test("a mean that converges slowly has what further halvings would bring at the pace of the last ones", () => {
    const problem = slab();
    const [fine, coarse, coarsest] = [0.5, 1, 2].map((size) => runOf(problem, size));
    fine!.isMean[0] = 1;
    const two = nestedRuns(problem, fine!, coarse, undefined);
    const three = nestedRuns(problem, fine!, coarse, coarsest);
    // errors of orders 1/2 and 1: what extrapolation by order 2 leaves of them is said, no less
    for (const order of [0.5, 1]) {
      const [f, c, d] = [1, 2 ** order, 4 ** order].map((error) => 300 + error) as [
        number,
        number,
        number,
      ];
      const left = f + (f - c) / 3 - 300;
      expect(valueErrorLeft(three, 0, f, c, d)).toBeGreaterThan(left * (1 - 1e-9));
      expect(valueErrorLeft(two, 0, f, c, undefined)).toBeGreaterThan(left * (1 - 1e-9));
    }
    // of the order that is taken, as for any other; so with two grids that agree in what it has moved since it was 305
    expect(valueErrorLeft(three, 0, 312, 318, 342)).toBeCloseTo(0.06 * 6, 9);
    expect(valueErrorLeft(two, 0, 345, 346, undefined)).toBeCloseTo(1.6 / 3, 9);
  });
  const distance = (
    more: Partial<HeatProblem>,
    change: (f: RunRecord, c: RunRecord) => void = () => {},
  ) => {
    const problem = slab(more);
    const [fine, coarse] = [runOf(problem, 0.5, 2), runOf(problem, 1, 2)];
    change(fine, coarse);
    const pair = nestedRuns(problem, fine, coarse, undefined);
    const { effort } = merge(problem, ["p"], pair, EFFORT);
    return {
      ...gridDistance(problem, pair),
      told: effort.gridError,
      reached: errorReached(problem, pair),
    };
  };
  test("a run is as far off as its worst value, extreme or crossing", () => {
    expect(distance({})).toEqual({
      values: expect.closeTo(3.2, 9),
      marks: expect.closeTo(3.2, 9),
      told: expect.closeTo(3.2, 9),
      reached: expect.closeTo(3.22, 9),
    });
    const value = distance({}, (f) => {
      f.values[0]![2]! += 6;
    });
    expect(value.values).toBeCloseTo(3.2, 9);
    const worse = distance({}, (f) => {
      f.values[0]![2]! -= 6;
    });
    expect([worse.values, worse.told, worse.reached]).toEqual(
      [6.4, 6.4, 6.42].map((x) => expect.closeTo(x, 9)),
    );
    expect(worse.marks).toBeCloseTo(3.2, 9);
    for (const key of ["max", "min"] as const) {
      const mark = distance({}, (f, c) => {
        c[key][0] = f[key][0]! + 12;
      });
      expect([mark.marks, mark.told]).toEqual([6.4, 6.4].map((x) => expect.closeTo(x, 9)));
      expect(mark.values).toBeCloseTo(3.2, 9);
      // what the bodies have at the start has none
      const start = distance({}, (f, c) => {
        c[key][0] = f[key][0]! + 12;
        f[key === "max" ? "startMax" : "startMin"][0] = f[key][0]!;
      });
      expect(start.marks).toBeCloseTo(3.2, 9);
      // in a section the wanted times steer alone
      expect(
        distance({ block: {} } as never, (f, c) => {
          c[key][0] = f[key][0]! + 12;
        }).marks,
      ).toBe(0);
    }
    // a crossing: its time is off by 20 s, of 0.5 K/s
    const late = (f: RunRecord, c: RunRecord) => {
      c.crossings[0] = f.crossings[0]! + 30;
    };
    expect(distance({}, late).marks).toBeCloseTo((1.6 * 30 * 0.5) / 3, 9);
    expect(distance({ block: {} } as never, late).marks).toBe(0);
    expect(
      distance({}, (f, c) => {
        late(f, c);
        f.crossingSlopes[0] = -0.5;
      }).marks,
    ).toBeCloseTo(8, 9);
    for (const which of [0, 1])
      expect(
        distance({}, (f, c) => {
          late(f, c);
          [f, c][which]!.crossings[0] = null;
        }).marks,
      ).toBeCloseTo(3.2, 9);
    // of a steady state the highest counts as a value
    const steady = (f: RunRecord, c: RunRecord) => {
      c.max[0] = f.max[0]! + 12;
    };
    expect(distance({ steady: true }, steady).values).toBeCloseTo(6.4, 9);
    expect(distance({}, steady).values).toBeCloseTo(3.2, 9);
    // one grid tells nothing
    const problem = slab();
    const alone = nestedRuns(problem, runOf(problem, 1), undefined, undefined);
    expect(gridDistance(problem, alone)).toEqual({ values: 0, marks: 0 });
    expect(errorReached(problem, alone)).toBe(0.02);
  });
  test("a crossing's time has that of grid and steps; that of the finer grid alone is known to the end", () => {
    const crossing = (change: (f: RunRecord, c: RunRecord) => void = () => {}) => {
      const problem = slab();
      const [fine, coarse] = [runOf(problem, 0.5), runOf(problem, 1)];
      change(fine, coarse);
      return merge(problem, ["p"], nestedRuns(problem, fine, coarse, undefined), EFFORT)
        .crossings[0]!;
    };
    // 33.2 and 33.8; 0.02 K at 0.5 K/s
    expect(crossing()).toEqual({
      probe: "p",
      above: 340,
      time: expect.closeTo(33, 9),
      error: expect.closeTo(0.32 + 0.04, 9),
    });
    expect(crossing((f) => f.crossingSlopes.fill(0)).error).toBeCloseTo(0.32, 9);
    expect(crossing((f) => f.crossingSlopes.fill(-0.5)).error).toBeCloseTo(0.36, 9);
    expect(
      crossing((_, c) => {
        c.crossings[0] = null;
      }),
    ).toMatchObject({ time: 33.2, error: expect.closeTo(100.02 - 33.2 + 0.04, 9) });
    expect(
      crossing((f) => {
        f.crossings[0] = null;
      }),
    ).toEqual({ probe: "p", above: 340, time: null, error: 0 });
  });
});
