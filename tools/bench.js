// Runs tests/bench/main.ts with the garbage collector in reach, so that each round starts clean.
import { spawnSync } from "node:child_process";
import { execPath } from "node:process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const { status } = spawnSync(
  execPath,
  ["--expose-gc", "--import", "tsx", "tests/bench/main.ts", ...process.argv.slice(2)],
  { cwd: root, stdio: "inherit" },
);
process.exit(status ?? 1);
