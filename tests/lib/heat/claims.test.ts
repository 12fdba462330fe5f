import { expect, test } from "vitest";
import { claims, heldOf } from "./claims.ts";

// the table of all: npm run bench claims, CLAIMS=long for 200 problems
test("errors are what the answer says: a sample of random layers", () => {
  const { holds, near } = heldOf(claims("layers", 40));
  expect(holds).toBeGreaterThanOrEqual(0.9);
  expect(near).toBeGreaterThanOrEqual(0.65);
}, 60_000);
