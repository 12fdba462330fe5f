/** Open times of a mold in use, and their ranges: the first shots, and the one that the mold settles to. SI and K. */
import type { CautionCode, Lever } from "../../answers/answer.ts";
import type { Range } from "../../confidence/range.ts";
import { movedTo, scaledTo } from "../../confidence/spread.ts";
import type { LeftState } from "../../heat/left-state.ts";
import type { Job, Station } from "../../job/types.ts";
import { type BaitModel, barModel, standInOf } from "../bait/bar.ts";
import { sectionModel } from "../bait/section.ts";
import { faceCautions, moldCautions, plasticCautions, waterCautions } from "../cautions.ts";
import { cool, DRAFTING, type Solving } from "../cooling.ts";
import type { QuestionOptions } from "../question-options.ts";
import { EffortSum, spreadOf, withClock } from "../ranged.ts";
import { type Scenario, scenarioOf, scenarioSurroundings } from "../scenario.ts";
import { warmed } from "../sprue/cooling.ts";
import { sprueMoltenUntil, sprueSets } from "../sprue/molten.ts";
import { betweenShots } from "./between.ts";
import { cycleProblem, type Pace, paceOf, steadyShot } from "./cycle.ts";
import { type RunShot, runOfShots } from "./march.ts";
import { slowestStation } from "./slowest-station.ts";

/** Changes of a cycle that no longer count, K: of the section, and of the bar. */
const WITHIN_FULL = 0.02;
const WITHIN_QUICK = 0.005;

export type ShotTimes = ReturnType<typeof shotTimes>;

/**
 * What a run of shots is marched with: its case, its slowest station, and that as a bar and as it is answered.
 *
 * @param given from `readJob`
 * @param more a station other than the slowest, and cells for a search
 */
export function runSetup(
  given: Parameters<typeof scenarioOf>[0],
  { quick = false, shouldStop, ...options }: QuestionOptions,
  more: { readonly station?: Station; readonly solving?: Solving } = {},
) {
  const scenario = scenarioOf(given, options);
  const { job } = scenario;
  const { station = slowestStation(scenario), solving } = more;
  const bar = barModel(scenario, standInOf(station));
  const model = quick ? bar : sectionModel(scenario, station);
  const stopping = shouldStop ? { shouldStop } : {};
  const around = scenarioSurroundings(scenario);
  const cycle = (of: BaitModel, at: Pace) =>
    cycleProblem(of, at, job.shot.temperature, around, { ...solving, ...stopping });
  const pace: Pace = { ...paceOf(job.run, job.limits.demold, 1), timer: null };
  const within = quick ? WITHIN_QUICK : WITHIN_FULL;
  return { scenario, station, bar, model, pace, cycle, within, stopping };
}

/**
 * A run with its ranges: as many shots as the session holds.
 *
 * @param given from `readJob`
 * @param wanted shots that are asked for, session or not
 */
