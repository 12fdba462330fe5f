/** The pace of one mold that makes most baits while its face stays below the limit. */

import type { LeftState } from "../../heat/left-state.ts";
import type { Station } from "../../job/types.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { SEARCHING } from "../../models/cooling.ts";
import { type Scenario, scenarioSurroundings } from "../../models/scenario.ts";
import {
  type Carried,
  cycleProblem,
  paceOf,
  type ShotDone,
  steadyShot,
} from "../../models/shots/cycle.ts";

/** The pace of shots once the mold has settled, s. */
export interface Schedule {
  /** Open between two shots, s. */
  readonly open: number;
  /** Settled. */
  readonly demold: number;
  readonly cycle: number;
  readonly wallPeak: number;
  /** Of one mold. */
  readonly perHour: number;
  /** What keeps it from being faster: nothing but its own heat, or the limit of the wall. */
  readonly decidedBy: "heat" | "wall";
}

/** Longest rest between two shots that is tried, s. */
const LONGEST_REST = 3600;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * A rest costs time and saves some of the next cooling: the best one lies between `run.open` and an hour. Where the
 * face would get too hot, the shortest rest that keeps it below `wallLimit` is taken; null when none does. Searched in
 * one dimension, carried over to the full section.
 */
export function fastestOpen(
  scenario: Scenario,
  station: Station,
  wallLimit: number | null,
  carried: Carried,
): Schedule | null {
  const { job } = scenario;
  const model = barModel(scenario, standInOf(station));
  let last: LeftState | undefined;
  const settled = (open: number): ShotDone => {
    const pace = { ...paceOf(job.run, job.limits.demold, 1), timer: null, open };
    const problem = cycleProblem(
      model,
      pace,
      job.shot.temperature,
      scenarioSurroundings(scenario),
      SEARCHING,
    );
    const found = steadyShot(problem, pace, { within: 0.05, ...(last && { from: last }) });
    last = found.left;
    return found;
  };
  // hands that turn a mold around for longer leave it open for as long
  const least = Math.max(job.run.open, job.run.hands - job.run.bath);
  const within = (s: ShotDone) => wallLimit === null || s.wallPeak + carried.hotter <= wallLimit;
  const now = { open: least, shot: settled(least) };
  const longer = settled(1.25 * least);
  const found = longer.cycle < now.shot.cycle ? bestRest(settled, least) : now;
  if (within(found.shot)) return scheduleOf(job, found.open, found.shot, carried, "heat");
  // the longer the rest, the cooler the face: the shortest rest that does
  let tooShort = found.open;
  let enough = LONGEST_REST;
  if (!within(settled(enough))) return null;
  while (enough / tooShort > 1.05) {
    const open = Math.sqrt(enough * tooShort);
    if (within(settled(open))) enough = open;
    else tooShort = open;
  }
  return scheduleOf(job, enough, settled(enough), carried, "wall");
}

/** Golden section on the logarithm: the best rest may be a minute or half an hour. */
function bestRest(
  settled: (open: number) => ShotDone,
  least: number,
): { open: number; shot: ShotDone } {
  let low = Math.log(least);
  let high = Math.log(Math.max(LONGEST_REST, 2 * least));
  let a = high - GOLDEN * (high - low);
  let b = low + GOLDEN * (high - low);
  let fa = settled(Math.exp(a)).cycle;
  let fb = settled(Math.exp(b)).cycle;
  while (high - low > 0.08) {
    if (fa <= fb) {
      high = b;
      [b, fb] = [a, fa];
      a = high - GOLDEN * (high - low);
      fa = settled(Math.exp(a)).cycle;
    } else {
      low = a;
      [a, fa] = [b, fb];
      b = low + GOLDEN * (high - low);
      fb = settled(Math.exp(b)).cycle;
    }
  }
  const open = Math.exp((low + high) / 2);
  return { open, shot: settled(open) };
}

function scheduleOf(
  { mold, run }: Scenario["job"],
  open: number,
  shot: ShotDone,
  { factor, hotter }: Carried,
  decidedBy: "heat" | "wall",
): Schedule | null {
  if (!Number.isFinite(shot.cycle)) return null;
  const demold = shot.opensAfter * factor;
  const cycle = demold + Math.max(run.bath + open, run.hands);
  const perHour = (3600 * mold.cavities) / cycle;
  return { open, demold, cycle, wallPeak: shot.wallPeak + hotter, perHour, decidedBy };
}
