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

/** A number with a comma, and a unit perhaps. */
const WITH_COMMA = /^(\s*[-+]?\d+),(\d+\s*\S{0,12}\s*)$/;
/** One whose comma can only be that of decimals, and one whose comma can only be that of thousands. */
const DECIMALS = /^\s*[-+]?(?:0,\d|\d+,(?:\d{1,2}|\d{4,})(?!\d))/;
const THOUSANDS = /^\s*[-+]?\d{1,3}(?:,\d{3})*,\d{3}\./;

/**
 * What a comma means is one thing in all of a file: 1,000 beside 0,167 is one. Columns are parted by semicolons where commas are
 * taken.
 */
function commaIsDecimal(cells: readonly string[], parted: string): boolean {
  if (parted === "," || cells.some((cell) => THOUSANDS.test(cell))) return false;
  return parted === ";" || cells.some((cell) => DECIMALS.test(cell));
}

const withPoint = (cell: string): string => cell.replace(WITH_COMMA, "$1.$2");

export function readTable(text: string): TextTable {
  const plain = withoutMark(text);
  const first = plain.split(/\r?\n/, 1)[0] ?? "";
  const parted = first.includes(";") ? ";" : first.includes("\t") ? "\t" : ",";
  const [heading = [], ...rows] = dsvFormat(parted).parseRows(plain);
  const isDecimal = commaIsDecimal(rows.flat(), parted);
  const lines = rows.map((cells, k) => ({
    cells: isDecimal ? cells.map(withPoint) : cells,
    number: k + 2,
  }));
  return { heading, lines: lines.filter(({ cells }) => cells.some((cell) => cell.trim() !== "")) };
}
