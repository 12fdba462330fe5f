/** The state that a cycle leaves as it found it, of cycles that are formulas: the fixed point is known, and each cycle is counted. */
import { describe, expect, test } from "vitest";
import type { Integrator } from "../../../lib/heat/integrator.ts";
import { periodicOf } from "../../../lib/heat/periodic.ts";
import type { Repeat } from "../../../lib/heat/repeat.ts";
import { NoConvergence } from "../../../lib/units/problem.ts";

/** One cycle: new temperatures from those before; `k` counts the cycles from 0. */
type Cycle = (T: readonly number[], k: number) => readonly number[];

interface Made {
  readonly repeat: Repeat;
  /** By grid, the finest first: whether each run began afresh. */
  readonly runs: readonly boolean[][];
  readonly integrators: readonly Integrator[];
}

const [LOWEST, HIGHEST] = [250, 500];

/** Grids of one row that repeat a cycle; `active` says which cells keep anything. */
function repeatOf(cycle: Cycle, start: readonly number[], active = start.map(() => 1)): Made {
  return repeatOn([{ cycle, start, active, nx: start.length, ny: 1 }]);
}
interface GivenGrid {
  readonly cycle: Cycle;
  readonly start: readonly number[];
  readonly active: readonly number[];
  readonly nx: number;
  readonly ny: number;
}
function repeatOn(grids: readonly GivenGrid[]): Made {
  const runs: boolean[][] = grids.map(() => []);
  const integrators = grids.map(({ cycle, start, active, nx, ny }, g) => {
    const cellT = Float64Array.from(start);
    const lines = (n: number) => Float64Array.from({ length: n + 1 }, (_, i) => i);
    const middles = (n: number) => Float64Array.from({ length: n }, (_, i) => i + 0.5);
    return {
      cellT,
      op: {
        cells: start.length,
        active: Uint8Array.from(active),
        grid: { nx, ny, x: lines(nx), y: lines(ny), xc: middles(nx), yc: middles(ny) },
      },
      run(fresh: boolean) {
        cellT.set(cycle([...(fresh ? start : cellT)], runs[g]!.length));
        runs[g]!.push(fresh);
        return { end: 100, number: runs[g]!.length };
      },
    } as unknown as Integrator;
  });
  const repeat = {
    integrators,
    scale: { lowest: LOWEST, highest: HIGHEST },
    joined: (found: unknown) => found,
  } as unknown as Repeat;
  return { repeat, runs, integrators };
}

/** A linear cycle around a fixed point: each mode is kept by its share, and spread over the cells. */
function linear(shares: readonly number[], fixed: readonly number[]): Cycle {
  const n = shares.length;
  // rows of a rotation by reflections: I - 2 v v', its own inverse
  const v = fixed.map((_, k) => k + 1);
  const size = v.reduce((sum, a) => sum + a * a, 0);
  const turn = (x: readonly number[]) => {
    const along = x.reduce((sum, a, k) => sum + a * v[k]!, 0);
    return x.map((a, k) => a - (2 * v[k]! * along) / size);
  };
  return (T) => {
    const modes = turn(T.map((t, k) => t - fixed[k]!)).map((m, k) => m * (shares[k % n] ?? 0));
    return turn(modes).map((m, k) => fixed[k]! + m);
  };
}
const FIXED = [340, 352, 361, 349];

