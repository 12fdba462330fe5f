/** The bare heat problem of `sprue`: the sprue as a long round bar in the mold wall. */
import type { Job } from "../../job/types.ts";
import { setTemperature } from "../../models/bait/bar.ts";
import { scenarioOf } from "../../models/scenario.ts";
import { closingProblem } from "../../models/sprue/cooling.ts";
import type { BareProblem } from "../../solve/bare-problem.ts";
import { writeSolveProblem } from "../../solve/write.ts";

/**
 * What the closing time of `sprue` rests on, ready for `solve` or for a solver of one's own.
 *
 * @param job from `readJob`
 * @returns the sprue from the moment that it is full, until its center has set
 * @throws InputError when the job makes no solvable problem
 * @example sprueProblems(readJob("bait: { thickness: 16 mm }").job)[0].gives["sprueCloses.value"] // "crossings[0].time"
 */
export function sprueProblems(job: Job): BareProblem[] {
  const hollow = { form: "round", across: job.sprue.diameter } as const;
  return [
    {
      name: "sprue",
      problem: writeSolveProblem(
        closingProblem(scenarioOf(job), hollow, "center", setTemperature(job)),
      ),
      gives: { "sprueCloses.value": "crossings[0].time" },
    },
  ];
}
