/** A logger's file as a sheet of its own: the shipped one with these readings in place of its example. */
import { shippedPages } from "virtual:notebooks";
import { InputError } from "../../../lib/units/problem.ts";
import { readLog } from "../../notebook/files/log-file.ts";
import { pageAddress } from "../frame/route.ts";
import { problemWords } from "../reading/problem-words.ts";
import { theShelf } from "../shelf/the-shelf.ts";

const ZERO = 273.15;
const READINGS = /(const readings = `\n)[^`]*(`;)/;
/** More are thinned: neighbors say the same, and a sheet stays one that can be read. */
const MOST = 200;

/** The address of the sheet, or what is wrong with the file. */
export async function sheetOfProbe(
  file: File,
): Promise<{ address: string } | { wrong: readonly string[] }> {
  try {
    const read = readLog(await file.text());
    if (read.kind === "shop")
      return { wrong: ["That is a log of shots: castclock fit JOB.yaml LOG.csv reads it."] };
    const { time, temperature } = read.log;
    const every = Math.ceil(time.length / MOST);
    const lines = time
      .map((t, i) => `${Number(t.toFixed(1))} ${(temperature[i]! - ZERO).toFixed(1)}`)
      .filter((_, i) => i % every === 0);
    const template = shippedPages.find((p) => p.name === "probe")?.text ?? "";
    const text = template.replace(
      READINGS,
      (_, start: string, end: string) => `${start}${lines.join("\n")}\n${end}`,
    );
    const name = `probe ${file.name.replace(/\.\w+$/, "")}`.slice(0, 80);
    const added = await (await theShelf).add("page", name, text);
    return { address: pageAddress(added.name) };
  } catch (error) {
    if (error instanceof InputError) return { wrong: error.problems.map(problemWords) };
    throw error;
  }
}
