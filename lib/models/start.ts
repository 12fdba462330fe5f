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

/** Of both halves, K: of a bar, which is cooled by both alike. */
export const meanOfHalves = ({ mold }: Pick<Job, "mold">): number =>
  (mold.temperature + mold.upperTemperature) / 2;

/** Of the warmer half, K. */
export const warmerHalf = ({ mold }: Pick<Job, "mold">): number =>
  Math.max(mold.temperature, mold.upperTemperature);

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

/** The key that counts where this one is asked for: a preheat takes the place of either half's temperature. */
export function countingPath(path: string, { run }: Job): string {
  return run.preheat !== null && /^mold\.(t|upperT)emperature$/.test(path) ? "run.preheat" : path;
}

/** A parsed job file that says of the mold, as of where it starts, what it said of the preheat: both halves. */
export function preheatAsStart(raw: Record<string, unknown>): Record<string, unknown> {
  const { preheat, ...run } = (raw["run"] ?? {}) as Record<string, unknown>;
  if (preheat === undefined || preheat === null) return raw;
  const { upperTemperature: _, ...mold } = (raw["mold"] ?? {}) as Record<string, unknown>;
  return { ...raw, run, mold: { ...mold, temperature: preheat } };
}
