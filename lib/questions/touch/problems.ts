/** The bare heat problem of `touch`: the bar in its mold, then alone in the air. */
import type { Job } from "../../job/types.ts";
import { scenarioOf, scenarioSurroundings } from "../../models/scenario.ts";
import type { BareProblem } from "../../solve/bare-problem.ts";
import { writeSolveProblem } from "../../solve/write.ts";
import { openedProblem } from "./cooling.ts";
import { stationThatDecides } from "./opening.ts";
import type { TouchAnswer } from "./touch.ts";

/**
 * What the answer of `touch` rests on, ready for `solve` or for a solver of one's own.
 *
 * @param job from `readJob`
 * @param answer of `touch` for the same job: it says when the mold is opened
 * @returns the fattest station as a bar or sheet, its mold taken away when it is opened
 * @throws InputError when the job makes no solvable problem
 * @example touchProblems(readJob("bait: { thickness: 16 mm }").job, touch(readJob("bait: { thickness: 16 mm }").job, { quick: true }))[0].gives["core.value"] // "probes.core[0]"
 */
export function touchProblems(job: Job, { answer }: TouchAnswer): BareProblem[] {
  const { openingOfBar: opening, moldOfBar, air } = answer;
  const scenario = scenarioOf(job);
  const around = scenarioSurroundings(scenario).open;
  const { hollow: body, wide } = stationThatDecides(job);
  const problem = openedProblem({ scenario, body, opening, moldOfBar, wide, around });
  const later = air.course.times[air.course.times.length - 1];
  const [closed, open] = problem.stages;
  return [
    {
      name: "out of the mold",
      problem: writeSolveProblem({
        ...problem,
        stages: [closed, { ...open, until: opening + later }],
        times: [opening, opening + later],
      }),
      gives: {
        "core.value": "probes.core[0]",
        "mean.value": "probes.mean[0]",
        [`air.course.mean[${air.course.times.length - 1}]`]: "probes.mean[1]",
      },
    },
  ];
}
