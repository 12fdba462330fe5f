/** The bare heat problems of `demold`: one section for each station. */
import type { Job } from "../../job/types.ts";
import { sectionModel } from "../../models/bait/section.ts";
import { coolingStage } from "../../models/cooling.ts";
import { scenarioOf } from "../../models/scenario.ts";
import type { BareProblem } from "../../solve/bare-problem.ts";
import { writeSolveProblem } from "../../solve/write.ts";

/**
 * What the answer of `demold` rests on, ready for `solve` or for a solver of one's own.
 *
 * @param job from `readJob`
 * @returns for each station its section in the block, cooled until its hottest point is at the limit
 * @throws InputError when the job makes no solvable problem
 * @example demoldProblems(readJob("bait: { thickness: 16 mm }").job)[0].gives["stations[0].time"] // "stageEnds[0]"
 */
export function demoldProblems(job: Job): BareProblem[] {
  const limit = job.limits.demold;
  return job.bait.stations.map((station, i) => ({
    name: station.name,
    problem: writeSolveProblem({
      ...sectionModel(scenarioOf(job), station).problem,
      stages: [coolingStage(limit)],
    }),
    gives: {
      [`stations[${i}].time`]: "stageEnds[0]",
    },
  }));
}
