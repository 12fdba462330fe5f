import { expect, test } from "vitest";
import { claims, heldOf } from "./claims.ts";

// the table of all: npm run bench claims, CLAIMS=long for 200 problems
test("errors are what the answer says: a sample of random layers", () => {
  const { holds, near, kept } = heldOf(claims("layers", 40));
  expect(holds).toBeGreaterThanOrEqual(0.95);
  expect(near).toBeGreaterThanOrEqual(0.8);
  expect(kept).toBeGreaterThanOrEqual(0.97);
}, 60_000);

test("errors are what the answer says: a few random slabs and sections that cure", () => {
  const { holds, near, kept } = heldOf(claims("curing", 6));
  expect(holds).toBe(1);
  expect(near).toBeGreaterThanOrEqual(0.6);
  expect(kept).toBe(1);
}, 120_000);

test("errors are what the answer says: a few random sections", () => {
  const { holds, near, kept } = heldOf(claims("sections", 6));
  expect(holds).toBe(1);
  expect(near).toBeGreaterThanOrEqual(0.8);
  expect(kept).toBe(1);
}, 60_000);
