import { type FitAnswer, type FitContent, fit as fitLog } from "../../../lib/questions/fit/fit.ts";
import { fitKinds } from "../../../lib/questions/fit/kinds.ts";
import {
  formatDuration,
  formatQuantity,
  rangeInWords,
  spanInWords,
} from "../../../lib/units/format.ts";
import { inputName } from "../../messages/inputs.ts";
import { oddLines } from "../../messages/log.ts";
import { comesFirst, doubtLine, untoldLine } from "../../messages/untold.ts";
import type { ReadLog } from "../../notebook/files/log-file.ts";
import { listText, tableText } from "../table.ts";
import type { Question } from "./question.ts";

const PLACES: Readonly<Record<FitContent["of"], string>> = {
  bait: "in the middle of a bait",
  pour: "in the middle of a pour",
  cup: "in a cup of mixed resin",
  shop: "",
};

const MEANS: Readonly<Record<FitContent["means"][number]["name"], string>> = {
  demold: "Such a bait may be opened after",
  gelAt25: "A thin film of this resin gels at 25 °C after",
  peak: "This pour peaks at",
};

type Means = FitContent["means"][number];

function meansText({ name, value, before }: Means, words: (q: Means["value"]) => string): string {
  if (!before) return `${MEANS[name]} ${words(value)}.`;
  const narrower = (value.high - value.low) / (before.high - before.low);
  const by =
    narrower < 0.95 ? `: a range ${Math.round(100 * (1 - narrower))} % narrower` : ", no narrower";
  return `${MEANS[name]} ${words(value)}; before, ${spanInWords(before, value.kind)}${by}.`;
}

/** A log of baits that teaches nothing: what it would have taught is not told. */
const isRefused = ({ of, fitted }: FitAnswer["answer"]): boolean =>
  fitted === null && (of === "bait" || of === "shop");

const asBeforeText = ({ name, value }: Means): string =>
  `So it teaches nothing. ${MEANS[name]}, as before the log, ${spanInWords(value, value.kind)}.`;

function leftOut(count: number, one: string, many: string): string[] {
  if (count === 0) return [];
  return [count === 1 ? `1 ${one} is left out.` : `${count} ${many} are left out.`];
}

/** What was done to the log before it was fitted. */
function notesText(read: ReadLog): string[] {
  if (read.kind === "shop") return [];
  const { gaps, spikes, before, start } = read.notes;
  const time = formatQuantity(start, "duration");
  const [first = 0, last = first] = [read.log.time[0], read.log.time.at(-1)];
  return [
    `Read as a log of ${formatDuration(last - first)}.`,
    ...(before > 0
      ? [`The plastic came ${time} after the log began; ${before} readings before it are left out.`]
      : []),
    ...leftOut(gaps, "line without a reading", "lines without a reading"),
    ...leftOut(spikes, "wild reading", "wild readings"),
  ];
}

/** With the lines that don't go with the others by their numbers in the file, as its errors are told. */
function byFile(read: ReadLog, found: FitAnswer): FitAnswer {
  if (read.kind === "probe") return found;
  const odd = found.answer.odd.map((line) => read.numbers[line - 1] ?? line);
  return { ...found, answer: { ...found.answer, odd } };
}

/** The question of one log; it is asked like any other. `found` is its answer, once it was run. */
export function fitQuestion(read: ReadLog): Question<FitAnswer> & { found(): FitAnswer } {
  let last: FitAnswer | undefined;
  return {
    found: () => last!,
    name: "fit",
    about: "what a log of temperatures says about plastic, mold or resin",
    reads: ["room", "bait", "mold", "shot", "pour", "limits", "uncertainty"],
    kinds: fitKinds,
    run: (job, options) => {
      // a job that was fitted before is asked what this log says of it as it was
      last = byFile(read, fitLog(job, read.log, options));
      return last;
    },
    text({ answer }, _job, system) {
      const { of, readings, parameters, residual, means, cannotTell, odd } = answer;
      const told = parameters.filter((p) => p.told);
      const words = (p: (typeof parameters)[number]["fitted"]) =>
        rangeInWords(p, p.kind, { system });
      const scatter = of === "pour" || of === "cup" ? "About 95 of 100 lie" : "Eight of ten lie";
      return {
        headline: [
          of === "shop"
            ? `Read as a shop's log: ${readings} lines that tell of the time.`
            : `Read as a probe ${PLACES[of]}: ${readings} readings, ${told.length} of ${parameters.length} unknowns narrowed.`,
          ...notesText(read),
          ...cannotTell.filter(({ code }) => comesFirst(code)).map(doubtLine),
          ...means.map((one) => (isRefused(answer) ? asBeforeText(one) : meansText(one, words))),
          ...oddLines(odd),
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
          of === "shop"
            ? `${scatter} in the range.`
            : `${scatter} in the range. The curve misses the readings by ${formatQuantity(residual, "temperatureDifference", { system })} on the whole.`,
          "",
          "The log cannot tell",
          // the table has told already which inputs are as they were
          ...listText(
            cannotTell
              .filter(({ code }) => code !== "prior_kept" && !comesFirst(code))
              .map(untoldLine),
          ),
          ...(answer.fitted
            ? ["", "With --write JOB.yaml all questions about that job answer from this log."]
            : []),
        ],
      };
    },
    drawings: ({ answer: { curve } }) =>
      curve.time.length === 0
        ? []
        : [
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
