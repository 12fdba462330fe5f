/** Plain text tables and paragraphs for a terminal of 80 to 100 columns. */
import type { UnitSystem } from "../../lib/units/display.ts";
import { formatQuantity } from "../../lib/units/format.ts";

/**
 * How the lengths of a table are written, in one way down and across: as fractions of an inch where all of them are some,
 * else with decimals.
 */
export function lengthsOf(lengths: readonly number[], system: UnitSystem): (si: number) => string {
  const written = (fractions: boolean) => (si: number) =>
    formatQuantity(si, "length", { system, fractions });
  const ofRule = lengths.every((si) => !written(true)(si).includes("."));
  return written(ofRule);
}

/** Columns padded to their widest cell; numbers and times to the right, words to the left. */
export function tableText(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const all = [head, ...rows];
  const width = head.map((_, i) => Math.max(...all.map((row) => (row[i] ?? "").length)));
  const toRight = head.map(
    (_, i) => rows.length > 0 && rows.every((row) => /^(?:[-\d]|between|$)/.test(row[i] ?? "")),
  );
  const line = (row: readonly string[]) =>
    row
      .map((cell, i) => (toRight[i] ? cell.padStart(width[i]!) : cell.padEnd(width[i]!)))
      .join("   ")
      .trimEnd();
  return [line(head), width.map((w) => "-".repeat(w)).join("   "), ...rows.map(line)];
}

/** A list with dashes, long lines broken at 96 characters. */
export function listText(items: readonly string[]): string[] {
  return items.flatMap((item) => {
    const lines = wrapped(item, 94);
    return lines.map((line, i) => `${i === 0 ? "- " : "  "}${line}`);
  });
}

/** Between words, but not between a number and its unit. */
const BREAK = /(?<!\d) | (?!(?:°[CF]|%|mm|in|s|min|h|days?|g|kg|oz|lb|ml|K)(?![a-z]))/;

/** The text in lines of at most this many characters, broken between words. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(BREAK)) {
    if (line !== "" && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return line === "" ? lines : [...lines, line];
}
