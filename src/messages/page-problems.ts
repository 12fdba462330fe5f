/** Sentences for what is wrong with the text of a page, or with one of its runs. */
import { given, hint, range, type Sentence, words } from "./pieces.ts";

/** By code of `PageProblem`. */
export const PAGE_SENTENCES: Readonly<Record<string, Sentence>> = {
  "page.long": (p) => [`A page of ${given(p)} characters is too long.`, range(p)],
  "job.long": (p) => [`A job of ${given(p)} characters is too long.`, range(p)],
  "page.workings": (p) => [`${given(p)} workings are too many for a page.`, range(p)],
  "dials.long": (p) => [`A block of dials of ${given(p)} characters is too long.`, range(p)],
  "dials.yaml": (p) => [`The dials are no YAML${p.given === undefined ? "." : `: ${given(p)}`}`],
  "dials.notNames": () => [
    "Dials are names with keys below them.",
    "Write thickness: { label: Thickest part, value: 16 mm }.",
  ],
  "dials.many": (p) => ["There are too many dials.", range(p)],
  "dial.name": (p) => [
    `"${given(p)}" can't be the name of a dial.`,
    "Use letters and digits, a letter first, and no word of the language.",
  ],
  "dial.twice": () => ["A dial of this name is there already."],
  "dial.notKeys": () => ["A dial needs keys below its name: label and value at least."],
  "dial.key": (p) => [`A dial has no key "${given(p)}".`, hint(p), words(p)],
  "dial.choices": () => ["The choices are a list of 2 to 40 words."],
  "dial.choice": (p) => [`"${given(p)}" is none of the choices.`, words(p, 40)],
  "dial.plain": (p) => [`The key "${given(p)}" needs one plain value.`],
  "dial.long": (p) => [
    `The text of "${given(p)}" is too long.`,
    `Possible are ${p.most ?? "300"} characters.`,
  ],
  "dial.label": () => ["A dial needs a label: what a person at the bench calls it."],
  "dial.value": () => ["A dial needs a value, or a place in the job to take it from."],
  "dial.unfit": (p) => [`The key "${given(p)}" does not fit a dial of this kind.`],
  "dial.flag": (p) => [`"${given(p)}" is neither yes nor no.`],
  "dial.noJob": (p) => [
    `This dial takes ${given(p)} from a job: there is none, or it has mistakes to mend first.`,
  ],
  "dial.jobPath": (p) => [`The job has nothing at ${given(p)} that fits this dial.`],
  "dial.kind": (p) => ["What kind of quantity this dial is can't be told.", words(p, 30)],
  "dial.bound": (p) => [`The bound ${given(p)} can't be read.`],
  "dial.bounds": (p) => ["The least value is not below the most.", range(p)],
  "dial.step": (p) => [`A step of ${given(p)} leads nowhere.`],
  "dial.range": (p) => [`${given(p)} is outside what this dial allows.`, range(p)],
  "dial.unknown": (p) => [`The page has no dial "${given(p)}".`, hint(p), words(p, 40)],
};

/** By code of `RunProblem`: why a run ended. `which` names the working. An input that the library refused has sentences of its own below. */
const RUN_SENTENCES: Readonly<Record<string, (which: string, detail: string) => string>> = {
  error: (which, detail) => `${which} ended with an error: ${detail}`,
  refused: (which) => `${which} can't be worked out from what it was given.`,
  syntax: (which, detail) => `${which} is not written right: ${detail}`,
  time: (which, detail) => `${which} was stopped: ${detail}.`,
  memory: (which, detail) => `${which} was stopped for using too much memory: ${detail}.`,
  output: (which, detail) => `${which} showed something that can't be drawn: ${detail}.`,
  flood: (which, detail) => `${which} was stopped for saying too much: ${detail}.`,
  fault: (which, detail) => `The page could not be run, by a fault of ours: ${detail} (${which})`,
};

/** Why a run ended, as a sentence. `which` names the working: `Working 2`. What of the input was refused is told beside it. */
export function runSentence(
  {
    code,
    detail,
    problems = [],
  }: { readonly code: string; readonly detail: string; readonly problems?: readonly unknown[] },
  which: string,
): string {
  const said = code === "error" && problems.length > 0 ? "refused" : code;
  return (RUN_SENTENCES[said] ?? RUN_SENTENCES["fault"]!)(which, detail);
}

export const runCodes: readonly string[] = Object.keys(RUN_SENTENCES);
