import { expect, test } from "vitest";
import { claims, heldOf } from "./claims.ts";

// the table of all: npm run bench claims, CLAIMS=long for 200 problems
test("errors are what the answer says: a sample of random layers", () => {
  const { holds, near, kept } = heldOf(claims("layers", 40));
  expect(holds).toBeGreaterThanOrEqual(0.9);
  expect(near).toBeGreaterThanOrEqual(0.65);
  expect(kept).toBeGreaterThanOrEqual(0.97);
}, 60_000);

test("the tolerance of random curing slabs is kept, or told how far", () => {
  expect(heldOf(claims("curing slabs", 6)).kept).toBe(1);
}, 60_000);
