/** Moments of curves that have them in closed form. */
import { describe, expect, test } from "vitest";
import type { History } from "../../../../lib/heat/problem.ts";
import { fallsTo, highest, reaches } from "../../../../lib/models/pour/moments.ts";

/** A probe `p` that is read at some times. */
const historyOf = (times: readonly number[], f: (t: number) => number) =>
  ({
    trace: { times: Float64Array.from(times), probes: { p: Float64Array.from(times, f) } },
  }) as unknown as History;

const UNEVEN = [0, 1, 2.5, 3, 4.5, 7, 8, 11, 12];

describe("the highest", () => {
  test("of a parabola is its top, wherever it lies between the steps", () => {
    for (let top = 1.1; top < 10.5; top += 0.3) {
      const { value, time } = highest(
        historyOf(UNEVEN, (t) => 350 - 2 * (t - top) ** 2),
        "p",
      );
      expect(time).toBeCloseTo(top, 9);
      expect(value).toBeCloseTo(350, 9);
    }
  });
  test("of what only rises or only falls is its end", () => {
    expect(
      highest(
        historyOf(UNEVEN, (t) => t),
        "p",
      ),
    ).toEqual({ value: 12, time: 12 });
    expect(
      highest(
        historyOf(UNEVEN, (t) => -t),
        "p",
      ),
    ).toEqual({ value: -0, time: 0 });
  });
  test("after some time leaves out what was before", () => {
    // 10 at 2.5, then 4 at 8
    const two = historyOf(UNEVEN, (t) => Math.max(10 - (t - 2.5) ** 2, 4 - (t - 8) ** 2));
    expect(highest(two, "p")).toEqual({
      value: expect.closeTo(10, 0),
      time: expect.closeTo(2.5, 0),
    });
    // between the two it still falls from the first
    expect(highest(two, "p", 4.5).time).toBeCloseTo(8, 0);
    expect(highest(two, "p", 3).value).toBe(6);
    expect(highest(two, "p", 2.9).value).toBe(9.75);
    expect(highest(two, "p", 99)).toEqual({ value: -12, time: 12 });
  });
  test("of equal ones is the first", () => {
    const twice = historyOf([0, 1, 2, 3, 4], (t) => (t === 1 || t === 3 ? 5 : 0));
    expect(highest(twice, "p").time).toBe(1);
  });
});

describe("falling to a level", () => {
  const line = historyOf(UNEVEN, (t) => 100 - 5 * t);
  test("is told by the straight line between two steps", () => {
    for (let level = 41; level < 100; level += 3.7)
      expect(fallsTo(line, "p", level, 0)).toBeCloseTo((100 - level) / 5, 9);
  });
  test("not before it is asked from, and never where it does not", () => {
    expect(fallsTo(line, "p", 95, 6)).toBe(6);
    expect(fallsTo(line, "p", 70, 5.5)).toBeCloseTo(6, 9);
    expect(fallsTo(line, "p", 70, 6.5)).toBe(6.5);
    expect(fallsTo(line, "p", 39.9, 0)).toBeNull();
    expect(fallsTo(line, "p", 40, 0)).toBeCloseTo(12, 9);
    expect(fallsTo(line, "p", 100, 0)).toBe(0);
    expect(fallsTo(line, "p", 200, 0)).toBe(0);
    expect(fallsTo(line, "p", 70, 13)).toBeNull();
  });
  test("is the fall after it: an earlier one does not count", () => {
    const wave = historyOf([0, 1, 2, 3, 4, 5, 6], (t) => [9, 1, 9, 9, 5, 1, 1][t]!);
    expect(fallsTo(wave, "p", 3, 0)).toBeCloseTo(0.75, 9);
    expect(fallsTo(wave, "p", 3, 1.5)).toBeCloseTo(4.5, 9);
    expect(fallsTo(wave, "p", 3, 0.9)).toBeCloseTo(0.9, 9);
  });
});

describe("reaching a level", () => {
  const t = [1, 2, 4, 8, 16, 32];
  test("of a straight line over ratios of time is that line's own time", () => {
    const v = t.map((x) => 0.1 * Math.log2(x));
    for (let level = 0.01; level < 0.5; level += 0.03)
      expect(reaches(t, v, level)! / 2 ** (10 * level)).toBeCloseTo(1, 5);
  });
  test("at the first time, or between two of which the later has it", () => {
    const v = [0.2, 0.3, 0.5, 0.6, 0.6, 0.7];
    expect(reaches(t, v, 0.2)).toBe(1);
    expect(reaches(t, v, 0.1)).toBe(1);
    expect(reaches(t, v, 0.71)).toBeNull();
    for (const level of [0.21, 0.3, 0.4, 0.55, 0.65, 0.7]) {
      const at = reaches(t, v, level)!;
      const k = v.findIndex((x) => x >= level);
      expect(at).toBeGreaterThan(t[k - 1]! - 1e-9);
      expect(at).toBeLessThan(t[k]! * (1 + 1e-5));
    }
  });
  test("not before it is asked from", () => {
    const v = t.map((x) => 0.1 * Math.log2(x));
    expect(reaches(t, v, 0.15, 20)).toBe(32);
    expect(reaches(t, v, 0.15, 16)).toBe(16);
    expect(reaches(t, v, 0.31, 10)! / 10).toBeCloseTo(1, 9);
    expect(reaches(t, v, 0.35, 9)! / 2 ** 3.5).toBeCloseTo(1, 5);
    expect(reaches(t, v, 0.15, 33)).toBeNull();
  });
});
