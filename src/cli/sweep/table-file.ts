/** The file that a sweep grows: whole lines only, so that a sweep that was killed goes on where it stood. */
import {
  closeSync,
  existsSync,
  fstatSync,
  ftruncateSync,
  openSync,
  readSync,
  statSync,
  writeSync,
} from "node:fs";
import { InputError } from "../../../lib/units/problem.ts";
import { fileUnwritable } from "../files.ts";

const NEWLINE = 10;
const PART = 1 << 20;

export interface TableFile {
  /** Whole lines under the header that are there already. */
  readonly lines: number;
  /** The last of them. */
  readonly last: string | undefined;
  /** Nothing is written before: takes a last line that was cut off away, and writes the header where there is none. */
  begin(): void;
  add(text: string): void;
  close(): void;
}

/**
 * Opens the file, or makes it.
 *
 * @throws InputError when it can't be written, or holds something else: then it is left as it is
 */
export function openTable(path: string, header: string): TableFile {
  const told = <A>(work: () => A): A => {
    try {
      return work();
    } catch (error) {
      if (error instanceof InputError) throw error;
      throw new InputError([fileUnwritable(path, error)]);
    }
  };
  return told(() => {
    if (existsSync(path) && !statSync(path).isFile())
      throw Object.assign(new Error("no file"), { code: "it is no file" });
    const file = openSync(path, existsSync(path) ? "r+" : "wx+");
    const found = linesIn(file);
    // a header that was cut off is one, too
    const ours =
      found.header === undefined ? header.startsWith(found.tail) : found.header === header;
    if (!ours) {
      closeSync(file);
      throw new InputError([{ code: "another_table", path }]);
    }
    let at = found.end;
    const add = (text: string) => {
      const bytes = Buffer.from(text);
      // a part of it may be written where the disk is nearly full
      for (let done = 0; done < bytes.length; )
        done += writeSync(file, bytes, done, bytes.length - done, at + done);
      at += bytes.length;
    };
    return {
      lines: Math.max(0, found.lines - 1),
      last: found.last,
      begin: () =>
        told(() => {
          ftruncateSync(file, found.end);
          if (found.header === undefined) add(`${header}\n`);
        }),
      add: (text) => told(() => add(text)),
      close: () => closeSync(file),
    };
  });
}

/** Counted in parts: such a file may be larger than the memory. */
function linesIn(file: number) {
  const bytes = Buffer.allocUnsafe(PART);
  const size = fstatSync(file).size;
  let lines = 0;
  let end = 0;
  let before = 0;
  let header: string | undefined;
  const textBetween = (from: number, to: number) => {
    const text = Buffer.alloc(Math.min(to - from, PART));
    readSync(file, text, 0, text.length, from);
    return text.toString("utf8");
  };
  for (let at = 0; at < size; ) {
    const read = readSync(file, bytes, 0, PART, at);
    if (read === 0) break;
    for (let i = bytes.indexOf(NEWLINE); i >= 0 && i < read; i = bytes.indexOf(NEWLINE, i + 1)) {
      lines++;
      before = end;
      end = at + i + 1;
      if (lines === 1) header = textBetween(0, end - 1);
    }
    at += read;
  }
  return {
    header,
    lines,
    end,
    last: lines > 1 ? textBetween(before, end - 1) : undefined,
    /** What follows the last whole line. */
    tail: textBetween(end, size),
  };
}
