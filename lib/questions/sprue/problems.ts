/** The bare heat problem of `sprue`: gate and sprue round about their axis. */
import type { Job } from "../../job/types.ts";
import { fattestOf, partsOf } from "../../models/sprue/body.ts";
import type { BareProblem } from "../../solve/bare-problem.ts";
import { writeSolveProblem } from "../../solve/write.ts";
import { neckProblem } from "./neck.ts";
import type { SprueAnswer } from "./sprue.ts";

/**
 * What the closing time of `sprue` rests on, ready for `solve` or for a solver of one's own.
 *
 * @param job from `readJob`
 * @param answer of `sprue` for the same job: it says which of gate and sprue closes first
 * @returns the neck from the body to the top of the sprue
 * @throws InputError when the job makes no solvable problem
 * @example sprueProblems(readJob("bait: { thickness: 16 mm }").job, sprue(readJob("bait: { thickness: 16 mm }").job, { quick: true }))[0].name // "neck"
 */
export function sprueProblems(job: Job, { answer }: SprueAnswer): BareProblem[] {
  const place = answer.decidedBy.code === "gate_closes" ? 0 : 1;
  return [
    {
      name: "neck",
      problem: writeSolveProblem(neckProblem({ job, airFactor: 1 }, fattestOf(partsOf(job)))),
      gives: { "closes.value": `crossings[${place}].time` },
    },
  ];
}
