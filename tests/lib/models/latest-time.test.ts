/** The latest time that a falling surplus is still there, against curves whose end is known. */
import { describe, expect, test } from "vitest";
import { latestTime, NEARLY, ROUGHLY, USUAL_SLOPE } from "../../../lib/models/layer/latest-time.ts";

/** Surpluses over time that end at `end`, by shapes: K, against the logarithm of the time. */
const SHAPES = [
  ["straight", (x: number) => -15 * x],
  ["straight and steep", (x: number) => -60 * x],
  ["straight and even", (x: number) => -4 * x],
  ["bent down", (x: number) => -15 * x - 6 * x * Math.abs(x)],
  ["bent up", (x: number) => -20 * Math.tanh(x)],
  ["an exponential", (x: number) => 12 * (1 - Math.exp(x))],
  ["a step", (x: number) => -10 * Math.tanh(8 * x)],
] as const;

type Options = Partial<Parameters<typeof latestTime>[1]>;

function search(f: (t: number) => number, options: Options = {}) {
  const asked: number[] = [];
  const found = latestTime(
    (t) => {
      asked.push(t);
      return f(t);
    },
    {
      known: [],
      guess: 30,
      slope: USUAL_SLOPE,
      from: 0.4,
      to: 3600,
      nearly: 0,
      ends: false,
      ...options,
    },
  );
  return { ...found, asked };
}
const surplus = (shape: (x: number) => number, end: number) => (t: number) =>
  shape(Math.log(t / end));

describe.each(SHAPES)("of a surplus that is %s", (_, shape) => {
  test("the end is found from any guess, and its slope", () => {
    for (const end of [0.7, 4, 30, 33, 200, 3000])
      for (const guess of [0.1, 1, 29, 31, 100, 9999])
        for (const slope of [USUAL_SLOPE, 60, 3]) {
          const f = surplus(shape, end);
          const { t, slope: own, asked } = search(f, { guess, slope });
          const where = `${end} from ${guess}: ${t} in ${asked.length}`;
          // a surplus of 0.02 K is none; two looks within 4 % are as good as straight
          const off = Math.min(Math.abs(Math.log(t / end)) / 1.5e-3, Math.abs(f(t)) / 0.021);
          expect(off, where).toBeLessThan(1);
          expect(own, where).toBeGreaterThan(0);
          expect(asked.length, where).toBeLessThanOrEqual(18);
          for (const one of asked) {
            expect(one).toBeGreaterThanOrEqual(0.4);
            expect(one).toBeLessThanOrEqual(3600);
          }
        }
  });
  test("what is known already is made use of, and not asked beyond it", () => {
    const f = surplus(shape, 30);
    for (const known of [[28], [35], [20, 40], [5, 28, 33, 300], [29.5, 30.4], [60, 10]]) {
      const { t, asked } = search(f, { known, guess: 1 });
      const off = Math.min(Math.abs(Math.log(t / 30)) / 1.5e-3, Math.abs(f(t)) / 0.021);
      expect(off, `${known}: ${t}`).toBeLessThan(1);
      const below = Math.max(...known.filter((one) => one <= 30), 0.4);
      const above = Math.min(...known.filter((one) => one > 30), 3600);
      for (const one of asked.slice(known.length))
        if (known.length > 1) {
          expect(one).toBeGreaterThanOrEqual(below * 0.99);
          expect(one).toBeLessThanOrEqual(above * 1.01);
        }
    }
  });
  test("between two that are as good as straight nothing more is asked, in whatever order they are known", () => {
    const f = surplus(shape, 30);
    for (const known of [
      [29.5, 30.4],
      [30.4, 29.5],
      [30.4, 300, 10, 29.5, 3],
      [100, 29.9, 60, 30.9, 1, 2],
    ]) {
      const { t, slope, asked } = search(f, { known, guess: 1, slope: 0.01 });
      expect(asked).toHaveLength(known.length);
      expect(Math.abs(t / 30 - 1)).toBeLessThan(1e-3);
      const own = (f(29.5) - f(30.4)) / Math.log(30.4 / 29.5);
      expect(Math.abs(slope / own - 1)).toBeLessThan(0.1);
    }
    // the nearest of those that are not tells the slope: one look more, or two
    for (const known of [
      [90, 28, 5, 33],
      [33, 5, 28, 90],
    ])
      expect(search(f, { known, slope: 0.01 }).asked.length - known.length).toBeLessThanOrEqual(2);
    for (const known of [
      [40, 60, 90],
      [90, 40, 60],
      [5, 10, 20],
      [20, 5, 10],
    ]) {
      const { t, asked } = search(f, { known, slope: 0.01 });
      expect(Math.min(Math.abs(t / 30 - 1) / 1.5e-3, Math.abs(f(t)) / 0.021)).toBeLessThan(1);
      expect(asked.length - known.length, `${known}`).toBeLessThanOrEqual(9);
    }
  });
  test("roughly: within a percent and a half, with fewer looks", () => {
    for (const end of [4, 30, 200])
      for (const by of [0.9, 0.96, 1.03, 1.1]) {
        const f = surplus(shape, end);
        const guess = by * end;
        const exact = search(f, { guess });
        const rough = search(f, { guess, nearly: ROUGHLY });
        expect(rough.asked.length).toBeLessThanOrEqual(exact.asked.length);
        // along the slope that is expected: a straight line of that slope is met exactly
        const slope = (f(end * 0.995) - f(end * 1.005)) / Math.log(1.005 / 0.995);
        const own = search(f, { guess: end * (by > 1 ? 1.006 : 0.994), slope, nearly: NEARLY });
        expect(own.asked).toHaveLength(1);
        expect(Math.abs(own.t / end - 1)).toBeLessThan(1e-3);
      }
  });
});

