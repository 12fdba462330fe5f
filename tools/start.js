// The main job: answers the example jobs in the terminal, then serves the notebook and prints its address.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { execPath } from "node:process";
import { build, isStale, root } from "./build.js";

const EXAMPLES = [
  ["demold", "data/jobs/thick-swimmer.yaml"],
  ["layer", "data/jobs/two-tone-belly.yaml"],
];

for (const name of ["cli", "site"]) {
  if (!isStale(name)) continue;
  console.log(`building the ${name === "cli" ? "command" : "notebook"} ...`);
  await build(name);
}
for (const [question, job] of EXAMPLES) {
  console.log(`\n$ castclock ${question} ${job}\n`);
  const { status } = spawnSync(execPath, [join(root, "dist/cli/main.js"), question, job], {
    cwd: root,
    stdio: "inherit",
  });
  if (status !== 0) process.exit(status ?? 1);
}
console.log("");
const { status } = spawnSync(execPath, [join(root, "dist/cli/main.js"), "notebook"], {
  stdio: "inherit",
});
process.exit(status ?? 0);
