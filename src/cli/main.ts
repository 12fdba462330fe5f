/** The command: hands the world to `runCommand` and takes its exit code. */
import { runCommand } from "./command.ts";
import { diskWorld } from "./disk.ts";

// `castclock ... | head` closes the pipe early: that is no fault; a full disk is told in a line
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE")
    process.stderr.write(`The answer can't be written (${error.code}).\n`);
  process.exit(error.code === "EPIPE" ? 0 : 1);
});

// no await up here: what is loaded later may stand on this file, and would wait for it. Not process.exit: what is still
// being written to a pipe must get out.
void runCommand(process.argv.slice(2), diskWorld).then((code) => {
  process.exitCode = code;
});
