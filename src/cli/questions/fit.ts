import {
  type FitAnswer,
  type FitContent,
  fit as fitLog,
  type TemperatureLog,
} from "../../../lib/questions/fit/fit.ts";
import { fitKinds } from "../../../lib/questions/fit/kinds.ts";
import { formatQuantity, rangeInWords } from "../../../lib/units/format.ts";
import { inputName } from "../../messages/inputs.ts";
import { untoldLine } from "../../messages/untold.ts";
import { listText, tableText } from "../table.ts";
import type { Question } from "./question.ts";

const PLACES: Readonly<Record<FitContent["of"], string>> = {
  bait: "in the middle of a bait",
  pour: "in the middle of a pour",
  cup: "in a cup of mixed resin",
};

const MEANS: Readonly<Record<FitContent["means"][number]["name"], string>> = {
  demold: "Such a bait may be opened after",
  gelAt25: "A thin film of this resin gels at 25 °C after",
  peak: "This pour peaks at",
};

/** The question of one log; it is asked like any other. */
export function fitQuestion(log: TemperatureLog): Question<FitAnswer> {
  return {
    name: "fit",
    about: "what a log of temperatures says about plastic, mold or resin",
    reads: ["room", "bait", "mold", "shot", "pour", "limits", "uncertainty"],
    kinds: fitKinds,
    run: (job, options) => fitLog(job, log, options),
    text({ answer }, _job, system) {
      const { of, readings, parameters, residual, means, cannotTell } = answer;
      const told = parameters.filter((p) => p.told);
      const words = (p: (typeof parameters)[number]["fitted"]) =>
        rangeInWords(p, p.kind, { system });
      return {
        headline: [
          `Read as a probe ${PLACES[of]}: ${readings} readings, ${told.length} of ${parameters.length} unknowns narrowed.`,
          ...means.map(({ name, value }) => `${MEANS[name]} ${words(value)}.`),
        ],
        body: [
          ...tableText(
            ["", "from the log", "before"],
            parameters.map(({ name, fitted, before, told: known }) => [
              inputName(name),
              known ? words(fitted) : "not told",
              words(before),
            ]),
          ),
          `About 95 of 100 lie in the range. The curve misses the readings by ${formatQuantity(residual, "temperatureDifference", { system })} on the whole.`,
          "",
          "The log cannot tell",
          ...listText(cannotTell.map(untoldLine)),
        ],
      };
    },
    drawings: ({ answer: { curve } }) => [
      {
        name: "fit",
        figure: {
          kind: "figure",
          caption: "The log, and the curve that fits it",
          x: { label: "Time", unit: "s" },
          y: { label: "Temperature", unit: "degC" },
          marks: [
            {
              mark: "dot",
              data: { t: [...curve.time], T: [...curve.read] },
              x: "t",
              y: "T",
              stroke: "warm",
              label: "read",
            },
            {
              mark: "line",
              data: { t: [...curve.time], T: [...curve.model] },
              x: "t",
              y: "T",
              stroke: "ink",
              label: "computed",
            },
          ],
        },
      },
    ],
  };
}
