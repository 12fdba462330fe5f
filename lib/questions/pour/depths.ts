/** How deep may it be poured: the deepest below the limit, the cliff, and the safe depth. m, K. */

import type { PourCorners } from "../../models/pour/corners.ts";
import {
  type Cliff,
  cliffOf,
  deepestPour,
  depthCurve,
  wallShare,
} from "../../models/pour/depth.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import { lineCliff } from "../../models/pour/safe.ts";
import { linearAt } from "../../numerics/linear.ts";
import { spreadAround } from "./verdict.ts";

export interface CliffAhead extends Cliff {
  /** Depth left to the cliff, m: negative, it is behind. */
  readonly depthLeft: number;
  /** K of the cliff's peak over today's in the pessimistic corner: below 15, the pour is refused. */
  readonly margin: number;
}

/** Depths of a pour that peaks at `peak` today. */
export function depthsOf(
  runs: PourRuns,
  { likely, fast, slow }: PourCorners,
  peak: number,
  limit: number,
) {
  const today = likely.setting.depth;
  const share = wallShare(runs, likely.resin, likely.setting, peak);
  const search = (c: typeof likely) => deepestPour(runs, c.resin, c.setting, limit, share);
  const [mid, shallow, deep] = [search(likely), search(fast), search(slow)];
  const points: [number, number][] = [
    [0, 1],
    [today, share],
  ];
  for (const { depth, share } of [mid, shallow, deep])
    if (depth !== null && points.every(([d]) => Math.abs(depth - d) > 1e-3))
      points.push([depth, share]);
  points.sort((a, b) => a[0] - b[0]);
  /** What the walls leave of a depth, linear between the depths where it was found out. */
  const shareAt = (depth: number) =>
    linearAt(
      points.map(([d]) => d),
      points.map(([, s]) => s),
      depth,
    );
  const peakOf = (c: typeof likely) => (depth: number) =>
    runs.linePeak(c.resin, { ...c.setting, depth: depth * shareAt(depth) }).value;
  const curveOf = (c: typeof likely) => depthCurve(peakOf(c), today);
  const riseOf = (c: typeof likely) => c.resin.heat / c.resin.specificHeat;
  const [likelyCurve, fastCurve, slowCurve] = [curveOf(likely), curveOf(fast), curveOf(slow)];
  const deepestOf = (d: number | null) => d ?? Number.POSITIVE_INFINITY;
  return {
    shareAt,
    deepest: spreadAround(
      deepestOf(mid.depth),
      deepestOf(shallow.depth),
      deepestOf(deep.depth),
      "length",
    ),
    curve: {
      depth: likelyCurve.depth,
      peak: likelyCurve.peak,
      low: slowCurve.peak.map((p, i) => Math.min(p, likelyCurve.peak[i])),
      high: fastCurve.peak.map((p, i) => Math.max(p, likelyCurve.peak[i])),
    },
    share,
    cliff: cliffOf(peakOf(likely), riseOf(likely)),
    pessimisticCliff: lineCliff(runs, fast),
  };
}

export function cliffAhead(
  { cliff, pessimisticCliff }: ReturnType<typeof depthsOf>,
  depth: number,
  worstPeak: number,
): CliffAhead | null {
  if (cliff === null) return null;
  return {
    ...cliff,
    depthLeft: cliff.depth - depth,
    margin: (pessimisticCliff ?? cliff).peak - worstPeak,
  };
}
