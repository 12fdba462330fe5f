import { expect, test } from "vitest";
import { linearAt } from "../../../lib/numerics/linear.ts";

test("linear between points, level beyond them, the later value where two stand at one place", () => {
  const [x, y] = [
    [0, 1, 1, 3],
    [2, 4, 6, 0],
  ];
  expect([-1, 0, 0.5, 2, 3, 9].map((at) => linearAt(x, y, at))).toEqual([2, 2, 3, 3, 0, 0]);
  expect(linearAt([5], [7], 1)).toBe(7);
});
