/** How deep may it be poured: the deepest below the limit, the cliff, and the safe depth. m, K. */

import type { Range } from "../../confidence/range.ts";
import { scaledTo } from "../../confidence/spread.ts";
import { type Cliff, cliffOf, depthCurve, steepnessAt } from "../../models/pour/cliff.ts";
import { cornerOf, type PourCorner, type PourCorners } from "../../models/pour/corners.ts";
import { deepestPour, depthInBox } from "../../models/pour/depth.ts";
import { DEEPEST_LOOKED, wallShare } from "../../models/pour/line-depth.ts";
import { depthSpread } from "../../models/pour/members.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import { lineCliff, unluckiest } from "../../models/pour/safe.ts";
import { quantified } from "../../models/ranged.ts";
import { linearAt } from "../../numerics/linear.ts";

/** The depth at which a pour runs away, and how far off it is. */
export interface CliffAhead extends Omit<Cliff, "climb"> {
  /** K per m of depth. */
  readonly steepness: number;
  /** Depth left to the cliff, m: negative, it is behind. */
  readonly depthLeft: number;
  /** K of the cliff's peak over today's in the pessimistic corner: below 15, the pour is refused. */
  readonly margin: number;
}

/** A depth so much past the cliff is looked at in the cut across the box; depths nearer to one another than this are alike. */
const PAST_CLIFF = 1.4;
const LIKE_IT = 0.03;

/**
 * What the walls leave of today's depth for whatever the pour's luck is. A pour that hardly gets hotter than it was poured,
 * into a colder room, has its peak from its stock: it tells nothing of the walls, as much as that is so, and the unlucky
 * pour is asked.
 *
 * @param share what they leave of the likely one
 */
function shareWithAnyLuck(
  runs: PourRuns,
  { likely, fast }: PourCorners,
  { peak, share }: { readonly peak: number; readonly share: number },
): number {
  const warmer = likely.setting.stock - likely.setting.room;
  if (!(warmer > 0)) return share;
  const rise = Math.max(0, peak - likely.setting.stock);
  const own = rise / (rise + warmer);
  const { value } = runs.sectionPeak(fast.resin, fast.setting);
  return share ** own * wallShare(runs, fast.resin, fast.setting, value) ** (1 - own);
}

/**
 * Depths of a pour that peaks at `peak` today.
 *
 * @param brief without the figure's curves
 */
export function depthsOf(
  runs: PourRuns,
  corners: PourCorners,
  {
    peak,
    limit,
    brief,
  }: { readonly peak: number; readonly limit: number; readonly brief: boolean },
) {
  const { likely, fast } = corners;
  const today = likely.setting.depth;
  const share = wallShare(runs, likely.resin, likely.setting, peak);
  const mid = deepestPour(runs, likely.resin, likely.setting, limit, { share });
  const line = lineCliff(runs, likely);
  // past the cliff the walls leave less of a depth
  const past = line && Math.min((PAST_CLIFF * line.depth) / mid.share, DEEPEST_LOOKED);
  const points: [number, number][] = [[today, share]];
  const add = (depth: number, shareOf: () => number) => {
    if (points.every(([d]) => Math.abs(Math.log(depth / d)) > LIKE_IT))
      points.push([depth, shareOf()]);
  };
  if (mid.depth !== null && mid.depth > 0) add(mid.depth, () => mid.share);
  if (past !== null)
    add(past, () => {
      const setting = { ...likely.setting, depth: past };
      const { value } = runs.sectionPeak(likely.resin, setting);
      return wallShare(runs, likely.resin, setting, value);
    });
  points.sort((a, b) => a[0] - b[0]);
  /** What the walls leave of a depth, linear between the depths where it was found out. */
  const shareAt = (depth: number) =>
    linearAt(
      points.map(([d]) => d),
      points.map(([, s]) => s),
      depth,
    );
  /** The depth of which the walls leave so much, about: from what they leave of one that is near. */
  const boxDepth = (left: number) => left / shareAt(left / mid.share);
  const peakOf = (c: typeof likely) => (depth: number) =>
    runs.linePeak(c.resin, { ...c.setting, depth: depth * shareAt(depth) }).value;
  const riseOf = (c: typeof likely) => c.resin.heat / c.resin.specificHeat;
  const { range } = depthSpread(runs, limit, likely);
  const cliff = cliffOf(peakOf(likely), riseOf(likely), {
    near: line ? boxDepth(line.depth) : undefined,
  });
  return {
    shareAt,
    deepest: quantified(deepestInBox(runs, limit, range, mid.depth), "length"),
    // drawn last: searches start from what is known by then, and must not hang on what is shown
    curve: () => (brief ? NO_CURVE : curvesOf(runs, corners, peakOf)),
    share,
    anyLuck: shareWithAnyLuck(runs, corners, { peak, share }),
    cliff: cliff && { ...cliff, steepness: steepnessAt(peakOf(likely), cliff) },
    pessimisticCliff: lineCliff(runs, fast),
  };
}

/**
 * The range of the deepest, in the box.
 *
 * @param range far from walls
 * @param depth the likely one, in the box; null: none there is too deep
 */
function deepestInBox(runs: PourRuns, limit: number, range: Range, depth: number | null): Range {
  if (depth !== null || !Number.isFinite(range.low))
    return scaledTo(range, depth ?? Number.POSITIVE_INFINITY);
  // nothing tells how a depth without end is to a shorter one: the walls of an unlucky pour do
  const never = Number.POSITIVE_INFINITY;
  return { value: never, low: depthInBox(runs, unluckiest(runs, limit), range.low), high: never };
}

const NO_CURVE = { depth: [], peak: [], low: [], high: [] };

/** Peak over depth, likely and at both ends. */
function curvesOf(
  runs: PourRuns,
  { likely, fast }: PourCorners,
  peakOf: (corner: PourCorner) => (depth: number) => number,
) {
  const [middle, hot, cool] = [likely, fast, cornerOf(runs, "low")].map((corner) =>
    depthCurve(peakOf(corner), likely.setting.depth),
  );
  return {
    depth: middle.depth,
    peak: middle.peak,
    low: cool.peak.map((p, i) => Math.min(p, middle.peak[i])),
    high: hot.peak.map((p, i) => Math.max(p, middle.peak[i])),
  };
}

export function cliffAhead(
  { cliff, pessimisticCliff }: ReturnType<typeof depthsOf>,
  depth: number,
  worstPeak: number,
): CliffAhead | null {
  if (cliff === null) return null;
  const { climb: _, ...known } = cliff;
  return {
    ...known,
    depthLeft: cliff.depth - depth,
    margin: (pessimisticCliff ?? cliff).peak - worstPeak,
  };
}
