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

/** What is known before a cliff is looked for. */
interface Beforehand {
  /** One whose peak is certainly higher than `over`, K, counts as none; `from` is a depth, m, that stays below it. */
  readonly past?: { readonly over: number; readonly from: number };
  /** Where it lies in a similar case, m. */
  readonly near?: number | undefined;
}

/**
 * Where the peak climbs most steeply with the logarithm of the depth; null where doubling the depth nowhere adds a third of
 * the adiabatic rise: that is a slope. The top of the parabola through the three steepest spans, so that it moves on evenly.
 *
 * @param rise adiabatic rise, K
 */
export function cliffOf(
  peakAt: (depth: number) => number,
  rise: number,
  { past, near }: Beforehand = {},
): Cliff | null {
  const points = near === undefined ? undefined : pointsNear(peakAt, near);
  return points ? cliffOn(points, rise) : cliffAmong(peakAt, rise, past);
}

/** Steps between the depths on which a cliff is looked for in the end, as a logarithm. */
const CLOSE_STEP = Math.log(FIRST_LOOK[1] / FIRST_LOOK[0]) / 2 ** CLOSER_LOOKS;
/** So many of them to either side a climb is told from a slope: as far as doubling the depth around it goes. */
const CLIMB_STEPS = Math.ceil(Math.LN2 / 2 / CLOSE_STEP);
/** So many steps a similar case's may be off. */
const MOST_MOVED = 4;

/**
 * Points around a cliff that is expected at a depth, those that a search through all depths ends with; undefined where the
 * steepest place isn't there.
 */
function pointsNear(peakAt: (depth: number) => number, near: number): Point[] | undefined {
  const from = Math.log(FIRST_LOOK[0]);
  const most = Math.round((Math.log(FIRST_LOOK[FIRST_LOOK.length - 1]) - from) / CLOSE_STEP);
  const pointAt = (k: number): Point => {
    const x = from + k * CLOSE_STEP;
    return { x, peak: peakAt(Math.exp(x)) };
  };
  let first = Math.round((Math.log(near) - from) / CLOSE_STEP) - 2;
  const outer = (last: number) => first - CLIMB_STEPS >= 0 && last + CLIMB_STEPS <= most;
  const points = new Map<number, Point>();
  for (let moved = 0; moved <= MOST_MOVED; moved++) {
    if (!outer(first + 4)) return undefined;
    const inner = Array.from({ length: 5 }, (_, i) => {
      const k = first + i;
      const point = points.get(k) ?? pointAt(k);
      points.set(k, point);
      return point;
    });
    const steepest = steepestOf(inner);
    if (steepest === 1 || steepest === 2) {
      const ends = [-CLIMB_STEPS, CLIMB_STEPS].map((by) => pointAt(first + 2 + by));
      const all = [ends[0], ...inner, ends[1]];
      // steeper still further off: that is another one
      return steepestOf(all) === steepest + 1 ? all : undefined;
    }
    first += steepest === 0 ? -1 : 1;
  }
  return undefined;
}

/** Among all depths. */
function cliffAmong(
  peakAt: (depth: number) => number,
  rise: number,
  past: Beforehand["past"],
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
  return cliffOn(points, rise);
}

/** The cliff on points that lie close together where it is steepest; null: that is a slope. */
function cliffOn(points: readonly Point[], rise: number): Cliff | null {
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
