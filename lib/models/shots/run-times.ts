/** Open times of a mold in use, and their ranges: the first shots, and the one that the mold settles to. SI and K. */
import type { CautionCode, Lever } from "../../answers/answer.ts";
import type { Range } from "../../confidence/range.ts";
import { movedTo, scaledTo } from "../../confidence/spread.ts";
import type { LeftState } from "../../heat/left-state.ts";
import type { Job, Station } from "../../job/types.ts";
import { type BaitModel, barModel, standInOf } from "../bait/bar.ts";
import { sectionModel } from "../bait/section.ts";
import { faceCautions, moldCautions, plasticCautions, waterCautions } from "../cautions.ts";
import { cool, DRAFTING } from "../cooling.ts";
import type { QuestionOptions } from "../question-options.ts";
import { EffortSum, spreadOf, withClock } from "../ranged.ts";
import { type Scenario, scenarioOf, scenarioSurroundings } from "../scenario.ts";
import { moltenSprueCautions } from "../sprue/molten.ts";
import {
  cycleProblem,
  type Pace,
  paceOf,
  type ShotDone,
  steadyShot,
  successiveShots,
} from "./cycle.ts";
import { slowestStation } from "./slowest-station.ts";

/** Rows of the table at most: by then a mold has settled. */
const MOST_ROWS = 30;
/** Changes of a cycle that no longer count, K. */
const WITHIN_FULL = 0.02;

/** A shot of a run. */
type RunShot = Pick<ShotDone, (typeof KEPT)[number]>;
const KEPT = ["opensAfter", "hottest", "wallPeak", "wallOpened", "wallAfter"] as const;

/** How far a run is marched: until a shot is as good as settled; those after it go on as the last ones did. */
interface Marching {
  readonly wanted: number;
  readonly settled: RunShot;
  readonly enough: (rows: readonly RunShot[]) => boolean;
}

/**
 * Shots of a run, and the settled one, each at its limit.
 *
 * @param given from `readJob`
 */
export function shotTimes(given: Parameters<typeof scenarioOf>[0], options: QuestionOptions = {}) {
  const { quick = false, shouldStop } = options;
  const scenario = scenarioOf(given, options);
  const { job } = scenario;
  const station = slowestStation(scenario);
  const bar = barModel(scenario, standInOf(station));
  const model = quick ? bar : sectionModel(scenario, station);
  const stopping = shouldStop ? { shouldStop } : {};
  const around = scenarioSurroundings(scenario);
  const cycle = (of: BaitModel, at: Pace) =>
    cycleProblem(of, at, job.shot.temperature, around, stopping);
  const effort = new EffortSum();
  const pace: Pace = { ...paceOf(job.run, job.limits.demold, 1), timer: null };
  const within = quick ? {} : { within: WITHIN_FULL };
  const problem = cycle(model, pace);
  const settled = steadyShot(problem, pace, within);
  effort.add(settled.history);
  const wanted = Math.min(job.run.shots, MOST_ROWS);
  const rows = march(problem, pace, effort, {
    wanted,
    settled,
    enough: (done) => isSettled(done, settled),
  });
  const ranges = rangesOf(scenario, station);
  const wallPeak = movedTo(
    ranges.wall.range,
    Math.max(settled.wallPeak, ...rows.map((row) => row.wallPeak)),
  );
  const clock = job.uncertainty.time;
  const first = withClock(scaledTo(ranges.first.range, rows[0].opensAfter), clock);
  return {
    scenario,
    station,
    bar,
    model,
    pace,
    within,
    cycle,
    effort,
    rows,
    settled,
    ranges,
    wallPeak,
    /** @param others shots that are opened otherwise, by a timer */
    cautions: (levers: readonly Lever[] = [], others: readonly RunShot[] = []) => {
      const handledAt = hottestHandled([...rows, settled, ...others]);
      return [
        ...cautionsFor(job, wallPeak, movedTo(ranges.opened.range, handledAt).high, levers),
        ...moltenSprueCautions(scenario, job.run.timer ?? first.low),
      ];
    },
    first,
    later: withClock(scaledTo(ranges.later.range, settled.opensAfter), clock),
  };
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
    ...waterCautions(job),
    ...faceCautions(job, wallPeak.high),
  ];
}

/** A shot nearer to the settled one, of its time, counts as settled: those after it are within a thousandth of theirs. */
const SETTLED = 3e-3;
/** So many shots tell how a run goes on. */
const TELL = 3;

function isSettled(rows: readonly RunShot[], settled: RunShot): boolean {
  const last = rows[rows.length - 1];
  const off = Math.abs(last.opensAfter - settled.opensAfter);
  return rows.length >= TELL && off < SETTLED * settled.opensAfter;
}

/** The first shots of a run; ends early where one never cools. */
export function march(
  problem: ReturnType<typeof cycleProblem>,
  pace: Pace,
  effort: EffortSum,
  { wanted, settled, enough }: Marching,
): RunShot[] {
  const rows: RunShot[] = [];
  for (const shot of successiveShots(problem, pace)) {
    rows.push(shot);
    effort.add(shot.history);
    if (rows.length >= wanted) return rows;
    if (enough(rows)) return goneOn(rows, settled, wanted);
  }
  return rows;
}

/** What a run still lacks to the settled state falls by the same factor from shot to shot, once its quicker parts are gone. */
function goneOn(rows: readonly RunShot[], settled: RunShot, wanted: number): RunShot[] {
  const [before, last] = rows.slice(-2);
  const laterOf = (key: keyof RunShot) => {
    const [left, now] = [before, last].map((row) => row[key] - settled[key]);
    const ratio = left === 0 ? 0 : Math.min(Math.max(now / left, 0), SLOWEST);
    return (by: number) => settled[key] + now * ratio ** by;
  };
  const later = KEPT.map((key) => [key, laterOf(key)] as const);
  const further = Array.from(
    { length: wanted - rows.length },
    (_, k) => Object.fromEntries(later.map(([key, of]) => [key, of(k + 1)])) as unknown as RunShot,
  );
  return [...rows, ...further];
}

/** No mold settles more slowly, as a factor from shot to shot. */
const SLOWEST = 0.98;

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
