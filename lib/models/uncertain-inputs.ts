/** What is not known for sure of a shot: inputs whose spread moves every cooling time, by their paths in the job. */

import type { Uncertain } from "../confidence/uncertain.ts";
import { type JobInput, jobInputs } from "../job/inputs.ts";
import type { Job } from "../job/types.ts";
import { drawn, NINE_OF_TEN } from "../numerics/deviates.ts";
import type { Scenario } from "./scenario.ts";

/** Correlations of air hold to this share. */
const AIR = { value: 1, low: 0.8, high: 1.2 };

/** An input of a job in a scenario. */
function inScenario({ name, at }: { name: string; at: JobInput["at"] }): Uncertain<Scenario> {
  return { name, at: (s, z) => ({ ...s, job: at(s.job, z) }) };
}

/** An input that is given with a half-width. */
export function givenInput(
  name: string,
  width: number,
  move: (job: Job, by: number) => Job,
): Uncertain<Scenario> {
  return inScenario({ name, at: (job, z) => move(job, (width / NINE_OF_TEN) * z) });
}

/** Inputs of a shot whose spread moves every cooling time, independent of each other. */
export function uncertainInputs(job: Job): Uncertain<Scenario>[] {
  return [
    ...independent(job).map(inScenario),
    { name: "air", at: (s, z) => ({ ...s, airFactor: s.airFactor * drawn(AIR, z) }) },
  ];
}

/** The job's inputs; those that a log has tied together as the independent deviates behind them. */
function independent(job: Job): { name: string; at: JobInput["at"] }[] {
  const inputs = jobInputs(job);
  const { fitted } = job;
  const tied = fitted.map(({ name }) => inputs.find((input) => input.name === name));
  return [
    ...inputs.filter((input) => !tied.includes(input)),
    ...fitted.map(({ name }, k) => ({
      name,
      at: (given: Job, u: number) =>
        fitted.reduce((moved, { row }, i) => {
          const by = i >= k ? row[k] : 0;
          return by === 0 ? moved : (tied[i]?.at(moved, by * u) ?? moved);
        }, given),
    })),
  ];
}