describe("a linear cycle", () => {
  test.each([
    { shares: [0, 0, 0, 0], most: 3 },
    { shares: [0.9, 0, 0, 0], most: 4 },
    { shares: [0.99, 0.6, 0, 0], most: 5 },
    { shares: [0.99, 0.9, 0.5, 0], most: 6 },
    { shares: [0.995, 0.9, 0.6, 0.2], most: 8 },
    { shares: [-0.8, 0.97, 0.3, -0.2], most: 8 },
  ])(
    "of modes $shares: its fixed point within $most cycles, one for each mode and two more",
    ({ shares, most }) => {
      const { repeat, runs, integrators } = repeatOf(linear(shares, FIXED), [330, 335, 340, 345]);
      const { cycles, change, history, left } = periodicOf(repeat, { within: 1e-7 });
      expect(cycles).toBeLessThanOrEqual(most);
      expect(runs[0]).toEqual([true, ...Array.from({ length: cycles - 1 }, () => false)]);
      expect(change).toBeLessThan(1e-7);
      integrators[0]!.cellT.forEach((T, k) => {
        expect(Math.abs(T - FIXED[k]!)).toBeLessThan(1e-4);
      });
      // the last cycle is what is told
      expect(history).toEqual([{ end: 100, number: cycles }]);
      expect(left.flatMap(({ temperature }) => temperature)).toEqual([...integrators[0]!.cellT]);
    },
  );
  test("is asked for as near as it is wanted: by default to 5 mK", () => {
    const run = (within?: number) => {
      const made = repeatOf(linear([0.97, 0.8, 0.5, 0.3], FIXED), [330, 335, 340, 345]);
      return periodicOf(made.repeat, within === undefined ? {} : { within });
    };
    expect(run()).toEqual(run(0.005));
    expect(run().change).toBeLessThan(0.005);
    expect(run(1e-9).cycles).toBeGreaterThan(run(1).cycles);
  });
  test("that starts at its fixed point is believed after one more cycle", () => {
    const { repeat } = repeatOf(linear([0.9, 0.8, 0.7, 0.6], FIXED), FIXED);
    expect(periodicOf(repeat)).toMatchObject({ cycles: 2, change: expect.closeTo(0, 9) });
  });
  test("cells that keep nothing are left alone, and no sign of a change", () => {
    const cycle: Cycle = ([a, b], k) => [350 + 0.5 * (a! - 350), 300 + 20 * (k % 2) + 0 * b!];
    const { repeat, integrators } = repeatOf(cycle, [330, 300], [1, 0]);
    expect(periodicOf(repeat).cycles).toBeLessThanOrEqual(4);
    expect(integrators[0]!.cellT[0]).toBeCloseTo(350, 4);
  });
});

test("from a state that is known the first cycle counts, and is not run afresh", () => {
  const cycle = linear([0.97, 0.8, 0.5, 0.3], FIXED);
  const first = periodicOf(repeatOf(cycle, [330, 335, 340, 345]).repeat, { within: 1e-6 });
  const { repeat, runs } = repeatOf(cycle, [330, 335, 340, 345]);
  const again = periodicOf(repeat, { within: 1e-6, from: first.left });
  expect(again.cycles).toBeLessThanOrEqual(3);
  expect(runs[0]).toEqual(Array.from({ length: again.cycles }, () => false));
});

test("the finer grid starts from what the coarser has found, cell by cell", () => {
  const asked: (readonly number[])[] = [];
  const still = [311, 322, 333, 344, 355, 366];
  const fine: Cycle = (T) => {
    asked.push(T);
    return T;
  };
  const none = Array.from({ length: 24 }, () => 300);
  const { repeat, runs } = repeatOn([
    { cycle: fine, start: none, active: none.map(() => 1), nx: 6, ny: 4 },
    { cycle: (T) => T, start: still, active: still.map(() => 1), nx: 3, ny: 2 },
  ]);
  const { cycles } = periodicOf(repeat);
  const [low, high] = [
    [311, 311, 322, 322, 333, 333],
    [344, 344, 355, 355, 366, 366],
  ];
  expect(asked[0]).toEqual([...low, ...low, ...high, ...high]);
  expect(runs[1]![0]).toBe(true);
  expect(runs[0]!.some((fresh) => fresh)).toBe(false);
  expect(cycles).toBe(runs[0]!.length + runs[1]!.length);
  // of one row only along it
  const row = repeatOn([
    { cycle: fine, start: none.slice(0, 6), active: none.slice(0, 6).map(() => 1), nx: 6, ny: 1 },
    { cycle: (T) => T, start: [311, 322, 333], active: [1, 1, 1], nx: 3, ny: 1 },
  ]);
  asked.length = 0;
  periodicOf(row.repeat);
  expect(asked[0]).toEqual(low);
});

