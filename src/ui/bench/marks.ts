/** The marks of a timer, from the library's answer. */
import type { Range } from "../../../lib/confidence/range.ts";
import { kindOfOutput } from "../../../lib/units/display.ts";
import type { AnswerOutput } from "../../notebook/outputs/output.ts";
import type { Answers, ColorWindow } from "../asking/asked.ts";
import type { TimerKind, TimerMark } from "./timer.ts";

export function foretoldOf(answer: Answers["opening"] | Answers["window"]): Range | undefined {
  return answer === null || "close" in answer ? undefined : (answer.open ?? undefined);
}

/** Without a surely safe moment the likely ends of the window are all that can be timed, and are called so. */
function windowMarks({ open, close, startClosing, injectAt }: ColorWindow): TimerMark[] {
  if (injectAt === null || startClosing === null)
    return [
      { word: "Likely set: close at once", seconds: open.value },
      { word: "Likely too late: it will peel", seconds: close.value },
    ];
  return [
    { word: "Set: start closing", seconds: startClosing },
    { word: "Second color in", seconds: injectAt },
    { word: "Too late: it will peel", seconds: close.low },
  ];
}

/** The marks of an opening or of a window, from the library's answer. */
export function marksOf(
  kind: TimerKind,
  answer: Answers["opening"] | Answers["window"],
): TimerMark[] {
  if (answer === null) return [];
  if ("close" in answer) return kind === "second color" ? windowMarks(answer) : [];
  const { sprueCloses, open } = answer;
  if (open === null) return [];
  return [
    ...(sprueCloses ? [{ word: "Sprue closed: let go", seconds: sprueCloses.high }] : []),
    { word: "May open", seconds: open.value },
    { word: "Surely open", seconds: open.high },
  ];
}

/** Whether an answer of a sheet is a time that can be waited for. */
export function isTime({ value, unit }: AnswerOutput): boolean {
  return kindOfOutput(unit) === "duration" && value !== null && value > 0 && value < LONGEST;
}

/** s; a pour of resin takes days at most. */
const LONGEST = 7 * 24 * 3600;

/** The marks of an answer of a sheet: both ends of its range and what is most likely. */
export function answerMarks(answer: AnswerOutput): { marks: TimerMark[]; foretold?: Range } {
  const { value, low, high, label } = answer;
  if (value === null) return { marks: [] };
  if (low === null || high === null || !(high > low))
    return { marks: [{ word: label, seconds: value }] };
  return {
    marks: [
      { word: `${label}: earliest`, seconds: low },
      { word: `${label}: most likely`, seconds: value },
      { word: `${label}: latest`, seconds: high },
    ],
    foretold: { low, value, high },
  };
}
