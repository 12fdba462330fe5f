/** The marks of a timer, from the library's answer. */
import type { Range } from "../../../lib/confidence/range.ts";
import { kindOfOutput } from "../../../lib/units/display.ts";
import { timeStep, windowStep } from "../../../lib/units/format.ts";
import type { AnswerOutput } from "../../notebook/outputs/output.ts";
import type { Answers, WindowAtBench } from "../asking/asked.ts";
import type { TimerKind, TimerMark } from "./timer.ts";

export function foretoldOf(answer: Answers["opening"] | Answers["window"]): Range | undefined {
  return answer === null || "close" in answer ? undefined : (answer.open ?? undefined);
}

/** A mark rings when it says: at the time as it is read everywhere. An end of a range is rounded to its safe side. */
function mark(
  word: string,
  seconds: number,
  towards: "floor" | "round" | "ceil",
  coarsest = Number.POSITIVE_INFINITY,
): TimerMark {
  const step = Math.min(timeStep(seconds), coarsest);
  return { word, seconds: Math[towards](seconds / step) * step };
}

/** Without a surely safe moment the likely ends of the window are all that can be timed, and are called so. */
function windowMarks({ open, close, startClosing, injectAt, sure }: WindowAtBench): TimerMark[] {
  const late = mark("Likely too late: it will peel", close.value, "round");
  if (injectAt === null || startClosing === null)
    return [mark("Likely set: close at once", open.value, "round"), late].filter(comes);
  return [
    mark("Set: start closing", startClosing, "round"),
    mark("Second color in", injectAt.value, "round", windowStep(injectAt) || 1),
    // where luck may close it before the best moment, the likely end is what is left to wait for
    sure ? mark("Too late: it will peel", close.low, "floor") : late,
  ].filter(comes);
}

/** A window that stays open has no end to ring at. */
const comes = ({ seconds }: TimerMark) => Number.isFinite(seconds);

/** The marks of an opening or of a window, from the library's answer. */
export function marksOf(
  kind: TimerKind,
  answer: Answers["opening"] | Answers["window"],
): TimerMark[] {
  if (answer === null) return [];
  if ("close" in answer) return kind === "second color" ? windowMarks(answer) : [];
  const { sprueCloses, open } = answer;
  if (open === null) return [];
  const letGo = sprueCloses ? [mark("Sprue closed: let go", sprueCloses.high, "ceil")] : [];
  // a bait that is cool enough before its sprue has closed is opened on molten plastic
  const first = letGo[0]?.seconds ?? 0;
  const opens = [mark("May open", open.value, "round"), mark("Surely open", open.high, "ceil")];
  return [...letGo, ...opens.map((m) => ({ ...m, seconds: Math.max(m.seconds, first) }))];
}

/** A window is rung into its inside; one shorter than any step has its best moment alone. */
function windowEnds(label: string, window: Range): TimerMark[] {
  const step = windowStep(window);
  const best = mark(`${label}: best`, window.value, "round", step || 1);
  if (step === 0) return [best];
  return [
    mark(`${label}: earliest`, window.low, "ceil", step),
    best,
    mark(`${label}: latest`, window.high, "floor", step),
  ];
}

/** Whether an answer of a sheet is a time that can be waited for. */
export function isTime({ value, unit, marks }: AnswerOutput): boolean {
  if (marks !== undefined) return marks.length > 0;
  return kindOfOutput(unit) === "duration" && value !== null && value > 0 && value < LONGEST;
}

/** s; a pour of resin takes days at most. */
const LONGEST = 7 * 24 * 3600;

/** The marks of an answer of a sheet: its own, else both ends of its range and what is most likely. */
export function answerMarks(answer: AnswerOutput): { marks: TimerMark[]; foretold?: Range } {
  const { value, low, high, label, marks, window } = answer;
  if (marks) return { marks: marks.map((m) => ({ word: m.label, seconds: m.at })) };
  if (value === null) return { marks: [] };
  if (low === null || high === null || !(high > low))
    return { marks: [mark(label, value, "round")] };
  const foretold = { low, value, high };
  if (window) return { marks: windowEnds(label, foretold), foretold };
  return {
    marks: [
      mark(`${label}: earliest`, low, "floor"),
      mark(`${label}: most likely`, value, "round"),
      mark(`${label}: latest`, high, "ceil"),
    ],
    foretold,
  };
}