test("a straight line whose slope is known takes one look more than the guess", () => {
  const f = surplus((x) => -15 * x, 30);
  for (const guess of [20, 25, 29, 31, 40]) {
    const { t, slope, asked } = search(f, { guess });
    expect(t).toBeCloseTo(30, 2);
    expect(slope).toBeCloseTo(15, 6);
    expect(asked.length).toBeLessThanOrEqual(2);
  }
  // where the guess is right already, one
  expect(search(f, { guess: 30 }).asked).toHaveLength(1);
  expect(search(f, { guess: 30.01 })).toMatchObject({
    t: expect.closeTo(30, 6),
    slope: USUAL_SLOPE,
  });
});

test("no time at all, or beyond what is looked at; where it is too cold beyond, its end", () => {
  for (const guess of [0.1, 0.4, 3, 1000]) {
    for (const slope of [USUAL_SLOPE, 0.5, 500]) {
      expect(search(() => -1, { guess, slope }).t).toBe(0);
      expect(
        search(
          surplus((x) => -15 * x, 0.39),
          { guess, slope },
        ).t,
      ).toBe(0);
      expect(search(() => 1, { guess, slope }).t).toBe(Number.POSITIVE_INFINITY);
      const late = surplus((x) => -15 * x, 3700);
      expect(search(late, { guess, slope }).t).toBe(Number.POSITIVE_INFINITY);
      expect(search(late, { guess, slope, ends: true }).t).toBe(3600);
      expect(search(() => 1, { guess, slope, ends: true, to: 77 }).t).toBe(77);
    }
  }
  // steps outwards grow: a few looks from one end to the other
  for (const [f, guess] of [
    [() => -20, 3600],
    [() => 20, 0.4],
  ] as const)
    expect(search(f, { guess }).asked.length).toBeLessThanOrEqual(9);
});

test("of a surplus that comes and goes an end is given at which it goes", () => {
  // there from 5 to 30 s, and again from 60 to 90 s
  const f = (t: number) =>
    Math.min(Math.max(5 - Math.abs(t - 17.5) * 0.4, 3 - Math.abs(t - 75) * 0.2), 4);
  for (const guess of [10, 20, 40, 70, 100]) {
    const { t } = search(f, { guess });
    if (t === 0 || t === Number.POSITIVE_INFINITY) continue;
    expect(Math.abs(f(t))).toBeLessThan(0.1);
    expect(f(t * 0.97)).toBeGreaterThan(f(t * 1.03));
  }
});

test("takes few looks: a regression of their number", () => {
  const looks = { guess: 0, known: 0, rough: 0 };
  let cases = 0;
  for (const [, shape] of SHAPES)
    for (const end of [0.7, 4, 30, 33, 200, 3000])
      for (const guess of [0.1, 1, 29, 31, 100, 9999]) {
        cases += 1;
        const f = surplus(shape, end);
        looks.guess += search(f, { guess }).asked.length;
        looks.rough += search(f, { guess, nearly: ROUGHLY }).asked.length;
        looks.known += search(f, { guess, known: [0.5 * end, 1.1 * end, 3 * end] }).asked.length;
      }
  expect(looks.guess / cases).toBeLessThan(8.75);
  expect(looks.known / cases).toBeLessThan(4.86);
  expect(looks.rough / cases).toBeLessThan(8.54);
});
