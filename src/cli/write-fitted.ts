/** `fit --write JOB.yaml`: what the log has taught, put down in a job as its own. */
import { withFitted } from "../../lib/job/fitted-text.ts";
import { checkJob } from "../../lib/job/job.ts";
import { parseJobText } from "../../lib/job/text.ts";
import type { FitAnswer } from "../../lib/questions/fit/fit.ts";
import { InputError } from "../../lib/units/problem.ts";
import { textOf, type World } from "./files.ts";

/** Inputs and values as in a job file; comments and order of the file stay. */
export function writeFitted(
  target: string,
  { answer }: FitAnswer,
  given: { readonly text: string },
  world: World,
): void {
  if (answer.fitted === null) {
    world.complain(
      answer.of === "pour" || answer.of === "cup"
        ? `Nothing was written: what is fitted of a resin is put down by hand, in pour.\n`
        : `Nothing was written: the log does not fit the job.\n`,
    );
    return;
  }
  const there = "bytes" in world.size(target);
  const text = withFitted(there ? textOf(world, target) : given.text, answer.fitted);
  checkJob(parseJobText(text));
  const problem = world.write(target, text);
  if (problem) throw new InputError([problem]);
  world.complain(`${target} answers from this log now; delete "fitted" to forget it.\n`);
}
