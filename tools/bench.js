// Bundles tests/bench/main.ts as the product is bundled (unbundled modules cost a look-up for each imported name) and
// runs it with the garbage collector in reach, so that each round starts clean.
import { spawnSync } from "node:child_process";
import { execPath } from "node:process";
import { fileURLToPath } from "node:url";
import { tsImport } from "tsx/esm/api";
import { build } from "vite";
import { build as buildTarget, isStale } from "./build.js";

// found here, from the tree: the bundle below lies elsewhere
const { chromiumPath } = await tsImport("./chromium.ts", import.meta.url);

// what is measured as it is shipped
const words = process.argv.slice(2);
const all = words.every((word) => word === "report");
for (const [bench, target] of [
  ["command", "cli"],
  ["ranges", "cli"],
  ["browser", "site"],
])
  if ((all || words.includes(bench)) && isStale(target)) await buildTarget(target);

const root = fileURLToPath(new URL("..", import.meta.url));
await build({
  root,
  configFile: false,
  publicDir: false,
  logLevel: "warn",
  build: {
    ssr: true,
    outDir: "dist/bench",
    emptyOutDir: true,
    minify: false,
    target: "node20",
    rolldownOptions: { input: { main: "tests/bench/main.ts" }, external: [/^[^./]/, /^node:/] },
  },
});
const { status } = spawnSync(execPath, ["--expose-gc", "dist/bench/main.js", ...words], {
  cwd: root,
  stdio: "inherit",
  env: { ...process.env, CHROMIUM_PATH: await chromiumPath() },
});
process.exit(status ?? 1);
