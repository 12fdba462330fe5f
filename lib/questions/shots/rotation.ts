/** Several molds in rotation: while one cools, the hands serve the others. */
import type { HeatProblem } from "../../heat/problem.ts";
import type { Station } from "../../job/types.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { SEARCHING } from "../../models/cooling.ts";
import { type Scenario, scenarioSurroundings } from "../../models/scenario.ts";
import { betweenShots } from "../../models/shots/between.ts";
import {
  type Carried,
  cycleProblem,
  type Pace,
  paceOf,
  type ShotLeft,
  steadyShot,
  successiveShots,
} from "../../models/shots/cycle.ts";

/** Baits an hour with so many molds in turn. */
export interface Rotation {
  readonly molds: number;
  /** Baits in an hour once the molds have settled. */
  readonly perHour: number;
  /** Its range, by that of the settled cooling time; where the hands set the pace it has none. */
  readonly perHourRange: { readonly low: number; readonly high: number };
  /** Baits over the session, from the first shot into molds as they start: as many as `plan` plans. */
  readonly perSession: number;
  /** From one injection of a mold to its next, settled, s. */
  readonly cycle: number;
  readonly demold: number;
  readonly wallPeak: number;
  readonly boundBy: "heat" | "hands";
}

/** Rotations are told with so many molds, and with as many as the job has where these are more. */
const USUAL_MOLDS = 6;
/** A cycle that changes no box by more has settled, K. */
const SETTLED = { within: 0.005 } as const;

/** One of so many molds in one dimension: it runs in its own time, and what the hands take is scaled to that. */
function inRotation(scenario: Scenario, station: Station, factor: number, molds: number) {
  const { run, limits, shot } = scenario.job;
  const asked = paceOf(run, limits.demold, molds);
  const pace = { ...asked, timer: null, period: asked.period / factor };
  const model = barModel(scenario, standInOf(station));
  const around = scenarioSurroundings(scenario);
  const problem = cycleProblem(model, pace, shot.temperature, around, SEARCHING);
  return { asked, pace, problem };
}

/** Settled time for each bait with so many molds, s: what `rotations` has for them. */
export function timePerBait(
  scenario: Scenario,
  station: Station,
  { factor }: Carried,
  molds: number,
): number {
  const { asked, pace, problem } = inRotation(scenario, station, factor, molds);
  const demold = factor * steadyShot(problem, pace, SETTLED).opensAfter;
  const cycle = Math.max(demold + betweenShots(scenario.job), asked.period);
  return cycle / (molds * scenario.job.mold.cavities);
}

/**
 * Baits per hour with 1 to 6 molds, or to as many as the job has, in one dimension, carried over to the full section.
 *
 * A mold is injected again when it has cooled and lain open, and not before the hands come round: with m molds that
 * takes m times `run.hands`.
 *
 * @param spread ends of the settled cooling time as shares of the likely one
 * @param counted shots that so many molds get done in the session
 */
export function rotations(
  scenario: Scenario,
  station: Station,
  { factor, hotter }: Carried,
  spread: { readonly low: number; readonly high: number },
  counted: (molds: number) => number,
): Rotation[] {
  const { mold } = scenario.job;
  const most = Math.max(USUAL_MOLDS, scenario.job.run.molds);
  const found: Rotation[] = [];
  // while the hands are quicker than the first and shortest cycle, every mold runs as it would alone
  let alone: { settled: ShotLeft; firstCycle: number } | undefined;
  for (let molds = 1; molds <= most; molds++) {
    const { asked, pace, problem } = inRotation(scenario, station, factor, molds);
    let own = alone;
    if (!own || pace.period > own.firstCycle) {
      const settled = steadyShot(problem, pace, {
        ...SETTLED,
        ...(own && { from: own.settled.left }),
      });
      own = { settled, firstCycle: firstCycleOf(problem, pace) };
      if (settled.opensAfter + pace.bath + pace.open >= pace.period) alone ??= own;
    }
    const demold = own.settled.opensAfter * factor;
    const between = betweenShots(scenario.job);
    const busy = demold + between;
    const cycle = Math.max(busy, asked.period);
    const each = mold.cavities * molds;
    const perHour = (share: number) => {
      const whole = Math.max(share * demold + between, asked.period);
      return Number.isFinite(whole) ? (each * 3600) / whole : 0;
    };
    found.push({
      molds,
      perHour: perHour(1),
      perHourRange: { low: perHour(spread.high), high: perHour(spread.low) },
      perSession: mold.cavities * counted(molds),
      cycle,
      demold,
      wallPeak: own.settled.wallPeak + hotter,
      boundBy: busy < asked.period ? "hands" : "heat",
    });
  }
  return found;
}

/** Length of the first cycle of a mold, s. */
function firstCycleOf(problem: HeatProblem, pace: Pace): number {
  for (const { cycle } of successiveShots(problem, pace)) return cycle;
  return 0;
}
