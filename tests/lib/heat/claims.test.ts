import { expect, test } from "vitest";
import { claims, heldOf } from "./claims.ts";

// the table of all: npm run bench claims, CLAIMS=long for 200 problems
test.each([
  ["layers", 40, 0.65],
  ["curing", 6, 0.3],
] as const)(
  "errors are what the answer says: a sample of random %s",
  (kind, count, nearby) => {
    const { holds, near, kept } = heldOf(claims(kind, count));
    expect(holds).toBeGreaterThanOrEqual(0.9);
    expect(near).toBeGreaterThanOrEqual(nearby);
    expect(kept).toBeGreaterThanOrEqual(0.97);
  },
  60_000,
);
