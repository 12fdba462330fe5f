// Asks the built command one of everything that is answered in seconds, and keeps the code that V8 made of it beside the
// parts: dist/cli/*.code. Runs in a process of its own, since flags of the engine count for the whole of it.
import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { setFlagsFromString } from "node:v8";

const root = fileURLToPath(new URL("..", import.meta.url));
const folder = join(root, "dist/cli");
const job = (name) => join(root, `data/jobs/${name}.yaml`);

const ASKED = [
  ["--help"],
  ["demold", job("paddle-shad")],
  ["demold", job("thick-swimmer"), "--json"],
  ["shots", job("paddle-shad")],
  ["layer", job("two-tone-belly")],
  ["layer", job("water-back")],
  ["layer", job("plate-behind")],
  ["pour", job("paddle-shad")],
  ["pour", job("hot-garage")],
  ["walls", job("paddle-shad")],
  ["sprue", job("paddle-shad")],
  ["touch", job("paddle-shad")],
  ["plan", job("paddle-shad")],
  ...["shape", "budget", "mix", "shrink", "swim"].map((name) => [name, job("paddle-shad")]),
];

const loading = createRequire(import.meta.url);
const { codeOfParts, compileLess, part } = loading(join(folder, "parts.js"));

compileLess();
// what has not run for a while would be thrown away again; such a setting must not be in force when the code is kept
setFlagsFromString("--no-flush-bytecode");
const { runCommand, diskWorld } = part("run.js");
const world = { ...diskWorld, print: () => undefined, follow: () => undefined };
for (const words of ASKED) {
  const code = await runCommand(words, world);
  if (code !== 0) throw new Error(`castclock ${words.join(" ")} ended with ${code}`);
}
setFlagsFromString("--flush-bytecode");
for (const { file, bytes } of codeOfParts()) writeFileSync(file, bytes);
