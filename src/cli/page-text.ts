/** What a page shows, for the terminal. */
import { kindOfOutput, type UnitSystem } from "../../lib/units/display.ts";
import {
  boundText,
  formatQuantity,
  rangeInWords,
  type Towards,
  timeText,
  windowInWords,
  windowTexts,
} from "../../lib/units/format.ts";
import { type AnswerOutput, type Output, stepFor } from "../notebook/outputs/output.ts";
import { listText, tableText, wrapped } from "./table.ts";

/** A number of an output, which is SI, in the reader's system; a bound rounded to its side. */
function numberText(
  value: number | null,
  unit: string | undefined,
  system: UnitSystem,
  bound: {
    readonly towards?: Towards | undefined;
    readonly keeps?: number | undefined;
    readonly step?: AnswerOutput["step"];
  } = {},
): string {
  if (value === null) return "";
  const kind = unit === undefined ? undefined : kindOfOutput(unit);
  // a count has no unit: "1" says so
  if (kind === undefined)
    return `${Number(value.toPrecision(4))}${unit && unit !== "1" ? ` ${unit}` : ""}`;
  const { towards, keeps } = bound;
  const step = stepFor(bound.step, system);
  if (towards) return boundText(value, kind, towards, system, keeps);
  if (kind === "duration") return timeText(value);
  return formatQuantity(value, kind, { system, ...(step !== undefined && { step }) });
}

/** A range of what has no kind: a count, or a unit of the page's own. */
function plainRange(value: number, low: number, high: number, unit: string): string {
  const text = (x: number) => numberText(x, unit, "metric");
  return low === high
    ? text(value)
    : `between ${text(low)} and ${text(high)}, most likely ${text(value)}`;
}

/** One output as lines. */
export function outputLines(output: Output, system: UnitSystem): string[] {
  switch (output.kind) {
    case "answer": {
      const { label, value, low, high, unit, towards, decidedBy, instead, window } = output;
      const kind = kindOfOutput(unit);
      const step = stepFor(output.step, system);
      const how = { system, ...(towards && { towards }), ...(step !== undefined && { step }) };
      const shown =
        value === null
          ? (instead ?? "none")
          : low !== null && high !== null && !(towards && low === high)
            ? kind === undefined
              ? plainRange(value, low, high, unit)
              : window && kind === "duration"
                ? `${windowTexts({ value, low, high }).value}, ${windowInWords({ value, low, high })}`
                : rangeInWords({ value, low, high }, kind, how)
            : numberText(value, unit, system, output);
      return [
        `${label}: ${shown}`,
        ...(decidedBy === undefined ? [] : [`  decided by ${decidedBy}`]),
      ];
    }
    case "table": {
      const { caption, columns, rows } = output;
      const cell = (value: unknown, column: (typeof columns)[number]) => {
        const { unit } = column;
        if (typeof value === "number") return numberText(value, unit, system, column);
        if (typeof value === "boolean") return value ? "yes" : "no";
        if (typeof value === "object" && value !== null) {
          const range = value as { value: number; low: number; high: number };
          return numberText(range.value, unit, system, { step: column.step });
        }
        return String(value ?? "");
      };
      return [
        caption,
        ...tableText(
          columns.map((c) => c.label),
          rows.map((row) => columns.map((c) => cell(row[c.key], c))),
        ).map((line) => `  ${line}`),
      ];
    }
    case "figure":
      return [`[figure] ${output.caption}`];
    case "field":
      return [`[field] ${output.caption}, ${output.frames.length} moments`];
    case "note":
      return output.tone === "caution" ? listText([output.text]) : wrapped(output.text, 96);
    case "lesson":
      return output.fitted === null
        ? ["Nothing of this log may be kept in the job."]
        : [
            "castclock fit JOB.yaml LOG.csv --write JOB.yaml keeps what this log teaches in the job.",
          ];
    case "timeline": {
      const at = (t: number) => numberText(t, output.unit, system);
      return [
        output.label,
        ...output.spans.map((s) => `  ${at(s.from)} to ${at(s.to)}: ${s.label}`),
        ...output.marks.map((m) => `  ${at(m.at)}: ${m.label}`),
      ];
    }
  }
}
