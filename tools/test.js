// Runs every test, the browser's included, and does the set-up for it: finds or unpacks a Chromium and
// sees that its system libraries are there. The last line printed is `vitest: N passed, N failed, N skipped`.
import { spawn, spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { execPath, exit, getuid } from "node:process";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { tsImport } from "tsx/esm/api";

const root = fileURLToPath(new URL("..", import.meta.url));
const LAST_LINE = /^vitest: \d+ passed, \d+ failed, \d+ skipped$/;

/** Debian's package for a shared library that Chromium may miss. */
const PACKAGES = [
  [/^libnss|^libsmime/, "libnss3"],
  [/^libnspr|^libplc|^libplds/, "libnspr4"],
  [/^libexpat/, "libexpat1"],
  [/^libasound/, "libasound2"],
  [/^libgbm/, "libgbm1"],
  [/^libX|^libxcb/, "libx11-xcb1"],
];

function stop(...lines) {
  console.error(lines.join("\n"));
  console.log("vitest: 0 passed, 1 failed, 0 skipped");
  exit(1);
}

/** Shared libraries that the program asks for and the system lacks. */
function missingLibraries(program) {
  const { stdout } = spawnSync("ldd", [program], { encoding: "utf8" });
  return [...(stdout ?? "").matchAll(/^\s*(\S+) => not found/gm)].map(([, name]) => name);
}

function runs(program) {
  return spawnSync(program, ["--version", "--no-sandbox"], { timeout: 30_000 }).status === 0;
}

async function findBrowser() {
  let program;
  try {
    const { chromiumPath } = await tsImport("./chromium.ts", import.meta.url);
    program = await chromiumPath();
  } catch (error) {
    stop(
      `No Chromium for the browser tests: ${error instanceof Error ? error.message : error}`,
      "Install one (Debian: apt-get install chromium) or set CHROMIUM_PATH to its program file.",
    );
  }
  if (runs(program)) return program;
  const missing = missingLibraries(program);
  const known = missing.flatMap((lib) =>
    PACKAGES.filter(([name]) => name.test(lib)).map(([, p]) => p),
  );
  const packages = [...new Set(["libnss3", "libnspr4", "libexpat1", ...known])];
  const install = `apt-get install -y --no-install-recommends ${packages.join(" ")}`;
  if (getuid?.() === 0 && existsSync("/usr/bin/apt-get")) {
    console.error(
      `Chromium misses ${missing.join(", ") || "system libraries"}; installing them:\n  ${install}`,
    );
    const quiet = { stdio: ["ignore", "ignore", "inherit"], shell: true };
    spawnSync(`apt-get update -qq && ${install} -qq`, {
      ...quiet,
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
    });
    if (runs(program)) return program;
  }
  const still = missingLibraries(program);
  return stop(
    `${program} does not start${still.length > 0 ? `: it misses ${still.join(", ")}` : ""}.`,
    `On Debian, as root: ${install}`,
    "Or set CHROMIUM_PATH to the program file of another Chromium.",
  );
}

/** What the tests would build one after the other before the first of them: on all cores, while the browser is looked for. */
function buildAll() {
  const builds = [["site"], ["cli", "lib"]].map(
    (names) =>
      new Promise((resolve) => {
        const builder = [join(root, "tools/build.js"), ...names];
        // what fails here fails once more, and is told, where it is needed
        spawn(execPath, builder, { stdio: "ignore" }).on("close", resolve).on("error", resolve);
      }),
  );
  return Promise.all(builds);
}

const words = process.argv.slice(2);
const built = words.length === 0 ? buildAll() : undefined;
const browser = words.includes("node") ? undefined : await findBrowser();
await built;
const color = process.stdout.isTTY ? { FORCE_COLOR: "1" } : {};
const child = spawn(
  execPath,
  [
    join(root, "node_modules/vitest/vitest.mjs"),
    "run",
    "--config",
    "tools/vitest.config.ts",
  ].concat(words.includes("node") ? ["--project", "node"] : words),
  {
    cwd: root,
    stdio: ["ignore", "pipe", "inherit"],
    env: { ...process.env, ...color, ...(browser && { CHROMIUM_PATH: browser }) },
  },
);
// Vitest may still print after its reporters are done: keep the count back until it has ended.
let count;
createInterface({ input: child.stdout }).on("line", (line) => {
  if (LAST_LINE.test(line)) count = line;
  else console.log(line);
});
child.on("close", (code) => {
  if (count === undefined) return stop("vitest ended without counting its tests");
  const failed = !/ 0 failed,/.test(count);
  console.log(count);
  exit(code !== 0 || failed ? code || 1 : 0);
});
