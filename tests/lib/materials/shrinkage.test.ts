import { expect, test } from "vitest";
import { densityAt, linearContraction, sizeFactor } from "../../../lib/materials/shrinkage.ts";
import type { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const exactly = (value: number) => ({ value, low: value, high: value });

test("free contraction of plastisol to 20 degC", () => {
  // percent, worked out by hand from (1 - exp(-beta dT/3)), beta 6, 7, 8e-4; two digits after the point
  const rows: [number, number[]][] = [
    [60, [0.8, 0.93, 1.06]],
    [80, [1.19, 1.39, 1.59]],
    [100, [1.59, 1.85, 2.11]],
    [120, [1.98, 2.31, 2.63]],
    [150, [2.57, 2.99, 3.41]],
    [170, [2.96, 3.44, 3.92]],
  ];
  for (const [degC, percents] of rows)
    percents.forEach((percent, i) => {
      const share = linearContraction((6 + i) * 1e-4, degC + C, 20 + C);
      expect(Math.abs(100 * share - percent)).toBeLessThan(0.0051);
    });
});

test("density of hot plastisol", () => {
  // whole kg/m3, worked out by hand from 1063 at 20 degC with 7e-4
  const rows = [
    [60, 1034],
    [100, 1005],
    [140, 977],
    [170, 957],
    [180, 950],
  ];
  for (const [degC, rho] of rows)
    expect(Math.abs(densityAt(1063, 20 + C, 7e-4, degC + C) - rho)).toBeLessThan(0.6);
});

test("a chain of four castings: 3.6 % smaller", () => {
  // clay 0.7, condensation silicone 0.4, filled epoxy 0.2, plastisol 2.3 %: product 0.9643, by hand
  const factor = sizeFactor([0.007, 0.004, 0.002, 0.023].map(exactly));
  expect(factor.value).toBeCloseTo(0.9643, 4);
  expect(factor.low).toBe(factor.value);
  // a plaster step grows
  expect(sizeFactor([exactly(-0.002)]).value).toBeCloseTo(1.002, 12);
});

test("independent steps: the range is the root of the sum of squares", () => {
  const wide = (half: number) => ({ value: 0, low: -half, high: half });
  const { low, high } = sizeFactor([wide(0.003), wide(0.004)]);
  expect(low).toBeCloseTo(1 - 0.005, 12);
  expect(high).toBeCloseTo(1 + 0.005, 12);
});

test("impossible steps are refused with their places", () => {
  try {
    sizeFactor([exactly(0.01), { value: 0.3, low: 0.4, high: Number.NaN }]);
    expect.unreachable();
  } catch (error) {
    expect((error as InputError).problems.map((p) => p.path)).toEqual([
      "steps[1].value",
      "steps[1].low",
      "steps[1].high",
    ]);
  }
});