test("the largest change of all grids is told", () => {
  const near =
    (by: number): Cycle =>
    ([T]) => [350 + by + 0 * T!];
  const wobble =
    (amplitude: number): Cycle =>
    (_, k) => [350 + amplitude * (k % 2)];
  for (const [fine, coarse] of [
    [0.004, 0.001],
    [0.001, 0.004],
  ] as const) {
    const { repeat } = repeatOn([
      { cycle: wobble(fine), start: [340, 340], active: [1, 0], nx: 2, ny: 1 },
      { cycle: wobble(coarse), start: [340], active: [1], nx: 1, ny: 1 },
    ]);
    expect(periodicOf(repeat).change).toBeCloseTo(0.004, 9);
  }
  expect(periodicOf(repeatOf(near(0), [340]).repeat).change).toBe(0);
});

test("a guess goes no further than 40 K, and not beyond the temperatures of the problem", () => {
  const seen: number[] = [];
  const climb: Cycle = ([T]) => {
    seen.push(T!);
    return [T! + Math.min(0.01 * (480 - T!), 1.5)];
  };
  periodicOf(repeatOf(climb, [300]).repeat, { within: 1e-6 });
  expect(seen.at(-1)).toBeCloseTo(480, 3);
  seen.slice(1).forEach((T, i) => {
    expect(Math.abs(T - seen[i]!)).toBeLessThanOrEqual(1.5 + 40 + 1e-9);
  });
  seen.length = 0;
  const beyond: Cycle = ([T]) => {
    seen.push(T!);
    return [T! + 0.05 * (520 - T!)];
  };
  // where cycles themselves lead beyond, they are followed
  expect(periodicOf(repeatOf(beyond, [300]).repeat, { most: 12 }).change).toBeLessThan(0.005);
  expect(seen.at(-1)).toBeGreaterThan(519);
  expect(Math.max(...seen.slice(0, 12))).toBe(HIGHEST);
});

test("where cycles swing by turns, none nearer than the other, the last is taken with its swing", () => {
  const [twos, threes] = [
    [0.05, -0.05],
    [0.05, -0.03, -0.02],
  ] as const;
  const cycle: Cycle = ([a, b], k) => [
    350 + 0.2 * (a! - 350) + twos[k % 2]!,
    360 + 0.3 * (b! - 360) + threes[k % 3]!,
  ];
  const { repeat, runs } = repeatOf(cycle, [340, 340]);
  const found = periodicOf(repeat, { most: 10 });
  expect(found.change).toBeGreaterThan(0.005);
  expect(found.change).toBeLessThan(0.2);
  expect(found.cycles).toBe(runs[0]!.length);
  // ten guesses, then until the six states of the swing are back
  expect(found.cycles).toBeGreaterThanOrEqual(11 + 6);
  expect(found.cycles).toBeLessThan(11 + 6 + 12);
});

test("a drift, however slow, and a swing that is too wide are none", () => {
  const counts = (cycle: Cycle) => {
    const { repeat, runs } = repeatOf(cycle, [340, 340]);
    try {
      periodicOf(repeat, { most: 10 });
    } catch (error) {
      expect(error).toBeInstanceOf(NoConvergence);
      expect(error).toMatchObject({ where: "periodic state", time: 100 });
      return runs[0]!.length;
    }
    return 0;
  };
  // the first, ten guesses and 600 plain ones
  expect(counts(([a, b]) => [a! + 0.01, b! + 0.01])).toBe(611);
  expect(counts((_, k) => [350 + (k % 2), 340 + (k % 3)])).toBe(611);
});
