/** `npm run check` within `npm test`: a clean checkout that passes its tests has no type error and no lint either. */
import { spawnSync } from "node:child_process";
import { execPath } from "node:process";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));

function run(program: string, ...words: string[]): string {
  const { status, stdout, stderr } = spawnSync(execPath, [`node_modules/${program}`, ...words], {
    cwd: root,
    encoding: "utf8",
  });
  return status === 0 ? "" : `${stdout}${stderr}` || "it did not start";
}

test("the types fit", () => {
  expect(run("typescript/bin/tsc", "-b")).toBe("");
}, 180_000);

test("format and lint are clean", () => {
  const own = ["lib", "src", "tests", "tools", "bin"];
  expect(
    run("@biomejs/biome/bin/biome", "check", "--colors=off", "--diagnostic-level=error", ...own),
  ).toBe("");
}, 120_000);
