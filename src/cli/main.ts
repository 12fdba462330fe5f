/** The command: hands the world to `runCommand` and takes its exit code. */
import { setFlagsFromString } from "node:v8";
import { runCommand } from "./command.ts";
import { diskWorld } from "./disk.ts";

// `castclock ... | head` closes the pipe early: that is no fault; a full disk is told in a line
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE")
    process.stderr.write(`The answer can't be written (${error.code}).\n`);
  process.exit(error.code === "EPIPE" ? 0 : 1);
});

/** What runs for minutes or for good is compiled as usual. */
const LONG = ["sweep", "notebook", "proof", "solve"];

// An answer lasts a second or two, of which compiling takes more than it wins: less of it, and later, answers in three
// quarters of the time, and is no slower once all is compiled. Measured with this engine; others have other tiers.
if (process.versions.v8.startsWith("11.") && !LONG.includes(process.argv[2] ?? "")) {
  setFlagsFromString("--max-inlined-bytecode-size-cumulative=200");
  setFlagsFromString("--interrupt-budget=264000");
}

// no await up here: what is loaded later may stand on this file, and would wait for it. Not process.exit: what is still
// being written to a pipe must get out.
void runCommand(process.argv.slice(2), diskWorld).then((code) => {
  process.exitCode = code;
});
