/** The command: hands the world to `runCommand` and takes its exit code. */
import { accessSync, constants, mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { runCommand } from "./command.ts";
import { fileProblem, fileUnwritable, folderProblem, type World } from "./files.ts";

// `castclock ... | head` closes the pipe early: that is no fault; a full disk is told in a line
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE")
    process.stderr.write(`The answer can't be written (${error.code}).\n`);
  process.exit(error.code === "EPIPE" ? 0 : 1);
});

const world: World = {
  size: (path) => {
    try {
      const found = statSync(path);
      return found.isDirectory()
        ? { problem: fileProblem(path, { code: "EISDIR" }) }
        : { bytes: found.size };
    } catch (error) {
      return { problem: fileProblem(path, error) };
    }
  },
  read: (path) => {
    try {
      return { text: readFileSync(path, "utf8") };
    } catch (error) {
      return { problem: fileProblem(path, error) };
    }
  },
  bytes: (path) => {
    try {
      return { bytes: readFileSync(path) };
    } catch (error) {
      return { problem: fileProblem(path, error) };
    }
  },
  write: (path, text) => {
    try {
      writeFileSync(path, text);
      return null;
    } catch (error) {
      return fileUnwritable(path, error);
    }
  },
  makeFolder: (path) => {
    try {
      mkdirSync(path, { recursive: true });
      accessSync(path, constants.W_OK);
      return null;
    } catch (error) {
      return folderProblem(path, error);
    }
  },
  save: (folder, name, text) => {
    writeFileSync(join(folder, name), text);
  },
  print: (text) => process.stdout.write(text),
  complain: (text) => process.stderr.write(text),
  follow: (text) => {
    if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
  },
  now: () => performance.now(),
};

// no await up here: what is loaded later may stand on this file, and would wait for it. Not process.exit: what is still
// being written to a pipe must get out.
void runCommand(process.argv.slice(2), world).then((code) => {
  process.exitCode = code;
});
