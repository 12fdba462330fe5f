import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

/** Browser tests without a bound of time, which may run beside each other. */
const PAGES = [
  "axe",
  "bench",
  "card",
  "endless",
  "files",
  "keyboard",
  "many",
  "offline",
  "phone",
  "pictures",
  "stale",
  "timer",
  "units",
].map((name) => `tests/browser/${name}.test.ts`);
/** Strangers' sheets: they eat the memory that a second browser needs. */
const HOSTILE = "tests/browser/hostile.test.ts";
const browser = {
  environment: "node",
  globalSetup: ["./tools/site.ts"],
  testTimeout: 60_000,
  hookTimeout: 120_000,
  // a browser on a busy machine is late now and then: what fails twice fails
  retry: 1,
};
// by default one core is left to whoever watches; nobody does
const maxWorkers = "100%";

// Groups run one after the other; in a group the projects start in the order of their names, the longest first.
export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  test: {
    globals: false, // a global `it` shifts the marks of Observable Plot by half a pixel
    reporters: ["default", "./tools/ci-reporter.ts"],
    projects: [
      {
        extends: true,
        test: {
          name: "package",
          environment: "node",
          include: ["tests/package/**/*.test.ts"],
          globalSetup: ["./tools/built.ts"],
          sequence: { groupOrder: 0 },
          maxWorkers,
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          ...browser,
          name: "pages",
          include: PAGES,
          maxWorkers,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          ...browser,
          name: "hostile",
          include: [HOSTILE],
          maxWorkers,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: "node",
          environment: "node",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: ["tests/browser/**", "tests/package/**"],
          // modules without state of their own: loading mathjs once per worker and not once per file
          pool: "threads",
          isolate: false,
          maxWorkers,
          sequence: { groupOrder: 1 },
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          ...browser,
          name: "timed",
          include: ["tests/browser/**/*.test.{ts,tsx}"],
          exclude: [...PAGES, HOSTILE],
          fileParallelism: false,
          // alone: its bounds of frozen time mean nothing beside the other tests
          maxWorkers: 1,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
