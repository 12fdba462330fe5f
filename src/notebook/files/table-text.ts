/** A table as text: its columns parted by commas, semicolons or tabs, as its first line has them. */
import { dsvFormat } from "d3-dsv";

export interface TableLine {
  readonly cells: readonly string[];
  /** Counted in the file from 1, as an editor does; the heading is line 1. */
  readonly number: number;
}

interface TextTable {
  readonly heading: readonly string[];
  /** Those in which there is anything. */
  readonly lines: readonly TableLine[];
}

/** Without the mark that some programs put before the first letter. */
const withoutMark = (text: string) => text.replace(/^\uFEFF/, "");

export const isEmptyTable = (text: string): boolean => withoutMark(text).trim() === "";

export function readTable(text: string): TextTable {
  const plain = withoutMark(text);
  const first = plain.split(/\r?\n/, 1)[0] ?? "";
  const format = dsvFormat(first.includes(";") ? ";" : first.includes("\t") ? "\t" : ",");
  const [heading = [], ...rows] = format.parseRows(plain);
  const lines = rows.map((cells, k) => ({ cells, number: k + 2 }));
  return { heading, lines: lines.filter(({ cells }) => cells.some((cell) => cell.trim() !== "")) };
}
