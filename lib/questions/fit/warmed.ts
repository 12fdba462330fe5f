/** How much longer the shots of a logged evening take for what their molds have behind them. Times s. */
import type { Job } from "../../job/types.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { scenarioOf } from "../../models/scenario.ts";
import { barTimeOf } from "../../models/shots/bar-time.ts";
import { paceOf } from "../../models/shots/cycle.ts";
import { shotTimes } from "../../models/shots/run-times.ts";
import type { ShotBehind } from "../../models/shots/timeline.ts";
import { slowestBar } from "./slowest-bar.ts";

/** Of a line of a shop's log: its mold's temperature as it was read, K, its time in the mold, and which mold was filled when. */
interface LoggedShot {
  readonly mold: number | null;
  readonly opened: number;
  readonly filled?: { readonly mold: string; readonly at: number };
}

/** So many shots before warm a mold; those before them are forgotten. */
const REMEMBERED = 20;
/** What lies back by more, s, is another day: the mold has cooled. */
const ANOTHER_DAY = 8 * 3600;

/**
 * Of each line, its time over that of a first shot, most likely; 1: its mold was as it starts, or how warm it was is read or not
 * told.
 *
 * @param truer how much longer a shot takes than its bar
 */
export function warmedBy(
  job: Job,
  lines: readonly LoggedShot[],
  truer: number,
  options: QuestionOptions,
): number[] {
  if (lines.every(({ mold, filled }) => mold !== null || filled === undefined))
    return lines.map(() => 1);
  const pace = paceOf(job.run, job.limits.demold, 1);
  const bar = slowestBar(job, options).modelOf(job);
  const timeOf = barTimeOf(scenarioOf(job, options), bar, { pace, factor: truer });
  const first = timeOf({ before: [], injected: 0 });
  const taken = options.quick ? 1 : blockTakes(job, options);
  const behind = new Map<string, ShotBehind[]>();
  return lines.map(({ mold: read, opened, filled }) => {
    if (filled === undefined) return 1;
    const { mold, at } = filled;
    const last = behind.get(mold)?.at(-1);
    const goesOn = last !== undefined && at >= last.injected && at - last.opened < ANOTHER_DAY;
    const before = goesOn ? behind.get(mold)!.slice(-REMEMBERED) : [];
    behind.set(mold, [...before, { injected: at, opened: at + opened }]);
    const share = read === null ? (timeOf({ before, injected: at }) / first) ** taken : 1;
    return share > 0 && Number.isFinite(share) ? share : 1;
  });
}

/** Of what warming adds to the bar's time, so much is added to that of the section in its block: by their settled shots, in logarithms. */
function blockTakes(job: Job, options: QuestionOptions): number {
  const [section, bar] = [false, true].map((quick) => {
    const { rows, settled } = shotTimes(job, { ...options, quick, likelyOnly: true });
    return Math.log(settled.opensAfter / rows[0].opensAfter);
  });
  const taken = section / bar;
  return taken > 0 && Number.isFinite(taken) ? taken : 1;
}
