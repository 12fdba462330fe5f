/**
 * Open times of molds that were not used as planned: filled again sooner they are warmer, after a pause cooler. Each mold is
 * marched in one dimension through its injections and openings as they were, and beside it as they were planned; what lies
 * between the two is carried over to the section by what a warm mold adds to either's time. Times s.
 */
import { cool, DRAFTING } from "../cooling.ts";
import { barTimeOf } from "./bar-time.ts";
import { openAfterOf } from "./bench.ts";
import type { ShotTimes } from "./run-times.ts";
import type { Bench, MoldUse, PlannedShot } from "./timeline.ts";

/** A shot that opens within this share of its planned time is as planned, and so are those after it. */
const AS_PLANNED = 2e-3;
/** So many shots after the log are marched; what then lies between it and the plan falls on as it did, by this factor at least. */
const MOST_MARCHED = 15;
const SLOWEST = 0.98;
/** A time to opening that is longer by a smaller share for the mold's warmth tells nothing of it. */
const LEAST_WARMED = 0.01;

/**
 * The bench of an evening that did not go as planned.
 *
 * @param planned the shots as they were foreseen without a log
 * @param logged shots of each mold that the log has, by its number
 */
export function benchAsUsed(
  bench: Bench,
  run: ShotTimes,
  planned: readonly PlannedShot[],
  logged: (mold: number) => number,
): Bench {
  const { scenario, bar, pace, rows } = run;
  const first = cool(bar, scenario.job.limits.demold, DRAFTING).time;
  const factor = rows[0].opensAfter / first;
  if (!(factor > 0 && Number.isFinite(factor))) return bench;
  const barTime = barTimeOf(scenario, bar, { pace, factor });
  const foreseen = new Map<number, PlannedShot[]>();
  for (const shot of planned) {
    const own = foreseen.get(shot.mold) ?? [];
    own.push(shot);
    foreseen.set(shot.mold, own);
  }
  /** What lies between a shot and its plan, of the molds' last shots, s. */
  const off = new Map<number, number[]>();
  const marched = (n: number, use: MoldUse, value: number): number => {
    const before = foreseen.get(use.mold) ?? [];
    const like = before[Math.min(n, before.length) - 1];
    if (!like || n === 1) return 0;
    const asPlanned = { before: before.slice(0, like.ofMold - 1), injected: like.injected };
    const foreseenTime = barTime(asPlanned);
    // what warming adds to the section's time, to what it adds to the bar's; where it adds next to nothing, as their first shots
    const warmed = (value - rows[0].opensAfter) / (foreseenTime - first);
    const tells = Math.abs(foreseenTime - first) > LEAST_WARMED * first && warmed > 0;
    const by = (tells ? warmed : factor) * (barTime(use) - foreseenTime);
    return Number.isFinite(by) ? by : 0;
  };
  const offOf = (n: number, use: MoldUse, value: number): number => {
    const past = off.get(use.mold) ?? [];
    const after = n - logged(use.mold);
    const [last, earlier] = [past.at(-1) ?? 0, past.at(-2) ?? 0];
    // the first after the log follows from what happened; then the mold goes back to its planned pace
    if (after > 1 && Math.abs(last) < AS_PLANNED * value) return 0;
    if (after <= MOST_MARCHED) return marched(n, use, value);
    return last * (earlier === 0 ? 0 : Math.min(Math.max(last / earlier, 0), SLOWEST));
  };
  return {
    ...bench,
    openAfter: (n, use) => {
      const { value } = bench.openAfter(n, use);
      if (!Number.isFinite(value)) return bench.openAfter(n, use);
      const by = offOf(n, use, value);
      off.set(use.mold, [...(off.get(use.mold) ?? []), by].slice(-2));
      return openAfterOf(run, Math.max(0, value + by));
    },
  };
}
