import fc from "fast-check";
import { expect, test } from "vitest";
import {
  movedTo,
  rangeOfShifts,
  scaledTo,
  spread,
  type Unsure,
} from "../../../lib/confidence/spread.ts";

interface Box {
  readonly a: number;
  readonly b: number;
}

const input = (name: keyof Box, width: number): Unsure<Box> => ({
  name,
  low: (box) => ({ ...box, [name]: box[name] - width }),
  high: (box) => ({ ...box, [name]: box[name] + width }),
});

test("a sum of independent inputs: the root of the sum of squares", () => {
  // Gauss's law for independent errors; exact for a linear result
  const [{ range, shifts }] = spread(
    { a: 10, b: 20 },
    [input("a", 3), input("b", 4)],
    ({ a, b }) => [a + b],
  ) as [ReturnType<typeof spread>[number]];
  expect(range).toEqual({ value: 30, low: 25, high: 35 });
  expect(shifts.map((s) => s.name)).toEqual(["b", "a"]);
});

test("a bent result has ends of its own on each side", () => {
  const [{ range }] = spread({ a: 2, b: 0 }, [input("a", 1)], ({ a }) => [a * a]) as [
    ReturnType<typeof spread>[number],
  ];
  expect(range).toEqual({ value: 4, low: 1, high: 9 });
});

test("inputs that matter less are run at one end and mirrored", () => {
  let runs = 0;
  spread(
    { a: 1, b: 1 },
    [input("a", 0.1), input("b", 0.5)],
    ({ a, b }) => {
      runs++;
      return [a + b];
    },
    { bothEnds: 1 },
  );
  // the case itself, both at their high ends, the larger at its low end
  expect(runs).toBe(4);
});

test("never stays never, with the soonest end that an input allows", () => {
  const never = Number.POSITIVE_INFINITY;
  const [{ range }] = spread({ a: 1, b: 0 }, [input("a", 1)], ({ a }) => [
    a > 1.5 ? 40 : never,
  ]) as [ReturnType<typeof spread>[number]];
  expect(range).toEqual({ value: never, low: 40, high: never });
  const [other] = spread({ a: 1, b: 0 }, [input("a", 1)], ({ a }) => [a > 1.5 ? never : 40]);
  expect(other!.range.high).toBe(never);
  expect(other!.range.low).toBeLessThanOrEqual(40);
});

test("however many inputs lead to never, the soonest end is one that was computed", () => {
  const names = ["a", "b", "c", "d", "e"] as const;
  type Five = Readonly<Record<(typeof names)[number], number>>;
  const given: Five = { a: 0, b: 0, c: 0, d: 0, e: 0 };
  const unsure = names.map(
    (name): Unsure<Five> => ({
      name,
      low: (five) => ({ ...five, [name]: -1 }),
      high: (five) => ({ ...five, [name]: 1 }),
    }),
  );
  const total = (five: Five) => names.reduce((sum, name) => sum + five[name], 0);
  // 100 - 4 sqrt(5): each lower end alone takes 4 off
  const [soon] = spread(given, unsure, (five) => [
    total(five) > 0.5 ? Number.POSITIVE_INFINITY : 100 + 4 * total(five),
  ]);
  expect(soon!.range.low).toBeCloseTo(100 - 4 * Math.sqrt(5), 9);
  expect(soon!.range.high).toBe(Number.POSITIVE_INFINITY);
  // never, but any one input at its low end brings an end, the last one the soonest
  const [late] = spread(given, unsure, (five) => [
    total(five) > -0.5 ? Number.POSITIVE_INFINITY : five.e < 0 ? 40 : 90,
  ]);
  expect(late!.range).toEqual({
    value: Number.POSITIVE_INFINITY,
    low: 40,
    high: Number.POSITIVE_INFINITY,
  });
});

test("low <= value <= high whatever the shifts, and both carried over", () => {
  const shift = fc.record({
    name: fc.constant("x"),
    low: fc.double({ min: -50, max: 50, noNaN: true }),
    high: fc.double({ min: -50, max: 50, noNaN: true }),
  });
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 1000, noNaN: true }),
      fc.array(shift, { maxLength: 12 }),
      fc.double({ min: 1, max: 1000, noNaN: true }),
      (value, shifts, other) => {
        for (const range of [
          rangeOfShifts(value, shifts),
          scaledTo(rangeOfShifts(value, shifts), other),
          movedTo(rangeOfShifts(value, shifts), other),
        ]) {
          expect(range.low).toBeLessThanOrEqual(range.value + 1e-9);
          expect(range.high).toBeGreaterThanOrEqual(range.value - 1e-9);
        }
      },
    ),
    { numRuns: 200, seed: 20261125 },
  );
});
