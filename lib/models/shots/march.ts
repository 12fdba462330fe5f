/** Shots of a run, one after the other: marched as far as they are asked for, or until one is as good as settled. Times s. */
import type { HeatProblem } from "../../heat/problem.ts";
import { COMPARING } from "../cooling.ts";
import type { EffortSum } from "../ranged.ts";
import { type Pace, type ShotDone, steadyShot, successiveShots } from "./cycle.ts";

/** A shot of a run. */
export type RunShot = Pick<ShotDone, (typeof KEPT)[number]>;
const KEPT = ["opensAfter", "hottest", "wallPeak", "wallOpened", "wallAfter"] as const;

/** How far shots are marched: until one tells how those after it go on, as the last ones did. */
interface Marching {
  readonly wanted: number;
  readonly settled: RunShot;
  readonly enough: (rows: readonly RunShot[]) => boolean;
}

/** The first shots of a run; ends early where one never cools. */
export function march(
  problem: HeatProblem,
  pace: Pace,
  effort: EffortSum,
  { wanted, settled, enough }: Marching,
): RunShot[] {
  const rows: RunShot[] = [];
  for (const shot of successiveShots(problem, pace)) {
    rows.push(shot);
    effort.add(shot.history);
    if (rows.length >= wanted || enough(rows)) break;
  }
  const ended = !Number.isFinite(rows[rows.length - 1].opensAfter);
  for (let n = rows.length; !ended && n < wanted; n++) rows.push(goneOn(rows, settled, n + 1));
  return rows;
}

/** What a run still lacks to the settled state falls by the same factor from shot to shot, once its quicker parts are gone. */
function goneOn(rows: readonly RunShot[], settled: RunShot, n: number): RunShot {
  const last = rows[rows.length - 1];
  const before = rows[rows.length - 2] ?? last;
  if (!Number.isFinite(last.opensAfter)) return last;
  if (!Number.isFinite(settled.opensAfter)) return settled;
  return eachOf((key) => {
    const [left, now] = [before, last].map((row) => row[key] - settled[key]);
    const ratio = left === 0 ? 0 : Math.min(Math.max(now / left, 0), SLOWEST);
    return settled[key] + now * ratio ** (n - rows.length);
  });
}

const eachOf = (of: (key: keyof RunShot) => number): RunShot =>
  Object.fromEntries(KEPT.map((key) => [key, of(key)])) as unknown as RunShot;

/** How far a run is marched. */
interface Running {
  /** Whether these are all that are asked for. */
  readonly lasts: (rows: readonly RunShot[]) => boolean;
  /** Changes of a settled cycle that no longer count, K. */
  readonly within: number;
  /** A section has coarser cells to go on with; a bar is quick enough. */
  readonly coarsens: boolean;
}

/** The shots of a run, as many as one asks for. */
interface ShotRun {
  /** That were marched. */
  readonly rows: readonly RunShot[];
  readonly settled: ReturnType<typeof steadyShot>;
  /** Changes of its cycle that no longer counted, K. */
  readonly within: number;
  /** The n-th, from 1. */
  shot(n: number): RunShot;
}

/** So many shots are marched on the cells of the answer; a mold that has not settled by then is a slow one. */
const MOST_FINE = 20;
/** And so many at all: beyond, a run goes on as its last shots did. */
const MOST_MARCHED = 500;
/** A slow mold changes little from cycle to cycle, far from where it settles, too: its cycles count to so much smaller changes. */
const SLOWER = 10;
/** Of the coarser cells, K. */
const WITHIN_COARSE = 2e-3;
/** A shot nearer to the settled one, of its time, counts as settled: those after it are within a thousandth of theirs... */
const SETTLED = 3e-3;
/** ...where it is no longer on its way through: the one before it is nearer than this. */
const PASSING = 1.5e-2;
/** So many shots tell how a run goes on. */
const TELL = 3;
/** No mold settles more slowly, as a factor from shot to shot. */
const SLOWEST = 0.9995;

/** Whether the last of these shots is as good as settled. */
function isSettled(rows: readonly RunShot[], { opensAfter: settled }: RunShot): boolean {
  if (rows.length < TELL) return false;
  const [before, last] = rows.slice(-2);
  return (
    Math.abs(last.opensAfter - settled) < SETTLED * settled &&
    Math.abs(last.opensAfter - before.opensAfter) < PASSING * settled
  );
}

/**
 * A run of shots and the one that it settles to. How many are asked for changes none of them: the first are always marched until
 * one is settled, on the cells of the answer up to so many. A heavy mold goes on from there on coarser cells, carried over by
 * what lies between both at that shot and once they have settled.
 */
export function runOfShots(
  problem: HeatProblem,
  pace: Pace,
  effort: EffortSum,
  { lasts, coarsens, within }: Running,
): ShotRun {
  let counted = within;
  let settled = steadyShot(problem, pace, { within });
  effort.add(settled.history);
  const rows: RunShot[] = [];
  const shots = successiveShots(problem, pace);
  const add = (most: number, enough: () => boolean) => {
    while (rows.length < most && !enough()) {
      const { done, value } = shots.next();
      if (done) return;
      effort.add(value.history);
      rows.push(value);
    }
  };
  add(MOST_FINE, () => isSettled(rows, settled));
  const isSlow = rows.length === MOST_FINE && !isSettled(rows, settled);
  if (isSlow && Number.isFinite(rows[MOST_FINE - 1].opensAfter)) {
    counted /= SLOWER;
    settled = steadyShot(problem, pace, { within: counted, from: settled.left });
    effort.add(settled.history);
    if (coarsens)
      rows.push(...coarserOn({ ...problem, ...COMPARING }, pace, effort, { rows, settled, lasts }));
    else add(MOST_MARCHED, () => isSettled(rows, settled) || lasts(rows));
  }
  return { rows, settled, within: counted, shot: (n) => rows[n - 1] ?? goneOn(rows, settled, n) };
}

/**
 * How a slow run goes on, on cells that are coarser: what those are off at the last shot that both have, and once settled, is
 * made up for by how far the run has come between the two.
 */
function coarserOn(
  problem: HeatProblem,
  pace: Pace,
  effort: EffortSum,
  { rows, settled, lasts }: Pick<ShotRun, "rows" | "settled"> & Pick<Running, "lasts">,
): RunShot[] {
  if (lasts(rows)) return [];
  const coarse = steadyShot(problem, pace, { within: WITHIN_COARSE });
  effort.add(coarse.history);
  const ends = Number.isFinite(coarse.opensAfter) && Number.isFinite(settled.opensAfter);
  const last = rows[rows.length - 1];
  const further: RunShot[] = [];
  const tried: ShotDone[] = [];
  let start: ShotDone | undefined;
  for (const shot of successiveShots(problem, pace)) {
    effort.add(shot.history);
    tried.push(shot);
    if (tried.length < rows.length) continue;
    start ??= shot;
    if (tried.length === rows.length) continue;
    const from = start;
    const way = coarse.opensAfter - from.opensAfter;
    const come =
      way === 0 ? 1 : Math.min(Math.max((shot.opensAfter - from.opensAfter) / way, 0), 1);
    further.push(
      eachOf((key) => {
        const [then, atLast] = [last[key] - from[key], settled[key] - coarse[key]];
        return shot[key] + then + (ends ? (atLast - then) * come : 0);
      }),
    );
    const all = [...rows, ...further];
    if (all.length >= MOST_MARCHED || lasts(all) || isSettled(all, settled)) break;
  }
  return further;
}
