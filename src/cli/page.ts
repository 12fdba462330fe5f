/** `castclock page`: runs a page of the notebook without a browser and prints what it shows. */
import { names, prelude, version } from "virtual:sandbox-full";
import { kindOfOutput, type UnitSystem } from "../../lib/units/display.ts";
import {
  boundText,
  formatQuantity,
  rangeInWords,
  type Towards,
  timeText,
} from "../../lib/units/format.ts";
import { runSentence } from "../messages/page-problems.ts";
import { problemSentence } from "../messages/problems.ts";
import type { Output } from "../notebook/outputs/output.ts";
import { type PageRunResult, runPageText } from "../notebook/run/runner-node.ts";
import { type Drawing, svgFiles } from "./svg.ts";
import { listText, tableText, wrapped } from "./table.ts";

export interface PageWords {
  readonly text: string;
  readonly jobText?: string;
  readonly dials: Readonly<Record<string, string>>;
  readonly system: UnitSystem;
  readonly quick: boolean;
}

export interface PageAnswer {
  readonly ok: boolean;
  /** For the terminal: what the page showed, or why it could not run. */
  readonly text: string;
  readonly json: unknown;
  readonly files: readonly { readonly name: string; readonly text: string }[];
}

export async function answerPage(words: PageWords): Promise<PageAnswer> {
  const { text, jobText, dials, quick, system } = words;
  const ran = await runPageText({
    text,
    prelude: { prelude, names, version },
    dials,
    quick,
    ...(jobText !== undefined && { jobText }),
  });
  const complaints = complaintsOf(ran);
  if (complaints.length > 0)
    return { ok: false, text: `${complaints.join("\n")}\n`, json: null, files: [] };
  const outputs = ran.outputs.flat();
  const lines = [
    ran.page.title,
    "",
    ...outputs.flatMap((output) => [...outputLines(output, system), ""]),
  ];
  return {
    ok: true,
    text: `${lines.join("\n").trimEnd()}\n`,
    json: {
      page: ran.page.title,
      dials: Object.fromEntries(ran.readings.map(({ dial, text: typed }) => [dial.name, typed])),
      outputs: outputs.map(plain),
      milliseconds: ran.milliseconds,
    },
    files: svgFiles(drawingsOf(outputs), system),
  };
}

function complaintsOf({ page, pageProblems, problem }: PageRunResult): string[] {
  const lines = pageProblems.map((p) => {
    const place = [p.line > 0 ? `line ${p.line}` : "", p.name ?? ""].filter((part) => part !== "");
    return `${place.join(", ")}: ${problemSentence({ ...p, path: p.name ?? "" })}`;
  });
  if (problem) {
    const working = problem.working === undefined ? "The page" : `Working ${problem.working + 1}`;
    const line = problem.line === undefined ? "" : `line ${problem.line}: `;
    lines.push(`${line}${runSentence(problem.code, working, problem.detail)}`);
    for (const one of problem.problems ?? []) lines.push(`  ${one.path}: ${problemSentence(one)}`);
  }
  return lines.length > 0 ? [`${page.title}: nothing is shown.`, ...lines] : [];
}

/** A number of an output, which is SI, in the reader's system; a bound rounded to its side. */
function numberText(
  value: number | null,
  unit: string | undefined,
  system: UnitSystem,
  towards?: Towards,
): string {
  if (value === null) return "";
  const kind = unit === undefined ? undefined : kindOfOutput(unit);
  if (kind === undefined) return `${Number(value.toPrecision(4))}${unit ? ` ${unit}` : ""}`;
  if (towards) return boundText(value, kind, towards, system);
  return kind === "duration" ? timeText(value) : formatQuantity(value, kind, { system });
}

function outputLines(output: Output, system: UnitSystem): string[] {
  switch (output.kind) {
    case "answer": {
      const { label, value, low, high, unit, towards, decidedBy, instead } = output;
      const kind = kindOfOutput(unit);
      const shown =
        value === null
          ? (instead ?? "none")
          : kind !== undefined && low !== null && high !== null && !towards
            ? rangeInWords({ value, low, high }, kind, { system })
            : numberText(value, unit, system, towards);
      return [
        `${label}: ${shown}`,
        ...(decidedBy === undefined ? [] : [`  decided by ${decidedBy}`]),
      ];
    }
    case "table": {
      const { caption, columns, rows } = output;
      const cell = (value: unknown, { unit, towards }: (typeof columns)[number]) => {
        if (typeof value === "number") return numberText(value, unit, system, towards);
        if (typeof value === "boolean") return value ? "yes" : "no";
        if (typeof value === "object" && value !== null) {
          const range = value as { value: number; low: number; high: number };
          return numberText(range.value, unit, system);
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

function drawingsOf(outputs: readonly Output[]): Drawing[] {
  return outputs.flatMap((output, i) =>
    output.kind === "figure" ? [{ name: `figure-${i + 1}`, figure: output }] : [],
  );
}

/** Fields are long: in JSON their grid's size stands for them. */
function plain(output: Output): unknown {
  if (output.kind !== "field") return output;
  const frames = output.frames.map((f) => ({ time: f.time, cells: f.temperature.length }));
  return { ...output, frames };
}
