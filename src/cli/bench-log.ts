/** A log of shots as a table: mold, injected, and opened where it is; times from the start of the evening. */
import { dsvFormat } from "d3-dsv";
import type { Happened } from "../../lib/questions/plan/timeline.ts";
import { InputError, type Problem } from "../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../lib/units/quantity.ts";

const COLUMNS = { mold: "mold", injected: "injected", opened: "opened" } as const;

/**
 * Reads a log of shots. Times are written like `0:12:30` or `12 min 30 s`; a shot still in its mold has no `opened`.
 *
 * @throws InputError with every problem at once, by line
 * @example readBenchLog("mold,injected,opened\n1,0 s,7 min")[0].opened // 420
 */
export function readBenchLog(text: string): Happened[] {
  const first = text.split(/\r?\n/, 1)[0] ?? "";
  const format = dsvFormat(first.includes(";") ? ";" : first.includes("\t") ? "\t" : ",");
  const [heading = [], ...lines] = format.parseRows(text.replace(/^\uFEFF/, ""));
  const names = heading.map((name) => name.trim().toLowerCase());
  const problems: Problem[] = [];
  for (const given of [COLUMNS.mold, COLUMNS.injected])
    if (!names.includes(given))
      problems.push({ code: "no_column", path: "line 1", given, suggestion: given });
  if (problems.length > 0) throw new InputError(problems);
  const log: Happened[] = [];
  lines.forEach((cells, k) => {
    if (cells.every((cell) => cell.trim() === "")) return;
    const cell = (name: string) => (cells[names.indexOf(name)] ?? "").trim();
    const time = (name: string) => {
      const read = readQuantity(cell(name), "duration", `line ${k + 2}, ${name}`);
      if (!isProblem(read)) return read.value;
      problems.push(read);
      return 0;
    };
    const mold = cell(COLUMNS.mold);
    if (!/^\d+$/.test(mold))
      problems.push({ code: "not_whole", path: `line ${k + 2}, mold`, given: mold.slice(0, 40) });
    log.push({
      mold: Number(mold),
      injected: time(COLUMNS.injected),
      opened: cell(COLUMNS.opened) === "" ? null : time(COLUMNS.opened),
    });
  });
  if (problems.length > 0) throw new InputError(problems);
  return log;
}
