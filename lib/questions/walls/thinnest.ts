/** How thin a wall may be for the planned run of shots: none of them overheats it. SI and K. */
import type { Job, Station } from "../../job/types.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { SEARCHING } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import type { EffortSum } from "../../models/ranged.ts";
import { scenarioOf, scenarioSurroundings } from "../../models/scenario.ts";
import { cycleProblem, paceOf, successiveShots } from "../../models/shots/cycle.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";

/** Walls that are looked at, m. */
const WALLS = [0.004, 0.006, 0.009, 0.012, 0.016, 0.02, 0.025, 0.032, 0.04, 0.05, 0.063, 0.08];
export const THICKEST = WALLS[WALLS.length - 1];

/** The walls that are looked at, the thinnest that bears the clamp among them: in the place of one that is all but it. */
export function wallsFor({ stiff }: Job["limits"]): readonly number[] {
  const others = WALLS.filter((wall) => Math.abs(wall / stiff - 1) > 0.05);
  return [...others, stiff].sort((a, b) => a - b);
}

/** What a run of shots does to a wall. */
interface ShotsAtWall {
  readonly wall: number;
  readonly wallPeak: number;
  /** Of the first shot alone. */
  readonly firstPeak: number;
  readonly lastDemold: number;
  /** Hottest face as any of them is opened. */
  readonly wallOpened: number;
}

/** The planned run of shots behind a wall, in one dimension. */
export function makeShotsBehind(
  job: Job,
  station: Station,
  effort: EffortSum,
  options: QuestionOptions,
) {
  return (wall: number): ShotsAtWall => {
    const mold = { ...job.mold, wall, length: job.bait.length + 2 * wall };
    const scenario = scenarioOf({ ...job, mold }, options);
    const bar = barModel(scenario, standInOf(station));
    // each shot opens when it is cool enough: under a fixed timer no wall would be worth more than another
    const pace = { ...paceOf(job.run, job.limits.demold), timer: null };
    const stop = options.shouldStop ? { shouldStop: options.shouldStop } : {};
    const problem = cycleProblem(bar, pace, job.shot.temperature, scenarioSurroundings(scenario), {
      ...SEARCHING,
      ...stop,
    });
    let wallPeak = 0;
    let firstPeak = 0;
    let lastDemold = 0;
    let wallOpened = Number.NEGATIVE_INFINITY;
    let count = 0;
    for (const shot of successiveShots(problem, pace)) {
      effort.add(shot.history);
      if (count === 0) firstPeak = shot.wallPeak;
      wallPeak = Math.max(wallPeak, shot.wallPeak);
      lastDemold = shot.opensAfter;
      wallOpened = Math.max(wallOpened, shot.wallOpened);
      if (++count >= job.run.shots) break;
    }
    return { wall, wallPeak, firstPeak, lastDemold, wallOpened };
  };
}

/** The thinnest wall alone: those are looked at from the thinnest that does not crack on, up to the first that serves. */
export function leastWall(job: Job, station: Station, effort: EffortSum, options: QuestionOptions) {
  const { stiff } = job.limits;
  const limit = wallLimitOf(job);
  const behind = makeShotsBehind(job, station, effort, options);
  const looked: ShotsAtWall[] = [];
  for (const wall of wallsFor(job.limits).filter((one) => one >= stiff)) {
    looked.push(behind(wall));
    if (serves(looked[looked.length - 1], limit)) break;
  }
  return leastOf(looked, limit, stiff);
}

/** Temperatures of plastic, mold and room unlucky (+1) or lucky (-1). */
export function shifted(job: Job, sign: 1 | -1): Job {
  const { shot, mold, room, uncertainty: u } = job;
  return {
    ...job,
    shot: { ...shot, temperature: shot.temperature + sign * u.shotTemperature },
    mold: {
      ...mold,
      temperature: mold.temperature + sign * u.moldTemperature,
      upperTemperature: mold.upperTemperature + sign * u.moldTemperature,
    },
    room: { ...room, temperature: room.temperature + sign * u.roomTemperature },
  };
}

/** It neither gets too hot nor stays too warm to open. */
function serves({ lastDemold, wallPeak }: ShotsAtWall, limit: number | null): boolean {
  return Number.isFinite(lastDemold) && (limit === null || wallPeak <= limit);
}

export interface Thinnest {
  readonly wall: number;
  readonly overheats: boolean;
  /** Hottest face as a shot is opened, behind it or the thinnest that bears the clamp, K. */
  readonly wallOpened: number;
}

/** The thinnest wall that serves, and is stiff. */
export function leastOf(
  points: readonly ShotsAtWall[],
  limit: number | null,
  stiff: number,
): Thinnest {
  const first = points.findIndex((p) => serves(p, limit));
  const looked = points.slice(Math.max(0, first)).find(({ wall }) => wall >= stiff) ?? points[0];
  const { wallOpened } = looked;
  if (first < 0) return { wall: Number.POSITIVE_INFINITY, overheats: true, wallOpened };
  if (first === 0) return { wall: stiff, overheats: false, wallOpened };
  const [a, b] = [points[first - 1], points[first]];
  const both = Number.isFinite(a.lastDemold) && limit !== null && a.wallPeak > b.wallPeak;
  const share = both ? Math.min(1, (a.wallPeak - limit) / (a.wallPeak - b.wallPeak)) : 1;
  const wall = a.wall + share * (b.wall - a.wall);
  return wall < stiff
    ? { wall: stiff, overheats: false, wallOpened }
    : { wall, overheats: true, wallOpened };
}
