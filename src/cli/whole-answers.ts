/** Whole answers, from a job to the number at the bench, beside those that somebody else's solver gave for the same job. */

import written from "../../data/reference/whole-answers.json" with { type: "json" };
import jobs from "../../data/reference/whole-answers-jobs.json" with { type: "json" };
import { checkJob } from "../../lib/job/job.ts";
import type { DemoldAnswer } from "../../lib/questions/demold/demold.ts";
import type { LayerAnswer } from "../../lib/questions/layer/layer.ts";
import type { PourAnswer } from "../../lib/questions/pour/pour.ts";
import type { ShotsAnswer } from "../../lib/questions/shots/shots.ts";
import { toUnit } from "../../lib/units/display.ts";
import { questions } from "./questions.ts";

interface WholeAnswer {
  readonly job: string;
  readonly question: string;
  readonly what: string;
  readonly value: number;
  readonly unit: "s" | "degC";
  /** Of the independent value, by its coarser grid. */
  readonly error: number;
  /** In the unit: 3 % of a time or 1 K. What both leave out is the same, and what they do not is solved to parts in a thousand. */
  readonly allowed: number;
}

/** Values of an own program in another language and method: `tests/reference/independent/whole_answers.py`. */
export const wholeAnswers: readonly WholeAnswer[] = (
  written as readonly Omit<WholeAnswer, "allowed">[]
).map((row) => ({ ...row, allowed: row.unit === "s" ? 0.03 * row.value : 1 }));

type Named = Readonly<Record<string, number>>;
const celsius = (T: number) => toUnit(T, "degC");

/** What the independent program calls the numbers of an answer. */
const NAMED: Readonly<Record<string, (answer: never) => Named>> = {
  demold: ({ answer }: DemoldAnswer) => ({ demold: answer.time.value }),
  shots: ({ answer: { shots, settled, steady } }: ShotsAnswer) => ({
    first: shots[0]!.demold,
    third: shots[2]!.demold,
    settled: settled.value,
    "settled face": celsius(steady.wallPeak),
  }),
  layer: ({ answer: { open, close } }: LayerAnswer) => ({ opens: open.value, closes: close.value }),
  pour: ({ answer: { peak, peakTime } }: PourAnswer) => ({
    peak: celsius(peak.value),
    "peak time": peakTime.value,
  }),
};

/** The numbers of an answer by their names, s and degC, as the command answers: its own entry, no quick look. */
export function answeredWhole(job: string, question: string): Named {
  const asked = questions.find(({ name }) => name === question);
  const named = NAMED[question];
  const given = (jobs as Readonly<Record<string, unknown>>)[job];
  if (!asked || !named || given === undefined) throw new Error(`${job}: ${question} is not known`);
  return named(asked.run(checkJob(given).job) as never);
}
