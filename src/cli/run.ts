/** The command in the real world: its words, its terminal and its exit code. */
import { runCommand } from "./command.ts";
import { diskWorld } from "./disk.ts";

export { diskWorld, runCommand };

export function run(words: readonly string[]): void {
  // `castclock ... | head` closes the pipe early: that is no fault; a full disk is told in a line
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE")
      process.stderr.write(`The answer can't be written (${error.code}).\n`);
    process.exit(error.code === "EPIPE" ? 0 : 1);
  });
  // Not process.exit: what is still being written to a pipe must get out.
  void runCommand(words, diskWorld).then((code) => {
    process.exitCode = code;
  });
}
