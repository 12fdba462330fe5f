/** How thick a wall may be poured in one go: each half as deep as half the bait and the wall. SI and K. */
import type { Range } from "../../confidence/range.ts";
import { scaledTo } from "../../confidence/spread.ts";
import type { Job } from "../../job/types.ts";
import { deepestBelow, lookAtDepth } from "../../models/pour/depth.ts";
import { hardens } from "../../models/pour/hardening.ts";
import { lineDepthFor } from "../../models/pour/line-depth.ts";
import { depthSpread } from "../../models/pour/members.ts";
import { settingOf } from "../../models/pour/problem.ts";
import {
  LIKELY_RESIN,
  type PouredResin,
  peakLimit,
  type ResinChange,
  type ResinMaker,
} from "../../models/pour/resin.ts";
import { type PourRuns, pourRuns } from "../../models/pour/runs.ts";
import { roomForDepth, safeLine } from "../../models/pour/safe.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import type { EffortSum } from "../../models/ranged.ts";

/** The job whose pour is one half of the mold with this wall. */
function castJob(job: Job, wall: number): Job {
  const { bait, mold, pour } = job;
  const widest = Math.max(...bait.stations.map((s) => s.width));
  const highest = Math.max(...bait.stations.map((s) => s.height));
  const across = mold.cavities * widest + (mold.cavities - 1) * mold.spacing + 2 * wall;
  return {
    ...job,
    pour: {
      ...pour,
      depth: highest / 2 + wall,
      mass: null,
      box: { ...pour.box, length: bait.length + 2 * wall, width: across },
      masters: {
        ...pour.masters,
        count: mold.cavities,
        width: widest,
        height: highest / 2,
        length: bait.length,
      },
    },
  };
}

export interface Most {
  /** Likely, with its range, m. */
  readonly range: Range;
  /** With pot life, heat, energy, conductivity and room all unlucky at once, and off the cliff, m. */
  readonly safe: number;
  /** What the box leaves of the depth there. */
  readonly share: number;
  at(wall: number): { job: Job; runs: PourRuns };
}

/** What the thickest wall is looked for with. */
export interface Casting {
  readonly job: Job;
  readonly options: QuestionOptions;
  readonly make: ResinMaker;
  readonly effort: EffortSum;
}

/** Where a search begins: at a wall, or at the depth that the walls of another, which is known, leave so much of. */
interface Start {
  readonly wall: number;
  readonly share: number;
  /** The depth that they leave it of, m, where it is much another one. */
  readonly of?: number;
}

/** The wall whose box stands for all where a pour is looked at far from walls, m. */
const REFERENCE = 0.025;
/** What a mold's box usually leaves of a depth (measured: 0.6 to 0.8). */
const USUAL_SHARE = 0.7;
/** Growth of its logarithm with that of the depth (measured: 0.15 to 0.6). */
const SHARE_GROWTH = 0.25;
/** A wall thinner than this is none, m. */
const NO_WALL = 1e-3;

/** Each wall's half of the mold, with the simulations of its pour; what they took is added up by `done`. */
function halvesOf({ job, options, make, effort }: Casting) {
  const known = new Map<number, { job: Job; runs: PourRuns }>();
  const at = (wall: number) => {
    if (!known.has(wall)) {
      const cast = castJob(job, wall);
      known.set(wall, { job: cast, runs: pourRuns(cast, options, make) });
    }
    return known.get(wall)!;
  };
  const done = () => {
    for (const { runs } of known.values()) effort.add({ effort: runs.effort.done() });
  };
  return { at, done };
}

/** The thickest wall whose pour stays below the limit, and the thickest that does with bad luck, too. */
export function mostOf(casting: Casting): Most {
  const { job, make } = casting;
  const { at, done } = halvesOf(casting);
  const thickest = thickestIn(job, at);
  const { runs, job: cast } = at(REFERENCE);
  const likely = { end: LIKELY_RESIN, resin: make(LIKELY_RESIN), setting: settingOf(cast) };
  const {
    wall: value,
    depth,
    share,
  } = thickest(likely.resin, 0, {
    wall: REFERENCE,
    share: USUAL_SHARE,
  });
  const depths = scaledTo(depthSpread(runs, peakLimit(job), likely).range, depth);
  // the half of the mold, bait and wall together, is in the ratio of depths far from walls
  const range = { value, low: wallOf(job, depths.low), high: wallOf(job, depths.high) };
  const start = Number.isFinite(value) && value > NO_WALL ? value : 0.04;
  const { corner: unlucky, most } = safeLine(runs, peakLimit(job));
  const give = job.uncertainty.roomTemperature;
  const safe = thickest(unlucky.resin, give, { wall: start, share, of: depth }, most);
  const left = safe.line === null ? 1 : roomForDepth(runs, unlucky, peakLimit(job), safe.line);
  done();
  return { range, safe: Math.min(wallOf(job, left * safe.depth), range.low), share, at };
}

const halfHeight = ({ bait }: Job): number => Math.max(...bait.stations.map((s) => s.height)) / 2;

function wallOf(job: Job, depth: number): number {
  const wall = depth - halfHeight(job);
  return wall < NO_WALL ? 0 : wall;
}

/** The thickest wall of the likely resin, or of a changed one, m. */
export function likelyMost(casting: Casting, start: Start, change?: ResinChange): number {
  const { at, done } = halvesOf(casting);
  const { wall } = thickestIn(casting.job, at)(casting.make(LIKELY_RESIN, change), 0, start);
  done();
  return wall;
}

/** Whether one half with this wall, of the likely resin or of a changed one, hardens in its room. */
export function halfHardens(casting: Casting, wall: number, change?: ResinChange): boolean {
  const { at, done } = halvesOf(casting);
  const { job, runs } = at(wall);
  const found = hardens(runs, casting.make(LIKELY_RESIN, change), settingOf(job));
  done();
  return found;
}

/** The depth that walls leave `line` of, as they leave so much of another. */
function depthOf(line: number, { share, of }: Start): number {
  const usual = line / share;
  if (of === undefined || !(of > 0 && Number.isFinite(of))) return usual;
  return of * (usual / of) ** (1 / (1 + SHARE_GROWTH));
}

/** The thickest wall of one resin, with a room that is warmer by so much. */
function thickestIn(job: Job, at: Most["at"]) {
  const half = halfHeight(job);
  return (
    resin: PouredResin,
    warmer: number,
    start: Start,
    limit = peakLimit(job),
  ): { wall: number; depth: number; share: number; line: number | null } => {
    const { job: cast, runs: lines } = at(REFERENCE);
    const today = settingOf(cast);
    const { room, stock } = today;
    const warmed = { ...today, room: room + warmer, stock: stock + warmer };
    const line = lineDepthFor(lines, resin, warmed, limit);
    const lookAt = (depth: number) => {
      if (line === null) return { rise: -1, next: Number.POSITIVE_INFINITY, share: 1 };
      const { runs } = at(Math.max(depth - half, NO_WALL));
      return lookAtDepth(runs, resin, { ...warmed, depth }, { limit, line, lines });
    };
    const first = line ? depthOf(line, start) : half + start.wall;
    const { depth, share } = deepestBelow(lookAt, first);
    const found = depth ?? Number.POSITIVE_INFINITY;
    return { wall: wallOf(job, found), depth: found, share, line };
  };
}
