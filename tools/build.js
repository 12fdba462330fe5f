// Builds the command (dist/cli/main.js, one file) and the site (dist/site).
// `node tools/build.js [cli|site] [--force]`: without --force only what is older than its sources.
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { argv, env } from "node:process";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("..", import.meta.url));

const TARGETS = {
  cli: {
    made: "dist/cli/main.js",
    config: "tools/vite.cli.config.ts",
    from: ["lib", "src/cli", "src/messages", "src/notebook", "data", "notebooks"],
  },
  site: {
    made: "dist/site/index.html",
    config: "tools/vite.site.config.ts",
    from: ["lib", "src", "data", "notebooks", "tools"],
  },
};

/** Newest change below a file or folder, ms since the epoch; 0 when there is none. */
function newest(path) {
  if (!existsSync(path)) return 0;
  const own = statSync(path);
  if (!own.isDirectory()) return own.mtimeMs;
  let latest = own.mtimeMs; // a removed file changes its folder
  for (const name of readdirSync(path)) latest = Math.max(latest, newest(join(path, name)));
  return latest;
}

/** True when the target was never built, or a source is newer. */
export function isStale(name) {
  const { made, config, from } = TARGETS[name];
  const built = join(root, made);
  if (!existsSync(built)) return true;
  const madeAt = statSync(built).mtimeMs;
  return [config, "package.json", ...from].some((path) => newest(join(root, path)) > madeAt);
}

/** Builds the target; silent, but for errors on stderr. */
export async function build(name) {
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
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  const words = argv.slice(2);
  const force = words.includes("--force");
  const names = words.filter((word) => word in TARGETS);
  for (const name of names.length > 0 ? names : Object.keys(TARGETS)) {
    if (!force && !isStale(name)) continue;
    const start = performance.now();
    await build(name);
    console.log(`built ${name} in ${((performance.now() - start) / 1000).toFixed(1)} s`);
  }
}
