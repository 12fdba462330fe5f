/** The peak of a pour over its depth, and the depth where it runs away. Depths m, T K. */
import { linearAt } from "../../numerics/linear.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import { topOf } from "../../numerics/parabola.ts";
import { LOOKED_AT } from "./line-depth.ts";

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

/** Peak over depth for the figure, today's depth among the points; where it runs straight not every one is computed. */
export function depthCurve(peakAt: (depth: number) => number, today: number): DepthCurve {
  const most = Math.max(0.08, 2 * today);
  const depth = [...LOOKED_AT.filter((d) => d <= 1.15 * most), today].sort((a, b) => a - b);
  const known = new Map([today, depth[0], depth[depth.length - 1]].map((d) => [d, peakAt(d)]));
  const between = (i: number, k: number): void => {
    if (k - i < 2) return;
    const middle = Math.round((i + k) / 2);
    const [a, b, at] = [depth[i], depth[k], depth[middle]];
    const straight = linearAt(
      [Math.log(a), Math.log(b)],
      [known.get(a)!, known.get(b)!],
      Math.log(at),
    );
    if (!known.has(at)) known.set(at, peakAt(at));
    if (k - i <= LOOKED_CLOSELY && Math.abs(known.get(at)! - straight) < STRAIGHT) return;
    between(i, middle);
    between(middle, k);
  };
  const here = depth.indexOf(today);
  between(0, here);
  between(here, depth.length - 1);
  const seen = depth.filter((d) => known.has(d));
  const curve = monotoneCubic(
    seen.map(Math.log),
    seen.map((d) => known.get(d)!),
  );
  return { depth, peak: depth.map((d) => known.get(d) ?? curve(Math.log(d))) };
}

/** Over so few depths a middle that lies on the straight line, by so many K, stands for all between. */
const LOOKED_CLOSELY = 8;
const STRAIGHT = 1;

/** A cliff is first looked for at every second of these depths, then twice between the steepest and their neighbors. */
const FIRST_LOOK = LOOKED_AT.filter((_, i) => i % 2 === 0);
const CLOSER_LOOKS = 2;
/** From so much of the depth that gets to a limit on a cliff above it is looked for. */
const MILD = 0.75;

interface Point {
  /** Logarithm of the depth. */
  readonly x: number;
  readonly peak: number;
}

/**
 * Where the peak climbs most steeply with the logarithm of the depth; null where doubling the depth nowhere adds a third of
 * the adiabatic rise: that is a slope. The top of the parabola through the three steepest spans, so that it moves on evenly.
 *
 * @param rise adiabatic rise, K
 * @param past a cliff whose peak is certainly higher than `over`, K, counts as none; `from` is a depth, m, that stays below it
 */
export function cliffOf(
  peakAt: (depth: number) => number,
  rise: number,
  past?: { readonly over: number; readonly from: number },
): Cliff | null {
  const pointAt = (depth: number): Point => ({ x: Math.log(depth), peak: peakAt(depth) });
  // the steepest place lies in the steepest span or the nearer halves of its neighbors
  const certain = (points: readonly Point[]) => {
    const steepest = steepestOf(points);
    if (past === undefined || steepest < 2) return false;
    return (points[steepest - 1].peak + points[steepest].peak) / 2 > past.over;
  };
  const lookFrom = (start: number): Point[] => {
    const looked: Point[] = [];
    for (const depth of FIRST_LOOK.slice(start)) {
      looked.push(pointAt(depth));
      if (isPast(looked, rise) || certain(looked)) break;
    }
    return looked;
  };
  const start = past ? FIRST_LOOK.filter((depth) => depth < MILD * past.from).length - 1 : 0;
  let points = lookFrom(Math.max(0, start));
  // it may lie before
  if (start > 0 && steepestOf(points) < 2) points = lookFrom(0);
  for (let look = 0; look < CLOSER_LOOKS; look++) {
    if (certain(points)) return null;
    const steepest = steepestOf(points);
    points = points.flatMap((point, i) => {
      const next = points[i + 1];
      const near = next !== undefined && Math.abs(i - steepest) <= 1;
      return near ? [point, pointAt(Math.exp((point.x + next.x) / 2))] : [point];
    });
  }
  const at = Math.min(Math.max(steepestOf(points), 1), points.length - 3);
  const middle = (i: number) => (points[i].x + points[i + 1].x) / 2;
  const { x, y: slope } = topOf(
    [middle(at - 1), middle(at), middle(at + 1)],
    [slopeOver(points, at - 1), slopeOver(points, at), slopeOver(points, at + 1)],
  );
  const xs = points.map((point) => point.x);
  const peaks = points.map(({ peak }) => peak);
  const peakNear = (by: number) => linearAt(xs, peaks, x + by);
  if (!(peakNear(Math.LN2 / 2) - peakNear(-Math.LN2 / 2) > rise / 3)) return null;
  const depth = Math.exp(x);
  return { depth, peak: peakNear(0), steepness: slope / depth };
}

/** Spans after the steepest that must be flatter, by this, for a cliff to lie behind: deeper ones only get hot sooner. */
const FLATTER = { spans: 3, share: 0.5 } as const;

function isPast(points: readonly Point[], rise: number): boolean {
  const spans = points.length - 1;
  if (spans < FLATTER.spans + 2) return false;
  const steepest = steepestOf(points);
  const slope = slopeOver(points, steepest);
  if (steepest + FLATTER.spans >= spans || !(slope * Math.LN2 > rise / 3)) return false;
  return slopeOver(points, spans - 1) < FLATTER.share * slope;
}

/** K for a depth larger by e, over the span after point `i`. */
function slopeOver(points: readonly Point[], i: number): number {
  return (points[i + 1].peak - points[i].peak) / (points[i + 1].x - points[i].x);
}

function steepestOf(points: readonly Point[]): number {
  let best = 0;
  for (let i = 1; i + 1 < points.length; i++)
    if (slopeOver(points, i) > slopeOver(points, best)) best = i;
  return best;
}
