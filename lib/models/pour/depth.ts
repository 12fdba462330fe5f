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
export const DEEPEST_LOOKED = 0.3;
const SHALLOWEST = 0.0015;
/** A box of about the same size moves a depth by less than this factor. */
const NEARLY = 1.1;

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

/**
 * Depth at which the peak far from walls reaches `limit`; null: not down to DEEPEST_LOOKED.
 *
 * @param near where it was found in a box of about this size
 */
export function lineDepthFor(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  limit: number,
  near?: number,
): number | null {
  const miss = (ln: number) =>
    runs.linePeak(resin, { ...setting, depth: Math.exp(ln) }).value - limit;
  const [low, high] = [Math.log(SHALLOWEST), Math.log(DEEPEST_LOOKED)];
  if (!(limit > Math.max(setting.room, setting.stock)) || miss(low) >= 0) return 0;
  if (near !== undefined) {
    const [a, b] = [Math.log(near / NEARLY), Math.log(near * NEARLY)];
    if (miss(a) < 0 && miss(b) >= 0) return Math.exp(findRoot(miss, a, b, 3e-3));
  }
  // up in steps: deep pours in a cold room may be milder than a somewhat shallower one
  const step = (high - low) / 9;
  for (let at = low; at < high - 1e-9; at += step)
    if (miss(at + step) >= 0) return Math.exp(findRoot(miss, at, at + step, 3e-3));
  return null;
}

/** What one depth says of the deepest. */
interface DepthLook {
  /** It stays below the limit. */
  readonly below: boolean;
  /** Where the limit would be with the walls' share of here, m. */
  readonly next: number;
  readonly share: number;
}

/** Depths nearer than this factor are one. */
const SAME_DEPTH = 1.015;

/**
 * Deepest that was seen to stay below; 0 where none does, null where none looked at gets there. The walls' share of one
 * depth shows the next; near a runaway, where it shows too far, the depths that are known to hold and not to hold are
 * halved.
 *
 * @param start first depth that is tried, m
 */
export function deepestBelow(
  lookAt: (depth: number) => DepthLook,
  start: number,
): { readonly depth: number | null; readonly share: number } {
  let held: { readonly depth: number; readonly share: number } | undefined;
  let failed = Number.POSITIVE_INFINITY;
  let depth = Math.min(Math.max(start, SHALLOWEST), DEEPEST_LOOKED);
  for (let round = 0; round < 16; round++) {
    const { below, next, share } = lookAt(depth);
    if (below) held = { depth, share };
    else failed = depth;
    if (below && depth >= DEEPEST_LOOKED) return { depth: null, share };
    if (!below && depth <= SHALLOWEST) return { depth: 0, share };
    if (held && (failed / held.depth < SAME_DEPTH || next < held.depth * SAME_DEPTH)) break;
    const [low, high] = [held?.depth ?? SHALLOWEST, Math.min(failed, DEEPEST_LOOKED)];
    // a little less than what is shown, to land on the side that holds
    const shown = next / Math.sqrt(SAME_DEPTH);
    if (!(shown > low)) depth = held ? Math.sqrt(low * high) : SHALLOWEST;
    else if (shown >= high) depth = failed < DEEPEST_LOOKED ? Math.sqrt(low * high) : high;
    else depth = shown;
  }
  return held ?? { depth: 0, share: 1 };
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
  const lookAt = (depth: number) =>
    lookAtDepth(runs, resin, { ...setting, depth }, { limit, line });
  return deepestBelow(lookAt, line / share);
}

/** The cut across the box at one depth. */
export function lookAtDepth(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  { limit, line }: { readonly limit: number; readonly line: number },
): DepthLook {
  const peak = runs.sectionPeak(resin, setting).value;
  const share = wallShare(runs, resin, setting, peak);
  return { below: peak <= limit, next: line / share, share };
}

/** Depths that a cliff is looked for at, and the figure is drawn from: the same for every pour. */
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
 * The steepest place of a curve of peaks; null where doubling the depth nowhere adds a third of the adiabatic rise: that is a slope.
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
