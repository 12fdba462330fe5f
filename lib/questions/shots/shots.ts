/** A session at the bench: shot after shot into a mold that keeps its heat. SI and K. */

import type { Answer, Cause, Lever, Quantified } from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import { isMolten } from "../../models/bait/bar.ts";
import { ignoredByShots } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { causeOf, quantified } from "../../models/ranged.ts";
import { benchOf } from "../../models/shots/bench.ts";
import { carriedFrom, type Pace, steadyShot } from "../../models/shots/cycle.ts";
import { march } from "../../models/shots/march.ts";
import { shotTimes } from "../../models/shots/run-times.ts";
import { timelineOf } from "../../models/shots/timeline.ts";
import { ignoredByPreheat, warmerHalf } from "../../models/start.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { shotLevers } from "./levers.ts";
import { type Rotation, rotations } from "./rotation.ts";
import { fastestOpen, type Schedule } from "./schedule.ts";

/** One shot of a run: times in s, temperatures in K. */
export interface ShotRow {
  /** From 1. */
  readonly number: number;
  /** From injection until the hottest point is at the limit, s; Infinity: never. */
  readonly demold: number;
  /** Hottest point when opened at the fixed time, K. */
  readonly hottestByTimer: number;
  /** Cavity face as the shot comes in, K. */
  readonly wallBefore: number;
  readonly wallPeak: number;
}

/** A shot of the settled mold: times in s, temperatures in K. */
export interface Steady {
  readonly demold: number;
  readonly wallBefore: number;
  readonly wallPeak: number;
  /** Hottest point when opened at the fixed time, K. */
  readonly hottestByTimer: number;
  /** From one injection to the next, s. */
  readonly cycle: number;
  /** Cycles that were solved to find it. */
  readonly cycles: number;
}

/** What a fixed timer does that is shorter than the bait needs. */
interface TooEarly {
  /** Most likely; else with bad luck only. */
  readonly likely: boolean;
  /** Number of the first shot that it opens too early; null: none of the run, only once the mold has settled, or with bad luck. */
  readonly from: number | null;
  /** Number of the last; null: it goes on so. A preheated mold may only be too hot at first. */
  readonly to: number | null;
  /** Hottest point of any shot as it is opened, K. */
  readonly hottest: number;
  /** It still flows there. */
  readonly molten: boolean;
}

/** A run of shots into one mold, and the state that it settles to. Times in s, temperatures in K. */
export interface Shots {
  readonly shots: readonly ShotRow[];
  readonly steady: Steady;
  /** The fixed time: `run.timer`, else the first shot's own, s. */
  readonly timer: number;
  /** null: no timer is set, or it is long enough, with bad luck, too. */
  readonly tooEarly: TooEarly | null;
  /** First shot, and the shot it settles to, s. */
  readonly first: Quantified;
  readonly settled: Quantified;
  readonly wallPeak: Quantified;
  readonly wallLimit: number | null;
  /** What makes most of the range of `settled`. */
  readonly cause: Cause | null;
  readonly decidedBy: { readonly code: "station"; readonly name: string };
  /** Until when each mold stays closed for its sprue, which may flow for longer than the bait needs, s; null: it has set by then. */
  readonly sprueUntil: number | null;
  /** By molds in rotation, from 1 to 6 or to the job's own. */
  readonly baitsPerHour: readonly Rotation[];
  /** From this many molds on, hands and not heat set the pace; null: with none of them. */
  readonly handsBindFrom: number | null;
  /** The pace of one mold that gives most baits without its face above the limit; null: there is none. */
  readonly fastest: Schedule | null;
  readonly levers: readonly Lever[];
  /** The two models; `full` null for the quick look. */
  readonly quick: { readonly first: number; readonly settled: number };
  readonly full: { readonly first: number; readonly settled: number } | null;
  /** full/quick - 1 of `settled`. */
  readonly difference: number | null;
}

/** The answer to `shots`. */
export type ShotsAnswer = Answer<"shots", Shots>;

/** What `shots` may leave out. */
export interface ShotsOptions extends QuestionOptions {
  /** The levers; false leaves them empty, for who asks for the times alone. */
  readonly further?: boolean;
}

/** Shots at a fixed time after which the rest goes on as they did: the hottest place within 0.1 K (measured: fourteen jobs). */
const TELL_AT_TIMER = 5;

/**
 * Demold time and wall peak of shot after shot, and of the shot that the mold settles to.
 *
 * Each cycle: inject, cool until the hottest point is at `limits.demold`, open for `run.open` with the cavity in the
 * air (or first in water), inject again. The mold keeps its heat; the ends of the block lose some unless `quick`. The
 * settled state is solved for directly.
 *
 * @param given from `readJob`; `run` says how the session goes
 * @returns times s, temperatures K
 * @throws InputError when the job makes no solvable problem; NoConvergence when the solver fails
 * @example shots(readJob("bait: { thickness: 16 mm }").job, { quick: true }).answer.shots.length // 10
 */