export function shotTimes(
  given: Parameters<typeof scenarioOf>[0],
  options: QuestionOptions = {},
  wanted = 1,
) {
  const setup = runSetup(given, options);
  const { scenario, station, model, pace, stopping } = setup;
  const { job } = scenario;
  const effort = new EffortSum();
  const run = runOfShots(setup.cycle(model, pace), pace, effort, {
    lasts: (done) => done.length >= wanted && fills(done, job),
    within: setup.within,
    coarsens: options.quick !== true,
  });
  const { rows, settled } = run;
  const ranges = rangesOf(scenario, station);
  const wallPeak = movedTo(
    ranges.wall.range,
    Math.max(settled.wallPeak, ...rows.map((row) => row.wallPeak)),
  );
  const first = withClock(scaledTo(ranges.first.range, rows[0].opensAfter), scenario);
  const setsFirst = sprueSets(scenario, stopping);
  const setsSettled = Number.isFinite(settled.wallAfter)
    ? sprueSets(warmed(scenario, settled.wallAfter), stopping)
    : setsFirst;
  /** The latest that the sprue may flow, of the first shot and of one into the settled mold, s. */
  const sprueMolten = {
    first: sprueMoltenUntil(setsFirst),
    settled: sprueMoltenUntil(setsSettled),
  };
  const later = withClock(scaledTo(ranges.later.range, settled.opensAfter), scenario);
  const heldAtAll = latestHold(sprueMolten, { first, settled: later });
  return {
    ...setup,
    ...run,
    effort,
    ranges,
    wallPeak,
    /** @param others shots that are opened otherwise, by a timer */
    cautions: (levers: readonly Lever[] = [], others: readonly RunShot[] = []) => {
      const handledAt = hottestHandled([...rows, settled, ...others]);
      return [
        ...cautionsFor(job, wallPeak, movedTo(ranges.opened.range, handledAt).high, levers),
        ...(heldAtAll !== null || sprueMolten.first > (job.run.timer ?? Number.POSITIVE_INFINITY)
          ? (["sprue_molten"] as const)
          : []),
      ];
    },
    first,
    sprueMolten,
    /** For so long the injector likely feeds the first shot, s; one that never sets is fed for no time that could be told. */
    feeds: Number.isFinite(setsFirst) ? setsFirst : 0,
    /** Until when molds stay closed for the sprue; null: it has surely set when a bait may come out, s. */
    sprueUntil: heldAtAll,
    later,
  };
}

/** The later of the first shot's and the settled one's hold for the sprue, s; null: neither has one. */
function latestHold(
  molten: { readonly first: number; readonly settled: number },
  opens: { readonly first: Range; readonly settled: Range },
): number | null {
  const holds = (["first", "settled"] as const).flatMap((which) =>
    Number.isFinite(opens[which].low) && molten[which] > opens[which].low ? [molten[which]] : [],
  );
  return holds.length === 0 ? null : Math.max(...holds);
}

/** Whether shots one after the other take the whole session. */
function fills(done: readonly RunShot[], { run }: Job): boolean {
  const between = betweenShots({ run });
  return done.reduce((sum, { opensAfter }) => sum + opensAfter + between, 0) >= run.session;
}

/** Hottest cavity face of shots as their molds are opened and lie open, K. */
function hottestHandled(shots: readonly RunShot[]): number {
  return Math.max(...shots.flatMap(({ wallOpened, wallAfter }) => [wallOpened, wallAfter]));
}

/** Of hot plastic and of water, and of a face that gets hotter than the mold bears, with bad luck at least. */
function cautionsFor(
  job: Job,
  wallPeak: Range,
  handledAt: number,
  levers: readonly Lever[],
): CautionCode[] {
  return [
    ...plasticCautions(job, [job.shot]),
    ...moldCautions(job, handledAt, levers),
    ...waterCautions(job, levers),
    ...faceCautions(job, wallPeak.high),
  ];
}

/** First shot, settled shot, settled wall peak and face as it is opened, in one dimension, with their ranges. */
function rangesOf(scenario: Scenario, station: Station) {
  const index = scenario.job.bait.stations.indexOf(station);
  // the case itself is the first that is asked for
  let likely: LeftState | undefined;
  const [first, later, wall, opened] = spreadOf(
    scenario,
    (s) => {
      const { job } = s;
      const pace = { ...paceOf(job.run, job.limits.demold, 1), timer: null };
      const model = barModel(s, standInOf(job.bait.stations[index]));
      const problem = cycleProblem(
        model,
        pace,
        job.shot.temperature,
        scenarioSurroundings(s),
        DRAFTING,
      );
      const first = cool(model, job.limits.demold, DRAFTING);
      const settled = steadyShot(problem, pace, { within: 0.05, ...(likely && { from: likely }) });
      likely ??= settled.left;
      return [first.time, settled.opensAfter, settled.wallPeak, settled.wallOpened];
    },
    [],
    { deciding: 3 },
  );
  return { first, later, wall, opened };
}
