/** Sentences for what is wrong. The words are in src/messages; here is only what belongs to the sheet. */
import type { Problem } from "../../../lib/units/problem.ts";
import { runSentence } from "../../messages/page-problems.ts";
import { SENTENCES, sentenceOf } from "../../messages/problems.ts";
import type { PageProblem } from "../../notebook/dials/types.ts";
import type { RunProblem } from "../../notebook/run/types.ts";
import { unitSystem } from "./preferences.ts";
import { inReaderText } from "./typed.ts";

/**
 * What is possible and what is usual is said in the unit that is switched on; what was typed stays as it was.
 *
 * @param sentences of a shape's file `ALL_SENTENCES`
 */
export function problemWords(problem: Problem, sentences = SENTENCES): string {
  const system = unitSystem.value;
  const { least, most, suggestion } = problem;
  const here = {
    ...problem,
    ...(least !== undefined && { least: inReaderText(least, system, "up") }),
    ...(most !== undefined && { most: inReaderText(most, system, "down") }),
    ...(suggestion !== undefined &&
      USUAL.has(problem.code) && { suggestion: inReaderText(suggestion, system) }),
  };
  return sentenceOf(here, sentences);
}

/** The same of a file, where no field stands beside it: with its place in front. */
export const placedWords = (problem: Problem): string => placedIn(problem, SENTENCES);

/** @param sentences of a file that is read `ALL_SENTENCES` */
export function placedIn(problem: Problem, sentences: typeof SENTENCES): string {
  const place = problem.path.replace(/^line\b/, "Line");
  const words = problemWords(problem, sentences);
  return place === "" ? words : `${place}: ${words}`;
}

/** Where the suggestion is ours; elsewhere it is made of what was typed. */
const USUAL: ReadonlySet<string> = new Set(["empty", "missing", "not_text"]);

/** A mistake in a page's text, at its line. */
export function pageProblemWords(problem: PageProblem): string {
  return `Line ${problem.line}: ${dialWords(problem)}`;
}

/** The same beside the dial itself, where a line says nothing. */
export function dialWords({ name = "", ...problem }: PageProblem): string {
  return problemWords({ ...problem, path: name });
}

/** Why a run ended, and in which working. */
export function runWords(problem: RunProblem, name: string): string {
  return runSentence(problem, name === "" ? "this step" : `\u201c${name}\u201d`);
}

/** What of an input was refused in it, one line each. */
export function refusedWords({ problems = [] }: RunProblem): string[] {
  return problems.map(placedWords);
}
