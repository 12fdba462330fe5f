/** The command: sets the engine up for a short run and loads the part that runs it. */
import { compileLess, part } from "./parts.ts";

/** What runs for minutes or for good is compiled as usual. */
const LONG = ["sweep", "notebook", "proof", "solve"];

const words = process.argv.slice(2);
if (!LONG.includes(words[0] ?? "")) compileLess();
const { run } = part("run.js") as typeof import("./run.ts");
run(words);
