/** The command: hands the world to `runCommand` and takes its exit code. */
import { mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { runCommand } from "./command.ts";
import { fileProblem } from "./files.ts";

const code = await runCommand(process.argv.slice(2), {
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
  save: (folder, name, text) => {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, name), text);
  },
  print: (text) => process.stdout.write(text),
  complain: (text) => process.stderr.write(text),
  follow: (text) => {
    if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
  },
  now: () => performance.now(),
});
// not process.exit: what is still being written to a pipe must get out
process.exitCode = code;
