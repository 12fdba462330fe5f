/** The command's world on a real machine. Files are written whole or not at all. */
import {
  accessSync,
  closeSync,
  constants,
  fchmodSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readSync,
  realpathSync,
  renameSync,
  type Stats,
  statSync,
  unlinkSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { InputError, type Problem } from "../../lib/units/problem.ts";
import { fileProblem, fileUnwritable, folderProblem, type World } from "./files.ts";

/** A pipe or a device tells no size and may never end: more than this is not read of it. */
const MOST_OF_A_PIPE = 16_000_000;
const PART = 1 << 20;

function bytesOf(path: string): Buffer {
  const file = openSync(path, "r");
  try {
    const parts: Buffer[] = [];
    let length = 0;
    for (;;) {
      const part = Buffer.allocUnsafe(PART);
      const read = readSync(file, part, 0, PART, null);
      if (read === 0) return Buffer.concat(parts, length);
      parts.push(part.subarray(0, read));
      length += read;
      if (length > MOST_OF_A_PIPE && !statSync(path).isFile())
        throw Object.assign(new Error("endless"), { code: "it does not end" });
    }
  } finally {
    closeSync(file);
  }
}

function found(path: string): Stats | undefined {
  return statSync(path, { throwIfNoEntry: false });
}

/**
 * Into a file beside it first, which then takes its place: a full disk, a lost power line or a second writer leaves the
 * old file or the new one, never a part. What is no file, such as a pipe, is written to as it is.
 */
function writeWhole(given: string, text: string): void {
  const there = found(given);
  if (there !== undefined && !there.isFile()) {
    if (there.isDirectory()) throw Object.assign(new Error("folder"), { code: "EISDIR" });
    writeFileSync(given, text);
    return;
  }
  // a link stays a link, and a file that may not be written to is not replaced
  const path = there === undefined ? given : realpathSync(given);
  if (there !== undefined) accessSync(path, constants.W_OK);
  const part = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  const file = openSync(part, "wx", there?.mode ?? 0o666);
  try {
    try {
      if (there !== undefined) fchmodSync(file, there.mode & 0o7777);
      writeFileSync(file, text);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(part, path);
  } catch (error) {
    unlinkSync(part);
    throw error;
  }
}

function asProblem(path: string, error: unknown): { readonly problem: Problem } {
  return { problem: fileProblem(path, error) };
}

/** Step by step: asked for all at once, Node tries for ever where a folder can't be made, as below /proc. */
function makeFolders(path: string): void {
  if (found(path)?.isDirectory()) return;
  const above = dirname(path);
  if (above !== path) makeFolders(above);
  mkdirSync(path);
}

/** Files of this machine, its terminal and its clock. */
export const diskWorld: World = {
  size: (path) => {
    try {
      const file = statSync(path);
      return file.isDirectory() ? asProblem(path, { code: "EISDIR" }) : { bytes: file.size };
    } catch (error) {
      return asProblem(path, error);
    }
  },
  read: (path) => {
    try {
      return { text: bytesOf(path).toString("utf8") };
    } catch (error) {
      return asProblem(path, error);
    }
  },
  bytes: (path) => {
    try {
      return { bytes: bytesOf(path) };
    } catch (error) {
      return asProblem(path, error);
    }
  },
  write: (path, text) => {
    try {
      writeWhole(path, text);
      return null;
    } catch (error) {
      return fileUnwritable(path, error);
    }
  },
  makeFolder: (path) => {
    try {
      makeFolders(resolve(path));
      accessSync(path, constants.W_OK);
      return null;
    } catch (error) {
      return folderProblem(path, error);
    }
  },
  save: (folder, name, text) => {
    const path = join(folder, name);
    try {
      writeWhole(path, text);
    } catch (error) {
      throw new InputError([fileUnwritable(path, error)]);
    }
  },
  print: (text) => process.stdout.write(text),
  complain: (text) => process.stderr.write(text),
  follow: (text) => {
    if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
  },
  trace: process.env["CASTCLOCK_TRACE"] === "1",
  // `performance` would first load a module of its own
  now: () => process.uptime() * 1000,
};
