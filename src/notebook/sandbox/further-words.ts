/** Words of questions that the first sheet does not ask: beside the others on the pages that may ask them. */
import type { LeverCode, Quantified } from "../../../lib/answers/answer.ts";
import type { MixedPour } from "../../../lib/questions/mix/mix.ts";
import { formatQuantity } from "../../../lib/units/format.ts";
import { cupLines, cupUse, usedUpLines } from "../../messages/cups.ts";
import { eveningStep, eveningTime } from "../../messages/evening-clock.ts";
import { inputName } from "../../messages/inputs.ts";
import { leverLine } from "../../messages/levers.ts";
import { oddLines, openedSoonLines } from "../../messages/log.ts";
import { CALIPER_STEPS, SHARE_STEP } from "../../messages/shrinking.ts";
import { moltenLines, timerLines } from "../../messages/timer.ts";
import { comesFirst, doubtLine, untoldLine } from "../../messages/untold.ts";
import { wallSide } from "../../messages/wall-side.ts";
import {
  potLifeStep,
  scaleStepsText,
  smallestBatchText,
  tooSmallLine,
  weighedText,
  worstErrorText,
} from "../../messages/weighing.ts";

export const furtherWords = {
  /** What an uncertain input is called: `the thickness`. */
  input: (path: string): string => inputName(path),
  lever: (code: LeverCode): string => leverLine(code),
  /** What a log can't tell, from the answer to `fit`; inputs that stay as uncertain as before are left out. */
  untold: (codes: Parameters<typeof untoldLine>[0][]): string =>
    codes
      .filter(({ code }) => code !== "prior_kept")
      .map(untoldLine)
      .join(" "),
  /** What of that stands in front of the answer: log and job, or the log's own lines, don't fit together. */
  doubts: (codes: Parameters<typeof untoldLine>[0][]): string =>
    codes
      .filter(({ code }) => comesFirst(code))
      .map(doubtLine)
      .join(" "),
  /** To which side the wall to make is rounded: away from the limit that it stands at. */
  wallSide,
  /** Of a cup of plastisol: that it is used up, or held hot for too long, and what of its life a heat takes. */
  usedUp: (left: Quantified): string => usedUpLines(left).join(" "),
  cups: (left: Quantified, cups: Parameters<typeof cupLines>[1]): string =>
    cupLines(left, cups).join(" "),
  cupUse,
  /** Shots of a log that were opened too soon, from the answer to `plan`. */
  openedSoon: (shots: Parameters<typeof openedSoonLines>[0]): string =>
    openedSoonLines(shots).join(" "),
  /** The step of all times of an evening, s, and a time by it: one at which a mold may be opened is rounded up. */
  eveningStep,
  eveningTime,
  /** Lines of a log that hardly go with the others, from the answer to `fit`. */
  odd: (lines: readonly number[]): string => oddLines(lines).join(" "),
  /** From which shot on a fixed timer opens too early, from the answer to `shots`. */
  timer: (tooEarly: Parameters<typeof timerLines>[0]): string => timerLines(tooEarly).join(" "),
  /** That the core has not set at opening, from the answer to `touch`. */
  molten: (answer: Parameters<typeof moltenLines>[0]): string => moltenLines(answer).join(" "),
  /** A mass in whole steps of a scale, kg, and what of a pour is too small for it, from the answer to `mix`. */
  weighed: (mass: number, step: number): string => weighedText(mass, step, "metric"),
  smallestBatch: (pour: MixedPour, step: number): string => smallestBatchText(pour, step, "metric"),
  tooSmall: (pours: readonly MixedPour[], step: number): string =>
    pours.flatMap((pour) => tooSmallLine(pour, step, "metric") ?? []).join(" "),
  worstError: worstErrorText,
  /** To what a pot life is rounded, s: `step` of an output, beside `towards: "down"`. */
  potLifeStep,
  /** A share with the digits that it was written with, and to what those made of such shares are rounded: `step` of an output. */
  share: (share: number): string => formatQuantity(share, "ratio"),
  steps: { share: SHARE_STEP, caliper: CALIPER_STEPS },
  scaleSteps: scaleStepsText,
};
