import type { BudgetAnswer } from "../../../lib/questions/budget/budget.ts";
import { formatQuantity, rangeInWords, timeText } from "../../../lib/units/format.ts";
import { usedUpLines } from "../../messages/cups.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { causeText, hotPlasticWarning, inBoth, leverText } from "../report.ts";
import { tableText } from "../table.ts";
import type { Telling } from "./question.ts";

export const budgetQuestion: Telling<BudgetAnswer> = {
  reads: [
    "cup",
    "shot.material",
    "shot.temperature",
    "bait",
    "sprue",
    "mold.cavities",
    "mix.plastic",
    "uncertainty.shot",
    "uncertainty.materials",
  ],
  text({ answer }, job, system) {
    const hot = (si: number) => formatQuantity(si, "temperature", { system });
    const { observation, moreHeats } = answer;
    return {
      headline: [
        `Left at ${inBoth(job.shot.temperature, "temperature", system)}: ${rangeInWords(answer.left, "duration")}.`,
        ...hotPlasticWarning(job.shot.temperature, answer.pourMost, system),
        ...usedUpLines(answer.left),
        `Used so far: ${rangeInWords(answer.used, "ratio")} of its life.`,
        `Decided by ${reasonPhrase(answer.decidedBy)}.`,
        ...causeText(answer.cause, answer.left),
      ],
      body: [
        `Measured by yellowing after ${formatQuantity(observation.duration, "duration")} at ${hot(observation.T)}: ${answer.calibrated ? "your own observation." : "a guess, one observation of yours is worth more."}`,
        ...(moreHeats === null ? [] : [heatsLeft(moreHeats)]),
        `The cup holds ${["less than a shot", "1 shot"][answer.shotsInCup] ?? `${answer.shotsInCup} shots`} of this mold.`,
        `No hotter than ${inBoth(answer.pourMost, "temperature", system)}.`,
        "",
        ...tableText(
          ["held at", "may still be held", "at least"],
          answer.table.map((row) => [
            hot(row.temperature),
            timeText(row.left.value),
            timeText(row.left.low, "down"),
          ]),
        ),
      ],
      levers: answer.levers.map((lever) => leverText(lever, system)),
    };
  },
};

function heatsLeft({ value, low, high }: NonNullable<BudgetAnswer["answer"]["moreHeats"]>): string {
  const start = "Heats like the last one that are left: ";
  if (low === high) return `${start}${value === 0 ? "none" : value}.`;
  return `${start}${low === 0 ? "none" : low} for sure, most likely ${value === 0 ? "none" : value}.`;
}
