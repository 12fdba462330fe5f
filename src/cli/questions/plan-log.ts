import { type LogPlanAnswer, type LogWorth, planLog } from "../../../lib/questions/fit/plan-log.ts";
import { rangeInWords, spanInWords, timeText } from "../../../lib/units/format.ts";
import { tableText } from "../table.ts";
import type { Question } from "./question.ts";

const PLACES: Readonly<Record<LogWorth["of"], string>> = {
  middle: "a probe in the middle of a bait",
  face: "a probe on the mold's face",
  shots: "shots, each good or soft",
};

/** `fit` of a job alone: which log is worth making. */
export const planLogQuestion: Question<LogPlanAnswer> = {
  name: "fit",
  about: "what a log would teach, before it is made",
  reads: ["room", "bait", "mold", "shot", "limits", "uncertainty"],
  kinds: { lasts: "duration", shots: "count", left: "ratio" },
  run: (job, options) => planLog(job, options),
  text({ answer }) {
    const { now, logs, station } = answer;
    const long = ({ lasts, shots }: LogWorth) =>
      lasts === null ? `${shots} of them` : `for ${timeText(lasts)}`;
    return {
      headline: [
        `Such a bait may be opened after ${rangeInWords(now, "duration")}, by the quick look.`,
        "What a log would make of that range, before one is made:",
      ],
      body: [
        ...tableText(
          ["log", "how long", "leaves", "the range then"],
          logs.map((one) => [
            PLACES[one.of],
            long(one),
            `${Math.round(100 * one.left)} %`,
            spanInWords(one.time, "duration"),
          ]),
        ),
        `The probe goes into the ${station}, from the shot on, a reading every few seconds.`,
        "Give the log to castclock fit JOB.yaml LOG.csv.",
      ],
    };
  },
};
