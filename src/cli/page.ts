/** `castclock page`: runs a page of the notebook without a browser and prints what it shows. */
import { names, prelude, version } from "virtual:sandbox-full";
import type { UnitSystem } from "../../lib/units/display.ts";
import { problemSentence } from "../messages/all-problems.ts";
import { runSentence } from "../messages/page-problems.ts";
import type { Output } from "../notebook/outputs/output.ts";
import { type PageRunResult, runPageText } from "../notebook/run/runner-node.ts";
import { outputLines } from "./page-text.ts";
import { type Drawing, svgFiles } from "./svg.ts";

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
    lines.push(`${line}${runSentence(problem, working)}`);
    for (const one of problem.problems ?? []) lines.push(`  ${one.path}: ${problemSentence(one)}`);
  }
  return lines.length > 0 ? [`${page.title}: nothing is shown.`, ...lines] : [];
}

/** Fields are long: in JSON their grid's size stands for them. */
function plain(output: Output): unknown {
  if (output.kind !== "field") return output;
  const frames = output.frames.map((f) => ({ time: f.time, cells: f.temperature.length }));
  return { ...output, frames };
}

function drawingsOf(outputs: readonly Output[]): Drawing[] {
  return outputs.flatMap((output, i) =>
    output.kind === "figure" ? [{ name: `figure-${i + 1}`, figure: output }] : [],
  );
}