export function shots(given: Job, options: ShotsOptions = {}): ShotsAnswer {
  const { quick = false, further = options.likelyOnly !== true } = options;
  const run = shotTimes(given, options, given.run.shots);
  const { scenario, station, bar, model, pace, cycle, settled, effort } = run;
  const { job } = scenario;
  const rows = firstShots(run, job.run.shots);
  const timer = job.run.timer ?? rows[0].opensAfter;
  const timed: Pace = { ...pace, timer: Number.isFinite(timer) ? timer : 3600 };
  const byTimer = cycle(model, timed);
  const settledByTimer = steadyShot(byTimer, timed, { within: run.within });
  const atTimer = march(byTimer, timed, effort, {
    wanted: rows.length,
    settled: settledByTimer,
    enough: ({ length }) => length >= TELL_AT_TIMER,
  });
  const before = warmerHalf(job);
  const settledQuick = quick ? settled : steadyShot(cycle(bar, pace), pace);
  const once = { wanted: 1, settled, enough: () => true };
  const [firstQuick] = quick ? rows : march(cycle(bar, pace), pace, effort, once);
  const { wallPeak } = run;
  const early = tooEarlyBy(
    job,
    [...atTimer, settledByTimer],
    Math.max(run.first.high, run.later.high),
  );
  const wallLimit = wallLimitOf(job);
  const carried = carriedFrom(settledQuick, settled);
  const share = (end: number) =>
    settled.opensAfter < Number.POSITIVE_INFINITY ? end / settled.opensAfter : 1;
  const spread = { low: share(run.later.low), high: share(run.later.high) };
  const turns = rotations(
    scenario,
    station,
    carried,
    spread,
    (molds) => timelineOf(benchOf({ ...job, run: { ...job.run, molds } }, run)).length,
  );
  const levers = further ? shotLevers(scenario, quick ? null : settled.opensAfter, turns) : [];
  const byClock = job.run.timer === null ? [] : [...atTimer, settledByTimer];
  const cautions = run.cautions(levers, byClock);
  return {
    question: "shots",
    answer: {
      shots: rows.map((row, k) => ({
        number: k + 1,
        demold: row.opensAfter,
        hottestByTimer: atTimer[Math.min(k, atTimer.length - 1)].hottest,
        wallBefore: k === 0 ? before : rows[k - 1].wallAfter,
        wallPeak: row.wallPeak,
      })),
      steady: {
        demold: settled.opensAfter,
        wallBefore: settled.wallAfter,
        wallPeak: settled.wallPeak,
        hottestByTimer: settledByTimer.hottest,
        cycle: settled.cycle,
        cycles: settled.cycles,
      },
      timer,
      tooEarly: early,
      first: quantified(run.first, "duration"),
      settled: quantified(run.later, "duration"),
      wallPeak: quantified(wallPeak, "temperature"),
      wallLimit,
      cause: causeOf(run.ranges.later, job),
      decidedBy: { code: "station", name: station.name },
      sprueUntil: run.sprueUntil,
      baitsPerHour: turns,
      handsBindFrom: turns.find((turn) => turn.boundBy === "hands")?.molds ?? null,
      fastest: fastestOpen(scenario, station, wallLimit, carried),
      levers,
      quick: { first: firstQuick.opensAfter, settled: settledQuick.opensAfter },
      full: quick ? null : { first: rows[0].opensAfter, settled: settled.opensAfter },
      difference: quick ? null : settled.opensAfter / settledQuick.opensAfter - 1,
    },
    cautions: early === null ? cautions : ["touch_burn", ...cautions],
    ignored: [...ignoredByShots(quick, job, true), ...ignoredByPreheat(given), "one_color"],
    effort: effort.done(),
  };
}

/** The first shots of a run, up to one that never cools. */
function firstShots({ shot }: ReturnType<typeof shotTimes>, wanted: number) {
  const rows = Array.from({ length: wanted }, (_, k) => shot(k + 1));
  const never = rows.findIndex(({ opensAfter }) => !Number.isFinite(opensAfter));
  return never < 0 ? rows : rows.slice(0, never + 1);
}

/**
 * @param byTimer shots of the run opened by the timer, then the settled one
 * @param surely when every shot may surely be opened, s
 */
function tooEarlyBy(
  job: Job,
  byTimer: readonly { readonly hottest: number }[],
  surely: number,
): TooEarly | null {
  const { timer } = job.run;
  if (timer === null) return null;
  const hottest = Math.max(...byTimer.map((shot) => shot.hottest));
  // a timer that stands at the limit is none that is too early
  const isHot = (shot: { readonly hottest: number }) => shot.hottest > job.limits.demold + NEARLY;
  const [first, last] = [byTimer.findIndex(isHot), byTimer.findLastIndex(isHot)];
  if (first < 0 && timer >= surely) return null;
  const settled = byTimer.length - 1;
  return {
    likely: first >= 0,
    from: first < 0 || first === settled ? null : first + 1,
    to: last < 0 || last === settled ? null : last + 1,
    hottest,
    molten: isMolten(hottest, job),
  };
}

/** No thermometer at the bench tells less, K. */
const NEARLY = 0.5;
