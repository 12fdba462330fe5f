/**
 * How deep a single pour may be, and how far today's is from the cliff where it runs away.
 *
 * Searched with 1-D solves far from the walls; what the walls take away is carried over from the cut across the box as
 * a shorter depth of the same peak. Depths m, T K.
 */
import { findRoot } from "../../numerics/roots.ts";
import type { PourSetting } from "./problem.ts";
import type { PouredResin } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** No pour is looked at beyond this. */
const DEEPEST_LOOKED = 0.3;
const SHALLOWEST = 0.0015;

interface DepthCurve {
  readonly depth: readonly number[];
  readonly peak: readonly number[];
}

/** Where the peak climbs the fastest with the depth; null: it never runs away. */
export interface Cliff {
  readonly depth: number;
  /** Peak there: K. Above it nothing is mild. */
  readonly peak: number;
  /** K per m of depth. */
  readonly steepness: number;
}

/**
 * The depth far from walls that gets as hot as this pour does within its box, as a share of the depth: 1 in a wide box.
 */
export function wallShare(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  sectionPeak: number,
): number {
  const here = runs.linePeak(resin, setting).value;
  if (!(sectionPeak < here)) return 1;
  const miss = (share: number) =>
    runs.linePeak(resin, { ...setting, depth: share * setting.depth }).value - sectionPeak;
  const low = Math.max(0.1, SHALLOWEST / setting.depth);
  if (!(low < 1) || miss(low) > 0) return Math.min(low, 1);
  return findRoot(miss, low, 1, 2e-3);
}

/** Depth at which the peak far from walls reaches `limit`; null: not down to DEEPEST_LOOKED. */
function lineDepthFor(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  limit: number,
): number | null {
  const miss = (ln: number) =>
    runs.linePeak(resin, { ...setting, depth: Math.exp(ln) }).value - limit;
  const [low, high] = [Math.log(SHALLOWEST), Math.log(DEEPEST_LOOKED)];
  if (!(limit > Math.max(setting.room, setting.stock)) || miss(low) >= 0) return 0;
  // up in steps: deep pours in a cold room may be milder than a somewhat shallower one
  const step = (high - low) / 9;
  for (let at = low; at < high - 1e-9; at += step)
    if (miss(at + step) >= 0) return Math.exp(findRoot(miss, at, at + step, 3e-3));
  return null;
}

/**
 * Deepest single pour in this box that stays below `limit`, m; null when no depth down to 300 mm gets there.
 *
 * @param share what `wallShare` found for today's pour, to start from
 */
export function deepestPour(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  limit: number,
  share: number,
): { readonly depth: number | null; readonly share: number } {
  const line = lineDepthFor(runs, resin, setting, limit);
  if (line === null) return { depth: null, share };
  if (line === 0) return { depth: 0, share };
  let now = share;
  for (let round = 0; round < 6; round++) {
    const depth = line / now;
    if (depth > DEEPEST_LOOKED) return { depth: null, share: now };
    const peak = runs.sectionPeak(resin, { ...setting, depth }).value;
    const better = wallShare(runs, resin, { ...setting, depth }, peak);
    if (Math.abs(better / now - 1) < 0.02) return { depth: line / better, share: better };
    now = better;
  }
  return { depth: line / now, share: now };
}

/** Depths of the curve: the same for every pour, so that the cliff does not move with the depth that is asked for. */
export const LOOKED_AT: readonly number[] = Array.from(
  { length: 33 },
  (_, i) => 0.003 * (DEEPEST_LOOKED / 0.003) ** (i / 32),
);

/** Peak over depth for the figure and the cliff, today's depth among the points. */
export function depthCurve(peakAt: (depth: number) => number, today: number): DepthCurve {
  const most = Math.max(0.08, 2 * today);
  const depth = [...LOOKED_AT.filter((d) => d <= 1.15 * most), today].sort((a, b) => a - b);
  return { depth, peak: depth.map(peakAt) };
}

/**
 * The steepest place of a curve of peaks; null where the whole rise by heat of reaction is too small to run away.
 *
 * @param peakAt the peak at any depth, to look closer where the curve is steepest
 * @param rise adiabatic rise, K
 */
export function cliffOf(
  { depth, peak }: DepthCurve,
  peakAt: (depth: number) => number,
  rise: number,
): Cliff | null {
  const slope = ([a, b]: Span) => (b.peak - a.peak) / Math.log(b.depth / a.depth);
  const points = depth.map((d, i): Point => ({ depth: d, peak: peak[i] }));
  const spans = points
    .slice(1)
    .map((b, i): Span => [points[i], b])
    .filter(([a, b]) => b.depth > 1.02 * a.depth);
  if (spans.length === 0) return null;
  let steepest = spans.reduce((a, b) => (slope(b) > slope(a) ? b : a));
  // doubling the depth must add over a third of the adiabatic rise: else it is a slope
  if (!(slope(steepest) * Math.LN2 > rise / 3)) return null;
  while (steepest[1].depth > 1.02 * steepest[0].depth) {
    const [a, b] = steepest;
    const middle = Math.sqrt(a.depth * b.depth);
    const between = { depth: middle, peak: peakAt(middle) };
    const [left, right]: Span[] = [
      [a, between],
      [between, b],
    ];
    steepest = slope(left) > slope(right) ? left : right;
  }
  const [a, b] = steepest;
  const at = Math.sqrt(a.depth * b.depth);
  return { depth: at, peak: (a.peak + b.peak) / 2, steepness: slope(steepest) / at };
}

interface Point {
  readonly depth: number;
  readonly peak: number;
}
type Span = readonly [Point, Point];
