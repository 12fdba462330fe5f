/** The state in which a shot finds its mold. Temperatures K. */
import type { IgnoredCode } from "../answers/answer.ts";
import type { Job } from "../job/types.ts";

/** The job with both mold halves at this temperature, whatever it was preheated to. */
export function withMold(job: Job, temperature: number): Job {
  return {
    ...job,
    mold: { ...job.mold, temperature, upperTemperature: temperature },
    run: { ...job.run, preheat: null },
  };
}

/** The job as its first shot finds it: a preheated mold is as warm as that, both halves. */
export function atStart(job: Job): Job {
  const { preheat } = job.run;
  return preheat === null ? job : withMold(job, preheat);
}

/** What a preheat takes the place of. */
export function ignoredByPreheat({ run }: Job): IgnoredCode[] {
  return run.preheat === null ? [] : ["mold_before_preheat"];
}

/** The key that sets how warm the mold is at the first shot. */
export function moldTemperaturePath({ run }: Job): "run.preheat" | "mold.temperature" {
  return run.preheat === null ? "mold.temperature" : "run.preheat";
}
