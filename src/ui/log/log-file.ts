/** A log from a file or pasted, as a sheet of its own: the shipped one with these lines in place of its example. */

import type { ShopLine } from "../../../lib/questions/fit/shop.ts";
import { ZERO_CELSIUS } from "../../../lib/units/constants.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { ALL_SENTENCES } from "../../messages/all-problems.ts";
import { type ReadLog, readLog } from "../../notebook/files/log-file.ts";
import { placedIn } from "../reading/problem-words.ts";
import { filledSheet } from "./filled-sheet.ts";

const READINGS = /(const readings = `\n)[^`]*(`;)/;
const LINES = /(const lines = `\n)[^`]*(`;)/;
/** What a sheet says of the lines that it came with. */
const EXAMPLE = /^(const example = ).*$/m;
const SAID_OF_EXAMPLE = /^Here is an example.*\n\n/m;
/** More are thinned: neighbors say the same, and a sheet stays one that can be read. */
const MOST = 200;

type Probe = Extract<ReadLog, { kind: "probe" }>;

/** The address of the sheet, or what is wrong with the log. */
export async function sheetOfLog(
  name: string,
  text: string,
): Promise<{ address: string } | { wrong: readonly string[] }> {
  try {
    const read = readLog(text);
    return {
      address: await (read.kind === "shop"
        ? sheetOfShots(name, read.log.lines)
        : sheetOfProbe(name, read)),
    };
  } catch (error) {
    if (error instanceof InputError)
      return { wrong: error.problems.map((one) => placedIn(one, ALL_SENTENCES)) };
    throw error;
  }
}

function sheetOfProbe(name: string, { log: { time, temperature } }: Probe): Promise<string> {
  const every = Math.ceil(time.length / MOST);
  const lines = time
    .map((t, i) => `${Number(t.toFixed(1))} ${(temperature[i]! - ZERO_CELSIUS).toFixed(1)}`)
    .filter((_, i) => i % every === 0);
  return sheetWith("probe", READINGS, lines, `probe ${name}`);
}

/** The address of a sheet on what a shop's shots teach. */
export function sheetOfShots(name: string, lines: readonly ShopLine[]): Promise<string> {
  const celsius = (T: number | null) => (T === null ? "-" : (T - ZERO_CELSIUS).toFixed(1));
  const rows = lines.map(
    ({ mold, shot, opened, verdict }) =>
      `${celsius(mold)} ${celsius(shot)} ${Math.round(opened)} ${verdict}`,
  );
  return sheetWith("shop-log", LINES, rows, `shots ${name}`);
}

function sheetWith(
  template: string,
  place: RegExp,
  lines: readonly string[],
  name: string,
): Promise<string> {
  return filledSheet(template, name, (text) =>
    text
      .replace(place, (_, start: string, end: string) => `${start}${lines.join("\n")}\n${end}`)
      .replace(EXAMPLE, "$1null;")
      .replace(SAID_OF_EXAMPLE, ""),
  );
}
