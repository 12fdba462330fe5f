// Builds the command (dist/cli), the notebook's site (dist/site) and the library for those who install it (dist/lib).
// `node tools/build.js [cli|site|lib] [--force]`: without --force only what is older than its sources.
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { argv, env, execPath, kill, pid as ownPid } from "node:process";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("..", import.meta.url));

const TARGETS = {
  cli: {
    made: "dist/cli/run.js.code", // the last that is written
    config: "tools/vite.cli.config.ts",
    from: [
      ...["lib", "src/cli", "src/messages", "src/notebook", "src/sweep", "data", "notebooks"],
      "tools/compile-command.js",
    ],
  },
  site: {
    made: "dist/site/index.html",
    config: "tools/vite.site.config.ts",
    from: ["lib", "src", "data", "notebooks", "tools"],
  },
  lib: {
    made: "dist/lib/questions.d.ts", // the last that is written
    config: "tools/library.js",
    from: ["lib", "data"],
  },
};

/** Newest change below a file or folder, ms since the epoch; 0 when there is none. */
function newest(path) {
  const own = statSync(path, { throwIfNoEntry: false });
  if (!own?.isDirectory()) return own?.mtimeMs ?? 0;
  let latest = own.mtimeMs; // a removed file changes its folder
  for (const name of readdirSync(path)) latest = Math.max(latest, newest(`${path}/${name}`));
  return latest;
}

/** True when the target was never built, or a source is newer. */
export function isStale(name) {
  const { made, config, from } = TARGETS[name];
  const madeAt = newest(join(root, made));
  if (madeAt === 0) return true;
  return [config, "package.json", ...from].some((path) => newest(join(root, path)) > madeAt);
}

async function made(name) {
  if (name === "lib") {
    const { buildLibrary } = await import("./library.js");
    return await buildLibrary();
  }
  const { build: viteBuild } = await import("vite");
  // a test runner says "test" here, and the site would leave out what only a finished site does
  const before = env.NODE_ENV;
  env.NODE_ENV = "production";
  try {
    await viteBuild({ configFile: join(root, TARGETS[name].config), logLevel: "error" });
  } finally {
    if (before === undefined) delete env.NODE_ENV;
    else env.NODE_ENV = before;
  }
  if (name !== "cli") return;
  const { execFileSync } = await import("node:child_process");
  execFileSync(execPath, [join(root, "tools/compile-command.js")], { stdio: "inherit" });
}

const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

function isAlive(pid) {
  try {
    kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === "EPERM";
  }
}

/** Two builders of one target would write into each other's files: the second one waits. @returns how to let go */
async function locked(name) {
  const lock = join(root, `dist/.building-${name}`);
  mkdirSync(join(root, "dist"), { recursive: true });
  for (;;) {
    try {
      writeFileSync(lock, String(ownPid), { flag: "wx" });
      return () => rmSync(lock, { force: true });
    } catch (error) {
      if (error.code !== "EEXIST") throw error;
    }
    let owner = Number.NaN;
    try {
      owner = Number(readFileSync(lock, "utf8"));
    } catch {} // gone in between
    if (owner > 0 && !isAlive(owner)) rmSync(lock, { force: true });
    await pause(100);
  }
}

/** Builds the target; silent, but for errors on stderr. What another process has just built is left as it is. */
export async function build(name, { force = false } = {}) {
  const release = await locked(name);
  try {
    if (force || isStale(name)) await made(name);
  } finally {
    release();
  }
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  const words = argv.slice(2);
  const force = words.includes("--force");
  const names = words.filter((word) => word in TARGETS);
  for (const name of names.length > 0 ? names : Object.keys(TARGETS)) {
    if (!force && !isStale(name)) continue;
    const start = performance.now();
    await build(name, { force });
    console.log(`built ${name} in ${((performance.now() - start) / 1000).toFixed(1)} s`);
  }
}
