/** A log of temperatures as a table with commas or semicolons: a column of times, a column of temperatures. */
import { dsvFormat } from "d3-dsv";
import type { TemperatureLog } from "../../lib/questions/fit/fit.ts";
import type { Kind } from "../../lib/units/kinds.ts";
import { InputError, type Problem } from "../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../lib/units/quantity.ts";

const NUMBER = /^[-+]?\d+(?:[.,]\d+)?$/;

/** A heading: `time`, `time s`, `time (s)`, `temperature [degF]`. */
function headingOf(text: string): { name: string; unit: string } {
  const [, name = "", unit = ""] =
    /^\s*([A-Za-z]+)\s*[([]?\s*([^)\]]*?)\s*[)\]]?\s*$/.exec(text) ?? [];
  return { name: name.toLowerCase(), unit };
}

/**
 * Reads a log. The first line names the columns `time` and `temperature`, with their units there or in each cell;
 * other columns are passed over.
 *
 * @throws InputError with every problem at once, by line
 * @example readLog("time s, temperature degC\n0, 170\n60, 150").temperature[0] // 443.15
 */
export function readLog(text: string): TemperatureLog {
  const first = text.split(/\r?\n/, 1)[0] ?? "";
  const format = dsvFormat(first.includes(";") ? ";" : first.includes("\t") ? "\t" : ",");
  const [heading = [], ...lines] = format.parseRows(text.replace(/^\uFEFF/, ""));
  const headings = heading.map(headingOf);
  const problems: Problem[] = [];
  const column = (name: string, kind: Kind, example: string) => {
    const at = headings.findIndex((h) => h.name === name);
    if (at < 0)
      problems.push({ code: "no_column", path: "line 1", given: name, suggestion: example });
    const unit = headings[at]?.unit ?? "";
    return (cells: readonly string[], line: number): number => {
      const cell = (cells[at] ?? "").trim();
      const typed = unit !== "" && NUMBER.test(cell) ? `${cell} ${unit}` : cell;
      const read = readQuantity(typed, kind, `line ${line}, ${name}`);
      if (!isProblem(read)) return read.value;
      problems.push(read);
      return Number.NaN;
    };
  };
  const timeOf = column("time", "duration", "time s");
  const temperatureOf = column("temperature", "temperature", "temperature degC");
  if (problems.length > 0) throw new InputError(problems);
  const time: number[] = [];
  const temperature: number[] = [];
  lines.forEach((cells, k) => {
    if (cells.every((cell) => cell.trim() === "")) return;
    time.push(timeOf(cells, k + 2));
    temperature.push(temperatureOf(cells, k + 2));
  });
  if (problems.length > 0) throw new InputError(problems);
  return { time, temperature };
}
