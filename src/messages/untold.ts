/** What a log of temperatures can't tell. */
import type { Untold } from "../../lib/questions/fit/models.ts";
import { inputName } from "./inputs.ts";

const LINES: Readonly<Record<Untold, (name: string, other: string) => string>> = {
  one_place: () => "How other places of the body cool: the probe was in one place.",
  probe_place: () =>
    "Whether the probe sat in the middle: off it, the plastic seems to conduct better.",
  conductivity_or_heat: () =>
    "Whether it conducts well or holds little heat: only the ratio of the two shows.",
  prior_kept: (name) => `Anything about ${name}: it is as uncertain as before.`,
  tied: (name, other) => `Which of two it was: ${name}, or ${other}. They move together.`,
  other_rooms: () => "How the resin behaves in a much cooler or warmer room.",
  model_misses: () =>
    "Much at all: the computed curve can't follow the log. Look at the job, the probe and the units.",
  only_together: () =>
    "What makes it cool faster or slower than thought: only what all of it does to the time.",
  no_soft: () => "How much earlier it may be opened: none was too early.",
  no_good: () => "How long it takes to be cool: none was late enough.",
  other_verdicts: () =>
    "Anything from dents, short tails, bleeding and peeling: these are not of the cooling time.",
  lines_disagree: () =>
    "Anything for sure: too many lines go against the others. Was it one mold, one bait, one thermometer?",
  verdicts_contradict: () =>
    "Much from these verdicts: shorter ones came out good and longer ones soft, so no single time explains them. They were given less weight. Was it one mold, one bait, one judge? A reading of the mold for each line tells a warm one from a cold one.",
  another_bait: () =>
    "That this log is of this job: the times that the two give don't touch. Check the bait's thickness, the mold, the limit and the start of the clock.",
};

/** What a reader must know before the figures. */
const FIRST: readonly Untold[] = [
  "lines_disagree",
  "verdicts_contradict",
  "another_bait",
  "model_misses",
];

/** Whether it stands in front of the answer, not below it. */
export function comesFirst(code: Untold): boolean {
  return FIRST.includes(code);
}

export function untoldLine(given: {
  readonly code: Untold;
  readonly name?: string;
  readonly other?: string;
}): string {
  return LINES[given.code](inputName(given.name ?? ""), inputName(given.other ?? ""));
}

/** The same as a sentence that stands by itself. */
export function doubtLine(given: Parameters<typeof untoldLine>[0]): string {
  const line = untoldLine(given);
  return `The log cannot tell ${line.charAt(0).toLowerCase()}${line.slice(1)}`;
}
