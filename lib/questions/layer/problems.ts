/** The bare heat problem of `layer`: the first color open, then both colors closed. */
import type { Job } from "../../job/types.ts";
import { setTemperature } from "../../models/bait/bar.ts";
import { LONGEST_COOLING } from "../../models/cooling.ts";
import { colorStages } from "../../models/layer/colors.ts";
import { layerSection } from "../../models/layer/section.ts";
import { scenarioOf } from "../../models/scenario.ts";
import type { BareProblem } from "../../solve/bare-problem.ts";
import { writeSolveProblem } from "../../solve/write.ts";
import { type LayerAnswer, layeredStation } from "./layer.ts";

/**
 * What the window of `layer` rests on, ready for `solve` or for a solver of one's own.
 *
 * @param job from `readJob`
 * @param answer of `layer` for the same job: it says when the second color comes in
 * @returns the section with its first two colors
 * @throws InputError when the job makes no solvable problem
 * @example layerProblems(readJob("bait: { thickness: 16 mm }").job, layer(readJob("bait: { thickness: 16 mm }").job, { quick: true, further: false }))[0].gives["reason.set"] // "crossings[0].time"
 */
export function layerProblems(job: Job, { answer }: LayerAnswer): BareProblem[] {
  const sequence = layerSection(scenarioOf(job), layeredStation(job));
  const { reason, injectAt } = answer;
  const first = Math.max(reason.set, 1);
  const wait = injectAt?.value ?? (Number.isFinite(first) ? 1.2 * first : LONGEST_COOLING / 6);
  return [
    {
      name: "two colors",
      problem: writeSolveProblem({
        ...sequence.problem,
        stages: colorStages(sequence, wait, job.limits.demold, LONGEST_COOLING),
        crossings: [{ probe: "hottest 0", below: setTemperature(job) }],
      }),
      gives: { "reason.set": "crossings[0].time" },
    },
  ];
}
