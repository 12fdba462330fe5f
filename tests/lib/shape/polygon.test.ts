import { expect, test } from "vitest";
import type { Point } from "../../../lib/shape/outline.ts";
import { outlineFault } from "../../../lib/shape/outline-fault.ts";
import {
  evenlySpread,
  largestCircle,
  measuresOf,
  perimeterOf,
} from "../../../lib/shape/polygon.ts";

const triangle: Point[] = [
  [0, 0],
  [3, 0],
  [0, 4],
];

test("area, centroid, second moments and inscribed circle of a right triangle", () => {
  // by hand: centroid at a third of the legs; b^3 h / 36 about it; the circle's radius (a + b - c)/2
  const m = measuresOf(triangle);
  expect(m.area).toBeCloseTo(6, 12);
  expect(m.centroid[0]).toBeCloseTo(1, 12);
  expect(m.centroid[1]).toBeCloseTo(4 / 3, 12);
  expect(m.alongX).toBeCloseTo((4 * 3 ** 3) / 36, 12);
  expect(m.alongY).toBeCloseTo((3 * 4 ** 3) / 36, 12);
  expect(largestCircle(triangle).radius).toBeCloseTo(1, 2);
  expect(perimeterOf(triangle)).toBeCloseTo(12, 12);
});

test("a tiny outline far away is measured as well as a large one near by", () => {
  const small = triangle.map(([x, y]): Point => [0.5 + x * 1e-5, -0.5 + y * 1e-5]);
  expect(measuresOf(small).area / 6e-10).toBeCloseTo(1, 6);
  expect(largestCircle(small).radius / 1e-5).toBeCloseTo(1, 2);
});

test("spread evenly, an outline keeps its shape and turns counterclockwise", () => {
  const clockwise = [...triangle].reverse();
  const spread = evenlySpread(clockwise, 240);
  expect(spread).toHaveLength(240);
  expect(spread[0]).toEqual([3, 0]);
  expect(measuresOf(spread).area).toBeCloseTo(6, 2);
  let twice = 0;
  spread.forEach(([x, y], i) => {
    const [u, v] = spread[(i + 1) % 240]!;
    twice += x * v - u * y;
  });
  expect(twice).toBeGreaterThan(0);
});

test.each<[string, Point[], string, Point]>([
  [
    "bow tie",
    [
      [0, 0],
      [2, 2],
      [2, 0],
      [0, 2],
    ],
    "outline_crosses",
    [1, 1],
  ],
  [
    "drawn over itself",
    [
      [0, 0],
      [2, 0],
      [1, 0],
      [1, 1],
    ],
    "outline_crosses",
    [2, 0],
  ],
  [
    "touching itself",
    [
      [0, 0],
      [2, 0],
      [2, 2],
      [1, 0],
      [0, 2],
    ],
    "outline_crosses",
    [1, 0],
  ],
  [
    "a line there and back",
    [
      [0, 0],
      [1, 0],
      [2, 0],
    ],
    "outline_without_area",
    [0, 0],
  ],
  [
    "one point thrice",
    [
      [1, 1],
      [1, 1],
      [1, 1],
    ],
    "outline_without_area",
    [1, 1],
  ],
])("%s is refused with its place", (_, points, code, at) => {
  const fault = outlineFault(points);
  expect(fault?.code).toBe(code);
  expect(fault?.at[0]).toBeCloseTo(at[0], 9);
  expect(fault?.at[1]).toBeCloseTo(at[1], 9);
});

test("corners that repeat, and corners on a straight edge, are no fault", () => {
  expect(
    outlineFault([
      [0, 0],
      [1, 0],
      [1, 0],
      [2, 0],
      [2, 1],
      [0, 1],
      [0, 0],
    ]),
  ).toBeNull();
});
