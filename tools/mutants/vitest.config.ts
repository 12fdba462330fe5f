import { existsSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const root = fileURLToPath(new URL("../..", import.meta.url));
const work = process.env["MUTANTS"] ?? "";
const beside = (name: string) => fileURLToPath(new URL(name, import.meta.url));

// The tests as one: their `vitest` is a list of what they declare, the code that they test has the drawn mutants in it, and keeps
// nothing from one test to the next.
export default defineConfig({
  root,
  plugins: [
    {
      name: "placed-mutants",
      enforce: "pre",
      resolveId: (id, importer) =>
        id === "vitest" && importer?.includes("/tests/")
          ? beside("declared.ts")
          : id.endsWith("/memoized.ts") && !importer?.includes("/tools/mutants/")
            ? beside("memoized.ts")
            : undefined,
      load(id) {
        const placed = join(work, "code", relative(root, id.split("?")[0] ?? id));
        return existsSync(placed) ? readFileSync(placed, "utf8") : undefined;
      },
    },
  ],
  test: {
    environment: "node",
    include: ["tools/mutants/meet.test.ts"],
    testTimeout: 24 * 3600 * 1000,
    pool: "forks",
    maxWorkers: 1,
  },
});
