/** Several molds in rotation: while one cools, the hands serve the others. */
import type { HeatProblem } from "../../heat/problem.ts";
import type { Station } from "../../job/types.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { SEARCHING } from "../../models/cooling.ts";
import { type Scenario, scenarioSurroundings } from "../../models/scenario.ts";
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
  /** Baits over the session, from the first shot into molds as they start. */
  readonly perSession: number;
  /** From one injection of a mold to its next, settled, s. */
  readonly cycle: number;
  readonly demold: number;
  readonly wallPeak: number;
  readonly boundBy: "heat" | "hands";
}

const MOST_MOLDS = 6;
/** Shots after which a mold is taken as settled. */
const MARCHED = 30;

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
  const cycle = Math.max(demold + pace.bath + pace.open, asked.period);
  return cycle / (molds * scenario.job.mold.cavities);
}

/**
 * Baits per hour with 1 to 6 molds, in one dimension, carried over to the full section.
 *
 * A mold is injected again when it has cooled and lain open, and not before the hands come round: with m molds that
 * takes m times `run.hands`.
 *
 * @param spread ends of the settled cooling time as shares of the likely one
 */
export function rotations(
  scenario: Scenario,
  station: Station,
  { factor, hotter }: Carried,
  spread: { readonly low: number; readonly high: number },
): Rotation[] {
  const { run, mold } = scenario.job;
  const found: Rotation[] = [];
  // while the hands are quicker than the first and shortest cycle, every mold runs as it would alone
  let alone: { settled: ShotLeft; openings: readonly number[]; firstCycle: number } | undefined;
  const session = run.session / factor;
  for (let molds = 1; molds <= MOST_MOLDS; molds++) {
    const { asked, pace, problem } = inRotation(scenario, station, factor, molds);
    let own = alone;
    if (!own || pace.period > own.firstCycle) {
      const settled = steadyShot(problem, pace, {
        ...SETTLED,
        ...(own && { from: own.settled.left }),
      });
      own = { settled, ...openingsWithin(problem, pace, session, settled.cycle) };
      if (settled.opensAfter + pace.bath + pace.open >= pace.period) alone ??= own;
    }
    const demold = own.settled.opensAfter * factor;
    const busy = demold + pace.bath + pace.open;
    const cycle = Math.max(busy, asked.period);
    const each = mold.cavities * molds;
    const perHour = (share: number) => {
      const whole = Math.max(share * demold + pace.bath + pace.open, asked.period);
      return Number.isFinite(whole) ? (each * 3600) / whole : 0;
    };
    const { openings, settled } = own;
    let shots = 0;
    // the hands fill one mold after the other
    for (let k = 0; k < molds; k++)
      shots += shotsBy(session - (k * run.hands) / factor, openings, settled.cycle);
    found.push({
      molds,
      perHour: perHour(1),
      perHourRange: { low: perHour(spread.high), high: perHour(spread.low) },
      perSession: mold.cavities * shots,
      cycle,
      demold,
      wallPeak: own.settled.wallPeak + hotter,
      boundBy: busy < asked.period ? "hands" : "heat",
    });
  }
  return found;
}

/** When a mold that starts at 0 is opened, shot by shot until it has settled, s, and the length of its first cycle. */
function openingsWithin(
  problem: HeatProblem,
  pace: Pace,
  session: number,
  settledCycle: number,
): { openings: readonly number[]; firstCycle: number } {
  let t = 0;
  let firstCycle = 0;
  const openings: number[] = [];
  for (const one of successiveShots(problem, pace)) {
    if (openings.length === 0) firstCycle = one.cycle;
    if (!(t + one.opensAfter <= session)) break;
    openings.push(t + one.opensAfter);
    t += one.cycle;
    const settled = Math.abs(one.cycle - settledCycle) < 2e-3 * settledCycle;
    if (settled || openings.length >= MARCHED) break;
  }
  return { openings, firstCycle };
}

/** Whole shots that a mold gets done in a time: a shot that is not opened by then is none. */
function shotsBy(time: number, openings: readonly number[], settledCycle: number): number {
  const done = openings.filter((at) => at <= time).length;
  const last = openings[openings.length - 1];
  if (done < openings.length || !(time > last)) return done;
  return done + Math.floor((time - last) / settledCycle);
}
