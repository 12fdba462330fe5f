/** How thin a wall may be for the planned run of shots: none of them overheats it. SI and K. */
import type { Job, Station } from "../../job/types.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { SEARCHING } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import type { EffortSum } from "../../models/ranged.ts";
import { scenarioOf, scenarioSurroundings } from "../../models/scenario.ts";
import { cycleProblem, paceOf } from "../../models/shots/cycle.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { memoized } from "../../numerics/memoized.ts";
import { carriedOver, type OwnWall, type ShotsAtWall, shotsOver, withWall } from "./carried.ts";

/** Walls that are looked at, m. */
const WALLS = [0.004, 0.006, 0.009, 0.012, 0.016, 0.02, 0.025, 0.032, 0.04, 0.05, 0.063, 0.08];
export const THICKEST = WALLS[WALLS.length - 1];

/** Changes of a settled cycle that no longer count, K. */
const WITHIN = 0.02;

/** The walls that are looked at, the thinnest that bears the clamp and the job's own among them: in the place of one that is all but it. */
export function wallsFor({ limits: { stiff }, mold }: Job): readonly number[] {
  const beside = (wall: number) => WALLS.filter((one) => Math.abs(one / wall - 1) > 0.05);
  const clamped = [...beside(stiff), stiff];
  const own = mold.wall;
  const looked = own >= WALLS[0] && own <= THICKEST && Math.abs(own / stiff - 1) > 0.05;
  const walls = looked
    ? [...clamped.filter((one) => Math.abs(one / own - 1) > 0.05), own]
    : clamped;
  return walls.sort((a, b) => a - b);
}

/** The planned run of shots behind a wall, in one dimension and into one mold alone, as `shots` counts them. */
function makeShotsBehind(job: Job, station: Station, effort: EffortSum, options: QuestionOptions) {
  const marched = (wall: number): ShotsAtWall => {
    const scenario = scenarioOf(withWall(job, wall), options);
    const bar = barModel(scenario, standInOf(station));
    // each shot opens when it is cool enough: under a fixed timer no wall would be worth more than another
    const pace = { ...paceOf(job.run, job.limits.demold, 1), timer: null };
    const stop = options.shouldStop ? { shouldStop: options.shouldStop } : {};
    const problem = cycleProblem(bar, pace, job.shot.temperature, scenarioSurroundings(scenario), {
      ...SEARCHING,
      ...stop,
    });
    return shotsOver(
      problem,
      pace,
      { ...job, mold: { ...job.mold, wall } },
      { effort, within: WITHIN },
    );
  };
  const known = new Map<number, ShotsAtWall>();
  return (wall: number) => memoized(known, wall, 2 * WALLS.length, () => marched(wall));
}

/**
 * The thinnest wall alone: those are looked at from the thinnest that does not crack on, up to the first that serves.
 *
 * @param behind the planned run behind a wall
 */
function leastWall(job: Job, behind: (wall: number) => ShotsAtWall) {
  const { stiff } = job.limits;
  const limit = wallLimitOf(job);
  const looked: ShotsAtWall[] = [];
  for (const wall of wallsFor(job).filter((one) => one >= stiff)) {
    looked.push(behind(wall));
    if (serves(looked[looked.length - 1], limit)) break;
  }
  return leastOf(looked, limit, stiff);
}

/** Temperatures of plastic, mold and room unlucky (+1) or lucky (-1). */
function shifted(job: Job, sign: 1 | -1): Job {
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
export function serves(
  { lastDemold, wallPeak }: Pick<ShotsAtWall, "lastDemold" | "wallPeak">,
  limit: number | null,
): boolean {
  return Number.isFinite(lastDemold) && (limit === null || wallPeak <= limit);
}

export interface Thinnest {
  readonly wall: number;
  readonly overheats: boolean;
  /** Hottest face as a shot is opened, behind it or the thinnest that bears the clamp, K. */
  readonly wallOpened: number;
}

/** The thinnest wall that serves, and is stiff. */
function leastOf(looked: readonly ShotsAtWall[], limit: number | null, stiff: number): Thinnest {
  // a thinner one may bear the shots where neighbor cavities heat a thicker one more
  const points = looked.filter(({ wall }) => wall >= stiff);
  const first = points.findIndex((p) => serves(p, limit));
  const { wallOpened } = points[Math.max(0, first)];
  if (first < 0) return { wall: Number.POSITIVE_INFINITY, overheats: true, wallOpened };
  if (first === 0) return { wall: stiff, overheats: false, wallOpened };
  const [a, b] = [points[first - 1], points[first]];
  const both = Number.isFinite(a.lastDemold) && limit !== null && a.wallPeak > b.wallPeak;
  const share = both ? Math.min(1, (a.wallPeak - limit) / (a.wallPeak - b.wallPeak)) : 1;
  return { wall: a.wall + share * (b.wall - a.wall), overheats: true, wallOpened };
}

/** The planned run behind each wall that is looked at, and the thinnest that serves: most likely, and with luck. */
interface Thinnests {
  readonly likely: readonly ShotsAtWall[];
  readonly own: OwnWall;
  readonly least: Thinnest;
  readonly unlucky: Thinnest;
  readonly lucky: Thinnest;
  leastWith(changed: Job): Thinnest;
}

/** @param done is called for each wall, and once for luck */
export function thinnestOf(
  job: Job,
  station: Station,
  {
    options,
    effort,
    done,
  }: {
    readonly options: QuestionOptions;
    readonly effort: EffortSum;
    readonly done: () => void;
  },
): Thinnests {
  const bars = (changed: Job) => makeShotsBehind(changed, station, effort, options);
  const behind = bars(job);
  const carriedTo = (changed: Job, bar = bars(changed)) =>
    carriedOver(changed, station, bar, { options, effort });
  const carried = carriedTo(job, behind);
  const { own } = carried;
  const likely = wallsFor(job).map((wall) => {
    const found = wall === own.wall ? own : carried.over(behind(wall));
    done();
    return found;
  });
  const leastWith = (changed: Job, by?: typeof carried) => {
    const bar = bars(changed);
    const { over } = by ?? carriedTo(changed, bar);
    return leastWall(changed, (wall) => over(bar(wall)));
  };
  const least = leastOf(likely, wallLimitOf(job), job.limits.stiff);
  // what a section adds is the same with bad luck, and looked at again only where that costs nothing
  const { likelyOnly = false, quick = false } = options;
  const withLuck = (sign: 1 | -1) =>
    likelyOnly ? least : leastWith(shifted(job, sign), quick ? undefined : carried);
  const [unlucky, lucky] = [withLuck(1), withLuck(-1)];
  done();
  return { likely, own, least, unlucky, lucky, leastWith };
}
