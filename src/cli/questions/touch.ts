import { touchProblems } from "../../../lib/questions/touch/problems.ts";
import type { Outside, TouchAnswer } from "../../../lib/questions/touch/touch.ts";
import { formatQuantity, rangeInWords, timeText } from "../../../lib/units/format.ts";
import { reasonPhrase } from "../../messages/reasons.ts";
import { moltenLines } from "../../messages/timer.ts";
import { causeText, leverText, rangeInBoth } from "../report.ts";
import type { Drawing } from "../svg.ts";
import { tableText, wrapped } from "../table.ts";
import { OF_ONE_SHOT, type Telling } from "./question.ts";

export const touchQuestion: Telling<TouchAnswer> = {
  reads: [...OF_ONE_SHOT, "run.timer", "limits.demold", "uncertainty"],
  problems: (answer, job) => touchProblems(job, answer),
  text({ answer }, _job, system) {
    const hot = (si: number) => formatQuantity(si, "temperature", { system });
    const wait = (si: number) => (si <= 0 ? "at once" : timeText(si));
    const outside = (name: string, { ambient, skinPeak, skinPeakAfter, safe, cold }: Outside) => [
      name,
      hot(ambient),
      `${hot(skinPeak.value)}, ${wait(skinPeakAfter)}`,
      // what is not sure burns
      ...safe.map(({ from }) => (from.high <= 0 ? "at once" : sureEnd(from))),
      wait(cold.value),
    ];
    const { safe, opening, bag } = answer;
    return {
      headline: [
        ...moltenLines(answer),
        safe.high <= 0
          ? "Safe to hold in the hand at once."
          : safe.value <= 0
            ? `Surely safe to hold in the hand, in air, ${sureEnd(safe)} after opening; most likely at once.`
            : `Safe to hold in the hand, in air: ${rangeInWords(safe, "duration")} after opening.`,
        `Decided by ${reasonPhrase(answer.decidedBy)}.`,
        ...causeText(answer.cause, answer.safe),
      ],
      body: [
        ...wrapped(
          `Opened ${answer.openedBy === "timer" ? `by the fixed timer, after ${formatQuantity(opening, "duration")}` : "at the demold limit"}, the ${answer.station} is ${rangeInBoth(answer.skin, "temperature", system)} at the skin and ${rangeInBoth(answer.core, "temperature", system)} at the core.`,
          96,
        ),
        "",
        ...tableText(
          [
            "lies in",
            "at",
            "skin peaks",
            ...answer.air.safe.map(
              ({ contact }) => `surely ${formatQuantity(contact, "duration")}`,
            ),
            "cold through",
          ],
          [outside("air", answer.air), outside("water", answer.water)],
        ),
        "Times count from opening; what may surely be touched so long.",
        "Bag it 1 to 2 days after it is cold through, laid flat (common practice, no source).",
      ],
      levers: answer.levers.map((lever) => leverText(lever, system)),
    };
  },
  drawings: ({ answer }) => [
    drawing("touch-air", "In air after opening", answer.air),
    drawing("touch-water", "In water after opening", answer.water),
  ],
};

/** The sure end of a time, rounded to its safe side. */
function sureEnd({ high }: { readonly high: number }): string {
  return timeText(high, "up");
}

function drawing(name: string, caption: string, { course }: Outside): Drawing {
  const { times, skin, mean, core } = course;
  const data = { t: [...times], skin: [...skin], mean: [...mean], core: [...core] };
  return {
    name,
    figure: {
      kind: "figure",
      caption,
      x: { label: "After opening", unit: "s" },
      y: { label: "Temperature", unit: "degC" },
      marks: [
        { mark: "line", data, x: "t", y: "core", stroke: "warm", label: "core" },
        { mark: "line", data, x: "t", y: "mean", stroke: "ink", label: "mean" },
        { mark: "line", data, x: "t", y: "skin", stroke: "skin", label: "skin" },
      ],
    },
  };
}
