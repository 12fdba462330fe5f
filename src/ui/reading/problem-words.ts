/** Sentences for what is wrong. The words are in src/messages; here is only what belongs to the sheet. */
import type { Problem } from "../../../lib/units/problem.ts";
import { runSentence } from "../../messages/page-problems.ts";
import { problemSentence } from "../../messages/problems.ts";
import type { PageProblem } from "../../notebook/dials/types.ts";
import type { RunProblem } from "../../notebook/run/types.ts";

export const problemWords: (problem: Problem) => string = problemSentence;

/** A mistake in a page's text, at its line. */
export function pageProblemWords(problem: PageProblem): string {
  return `Line ${problem.line}: ${dialWords(problem)}`;
}

/** The same beside the dial itself, where a line says nothing. */
export function dialWords({ name = "", ...problem }: PageProblem): string {
  return problemSentence({ ...problem, path: name });
}

/** Why a run ended, and in which working. */
export function runWords({ code, detail }: RunProblem, name: string): string {
  return runSentence(code, name === "" ? "this step" : `\u201c${name}\u201d`, detail);
}
