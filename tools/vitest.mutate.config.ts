import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

// For mutated code: the tests of the engine, the cures, the models, and the cases of others. Those that read sources as text or
// run a program of their own would not see the mutation.
/** Fewer for a look at one file: `MUTATE_TESTS="tests/lib/cure/**"`. */
const ONLY = process.env["MUTATE_TESTS"];

export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  test: {
    globals: false,
    environment: "node",
    include: ONLY
      ? [`${ONLY}/*.test.ts`]
      : ["heat", "cure", "models", "formulas", "numerics", "solve"]
          .map((room) => `tests/lib/${room}/**/*.test.ts`)
          .concat("tests/lib/questions/**/*.test.ts", "tests/reference/*.test.ts"),
    testTimeout: 120_000,
  },
});
