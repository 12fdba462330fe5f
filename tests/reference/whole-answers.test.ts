/** Whole answers against values that `independent/whole_answers.py` computed from the same jobs and the catalog alone. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { checkJob } from "../../lib/job/job.ts";
import type { DemoldAnswer } from "../../lib/questions/demold/demold.ts";
import type { LayerAnswer } from "../../lib/questions/layer/layer.ts";
import type { PourAnswer } from "../../lib/questions/pour/pour.ts";
import type { ShotsAnswer } from "../../lib/questions/shots/shots.ts";
import { questions } from "../../src/cli/questions.ts";

interface Row {
  readonly job: string;
  readonly question: string;
  readonly what: string;
  readonly value: number;
  readonly unit: "s" | "degC";
  /** Of the independent value, by its coarser grid. */
  readonly error: number;
}

const read = <T>(name: string): T =>
  JSON.parse(readFileSync(new URL(`independent/${name}`, import.meta.url), "utf8")) as T;
const jobs = read<Record<string, unknown>>("whole_answers_jobs.json");
const rows = read<Row[]>("whole_answers.json");

/** What the independent script calls the numbers of an answer; SI. */
type Named = Readonly<Record<string, number>>;
const NAMED: Readonly<Record<string, (answer: never) => Named>> = {
  demold: ({ answer }: DemoldAnswer) => ({ demold: answer.time.value }),
  shots: ({ answer: { shots, settled, steady } }: ShotsAnswer) => ({
    first: shots[0].demold,
    third: shots[2].demold,
    settled: settled.value,
    "settled face": steady.wallPeak,
  }),
  layer: ({ answer: { open, close } }: LayerAnswer) => ({ opens: open.value, closes: close.value }),
  pour: ({ answer: { peak, peakTime } }: PourAnswer) => ({
    peak: peak.value,
    "peak time": peakTime.value,
  }),
};

/** As the command answers: its own entry, no quick look. */
function answered(job: string, question: string): Named {
  const asked = questions.find(({ name }) => name === question)!;
  return NAMED[question](asked.run(checkJob(jobs[job]).job) as never);
}

const ZERO_CELSIUS = 273.15;
const cases = [...new Map(rows.map((r) => [`${r.job}: ${r.question}`, r])).values()];
/** Seconds each: one of a kind every day, LONG=1 all. */
const LONG =
  /^(flat, epoxy|round, aluminum|round, silicone): demold|^round, aluminum: shots|by a pot life/;
const mine = cases.filter(
  ({ job, question }) => process.env["LONG"] || !LONG.test(`${job}: ${question}`),
);

test("a dozen values at the least, each surer than what it is to judge", () => {
  expect(rows.length).toBeGreaterThanOrEqual(12);
  for (const { value, unit, error } of rows)
    expect(error).toBeLessThan(unit === "s" ? 0.01 * value : 0.1);
});

describe.each(mine)("$job: $question", ({ job, question }) => {
  const expected = rows.filter((r) => r.job === job && r.question === question);
  const found = answered(job, question);
  // whole answers within 3 % or 1 K: what both leave out is the same, and what they do not is solved to a few parts in a thousand
  test.each(expected)("$what", ({ what, value, unit }) => {
    if (unit === "s") expect(Math.abs(found[what] / value - 1)).toBeLessThan(0.03);
    else expect(Math.abs(found[what] - ZERO_CELSIUS - value)).toBeLessThan(1);
  });
});
