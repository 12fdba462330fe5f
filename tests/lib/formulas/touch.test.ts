import fc from "fast-check";
import { expect, test } from "vitest";
import { type TouchedMaterial, touchLimit, touchTime } from "../../../lib/formulas/touch.ts";
import { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const MATERIALS: TouchedMaterial[] = ["metal", "plastic", "water"];

test("published points: hot water", () => {
  // plumbing safety table after Moritz & Henriques 1947: second-degree burns
  const rows = [
    [7200, 45],
    [1200, 47],
    [900, 48],
    [480, 49],
    [120, 51],
    [17, 55],
    [3, 60],
  ];
  for (const [seconds, degC] of rows) {
    expect(touchLimit("water", seconds) - C).toBeCloseTo(degC, 9);
    expect(touchTime("water", degC + C) / seconds).toBeCloseTo(1, 6);
  }
});

test("published points: metal and plastic for a second, a minute, ten minutes, a shift", () => {
  // ISO 13732-1, lower edges (from memory)
  expect(touchLimit("metal", 1) - C).toBeCloseTo(65, 9);
  expect(touchLimit("plastic", 1) - C).toBeCloseTo(85, 9);
  expect(touchLimit("metal", 60) - C).toBeCloseTo(51, 9);
  for (const material of ["metal", "plastic"] as const) {
    expect(touchLimit(material, 600) - C).toBeCloseTo(48, 9);
    expect(touchLimit(material, 1e6) - C).toBeCloseTo(43, 9);
  }
});

test("hotter is shorter, and time and limit belong together", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...MATERIALS),
      fc.double({ min: 1, max: 28000, noNaN: true }),
      (material, duration) => {
        const T = touchLimit(material, duration);
        expect(touchLimit(material, duration * 1.1)).toBeLessThanOrEqual(T);
        expect(touchTime(material, T - 1e-9)).toBeGreaterThanOrEqual(
          Math.min(duration, 7200) * (1 - 1e-6),
        );
        expect(touchTime(material, T + 0.5)).toBeLessThan(duration);
      },
    ),
    { seed: 11 },
  );
  expect(touchTime("metal", 400)).toBe(0);
  expect(touchTime("plastic", 300)).toBe(Number.POSITIVE_INFINITY);
});

test("no time under a second, no impossible temperature", () => {
  expect(() => touchLimit("metal", 0.5)).toThrow(InputError);
  expect(() => touchTime("metal", Number.NaN)).toThrow(InputError);
});
