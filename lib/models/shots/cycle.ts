/**
 * One shot of a mold in use, from injection to the next injection: cool, open, dip, wait. The mold keeps its heat.
 *
 * Times s, temperatures K.
 */
import type { LeftState } from "../../heat/left-state.ts";
import { type PeriodicOptions, periodicOf } from "../../heat/periodic.ts";
import type { Boundary, HeatProblem, History, Stage } from "../../heat/problem.ts";
import { makeRepeat } from "../../heat/repeat.ts";
import type { Run } from "../../job/types.ts";
import type { BaitModel } from "../bait/bar.ts";
import { LONGEST_COOLING, type Solving } from "../cooling.ts";
import type { Surroundings } from "../surroundings.ts";
import { faceAt, wallPeakOf } from "../wall-peak.ts";

/** How a mold is used. */
export interface Pace {
  /** Opened when the hottest point is at this, K... */
  readonly limit: number;
  /** ...or after this fixed time, s; null: at the limit. */
  readonly timer: number | null;
  /** Open between two shots, s. */
  readonly open: number;
  /** Dip in water before that, s; 0: none. */
  readonly bath: number;
  /** From one injection of a mold to its next, at least, s: hands have other molds to serve. */
  readonly period: number;
}

/** What carries a settled shot of one dimension over to that of the full section. */
export interface Carried {
  /** Section's cooling time over that of the quick look. */
  readonly factor: number;
  /** How much hotter the section's cavity face gets, K. */
  readonly hotter: number;
}

/** What two dimensions add to one. */
export function carriedFrom(
  quick: Pick<ShotDone, "opensAfter" | "wallPeak">,
  full: Pick<ShotDone, "opensAfter" | "wallPeak">,
): Carried {
  const factor = full.opensAfter / quick.opensAfter;
  const hotter = full.wallPeak - quick.wallPeak;
  return {
    factor: Number.isFinite(factor) ? factor : 1,
    hotter: Number.isFinite(hotter) ? hotter : 0,
  };
}

/** The pace that a job asks for, with its number of molds. */
export function paceOf(run: Run, limit: number, molds = run.molds): Pace {
  // one mold alone waits for nobody: its hand work is done while it lies open
  const period = molds * run.hands;
  return { limit, timer: run.timer, open: run.open, bath: run.bath, period };
}

export interface ShotDone {
  /** From injection to opening, s; Infinity: never cool enough. */
  readonly opensAfter: number;
  /** From this injection to the next, s. */
  readonly cycle: number;
  /** Hottest point as it is opened. */
  readonly hottest: number;
  readonly wallPeak: number;
  /** Hottest cavity face as the mold is opened. */
  readonly wallOpened: number;
  /** Cavity face as the next shot comes. */
  readonly wallAfter: number;
  readonly history: History;
}

/** Whether a face gives its heat to the same: surroundings are made anew for each model, so that not the object tells. */
function isAlike(a: Boundary | undefined, b: Boundary): boolean {
  if (a?.kind !== "exchange" || b.kind !== "exchange") return false;
  return a.h === b.h && a.ambient === b.ambient && a.emissivity === b.emissivity;
}

/** The cycle of a mold as a heat problem. */
export function cycleProblem(
  { problem, bodies }: BaitModel,
  pace: Pace,
  shotTemperature: number,
  around: Surroundings,
  solving: Solving = {},
): HeatProblem {
  const refill = bodies.map((name) => ({ name, temperature: shotTemperature }));
  const outer = (boundary: Surroundings["outside"]): NonNullable<Stage["boundary"]> => {
    const sides: Partial<Record<"left" | "right" | "top" | "bottom", Surroundings["outside"]>> = {};
    // only faces that look into the room: mirrors and water backs stay as they are
    for (const side of ["left", "right", "top", "bottom"] as const)
      if (isAlike(problem.boundary[side], around.outside)) sides[side] = boundary;
    return sides;
  };
  const stages: Stage[] = [
    pace.timer === null
      ? { until: LONGEST_COOLING, refill, stop: { probe: "hottest", below: pace.limit } }
      : { until: pace.timer, lasts: pace.timer, refill },
  ];
  if (pace.bath > 0)
    stages.push({
      until: 2 * LONGEST_COOLING,
      lasts: pace.bath,
      absent: bodies,
      exposed: around.dip,
      boundary: outer(around.dip),
    });
  const open = { absent: bodies, exposed: around.openCavity, boundary: outer(around.outsideOpen) };
  stages.push({ until: 3 * LONGEST_COOLING, lasts: pace.open, ...open });
  // what the hands still have to do elsewhere
  stages.push({ until: Math.max(pace.period, 1e-3), ...open });
  return { ...problem, ...solving, stages, times: pace.timer === null ? [] : [pace.timer] };
}

/** What the history of one cycle says. */
function shotOf(history: History, pace: Pace): ShotDone {
  const { stageEnds, trace, end } = history;
  const last = trace.times.length - 1;
  // with a timer the value is asked for at its time; else the stage ends at the limit
  const hottest = pace.timer === null ? pace.limit : history.probes["hottest"][0];
  const never = pace.timer === null && stageEnds[0] >= LONGEST_COOLING * (1 - 1e-9);
  return {
    opensAfter: never ? Number.POSITIVE_INFINITY : stageEnds[0],
    cycle: never ? Number.POSITIVE_INFINITY : end,
    hottest,
    wallPeak: wallPeakOf(trace),
    wallOpened: faceAt(trace, stageEnds[0]),
    wallAfter: faceAt(trace, trace.times[last]),
    history,
  };
}

/** A shot, and what its mold keeps: where a search in a case like it may start. */
export interface ShotLeft extends ShotDone {
  readonly left: LeftState;
}

/** The first shots of a mold, one after the other; ends early when one never cools. */
export function* successiveShots(problem: HeatProblem, pace: Pace): Generator<ShotDone> {
  const repeat = makeRepeat(problem);
  for (;;) {
    const shot = shotOf(repeat.next(), pace);
    yield shot;
    if (!Number.isFinite(shot.opensAfter)) return;
  }
}

/** The shot that a mold in use settles to, and the cycles that were run to find it. */
export function steadyShot(
  problem: HeatProblem,
  pace: Pace,
  options: PeriodicOptions = {},
): ShotLeft & { readonly cycles: number } {
  const found = periodicOf(makeRepeat(problem), options);
  return { ...shotOf(found.history, pace), cycles: found.cycles, left: found.left };
}
