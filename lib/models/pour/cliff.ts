/** The peak of a pour over its depth, and the depth where it runs away. Depths m, T K. */
import { linearAt } from "../../numerics/linear.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import { topOf } from "../../numerics/parabola.ts";
import { LOOKED_AT, SHALLOWEST } from "./line-depth.ts";

interface DepthCurve {
  readonly depth: readonly number[];
  readonly peak: readonly number[];
}

/** Where the peak climbs the fastest with the depth. */
export interface Cliff {
  readonly depth: number;
  /** Peak there: K. Above it nothing is mild. */
  readonly peak: number;
  /** What doubling the depth around it adds, as a share of the adiabatic rise. */
  readonly climb: number;
}

/** So much of the adiabatic rise with a depth doubled is a cliff; what adds less is a slope. */
export const CLIFF = 1 / 3;

/** Peak over depth for the figure, today's depth among the points; where a smooth curve foretells it not every one is computed. */
export function depthCurve(peakAt: (depth: number) => number, today: number): DepthCurve {
  const most = Math.max(0.08, 2 * today);
  const depth = [...LOOKED_AT.filter((d) => d <= 1.15 * most), today].sort((a, b) => a - b);
  const known = new Map([today, depth[0], depth[depth.length - 1]].map((d) => [d, peakAt(d)]));
  const curve = () => {
    const seen = depth.filter((d) => known.has(d));
    return monotoneCubic(
      seen.map(Math.log),
      seen.map((d) => known.get(d)!),
    );
  };
  const here = depth.indexOf(today);
  // all of one length before their halves: a curve through them knows both sides
  const spans: (readonly [number, number])[] = [
    [0, here],
    [here, depth.length - 1],
  ];
  for (const [i, k] of spans) {
    if (k - i < 2) continue;
    const middle = Math.round((i + k) / 2);
    const [a, b, at] = [depth[i], depth[k], depth[middle]];
    const foretold = k - i <= LOOKED_CLOSELY ? curve()(Math.log(at)) : Number.NaN;
    if (!known.has(at)) known.set(at, peakAt(at));
    const [low, high, found] = [known.get(a)!, known.get(b)!, known.get(at)!];
    const straight = linearAt([Math.log(a), Math.log(b)], [low, high], Math.log(at));
    if (Math.abs(found - foretold) < FORETOLD && Math.abs(found - straight) < BENT) continue;
    spans.push([i, middle], [middle, k]);
  }
  const through = curve();
  return { depth, peak: depth.map((d) => known.get(d) ?? through(Math.log(d))) };
}

/** Over so few depths a middle that is foretold to so many K, by what is known around it, leaves none between to be computed. */
const LOOKED_CLOSELY = 8;
const FORETOLD = 0.8;
/** It may be by chance where the peak bends off the straight line by more than this, K. */
const BENT = 10;

/** A cliff is first looked for at every second of these depths. */
const FIRST_LOOK = LOOKED_AT.filter((_, i) => i % 2 === 0);
/** From so much of the depth that gets to a limit on a cliff above it is looked for. */
const MILD = 0.75;

/** In the end on all of them and some shallower ones: steps of them, counted from the first. */
const CLOSE_STEP = Math.log(LOOKED_AT[1] / LOOKED_AT[0]);
const CLOSER = 2;
/** Somewhat more than half of a doubling, in these steps: so far to either side a climb is compared. */
const HALF_DOUBLED = 3;
const SHALLOWEST_AT = Math.ceil(Math.log(SHALLOWEST / LOOKED_AT[0]) / CLOSE_STEP);
const DEEPEST_AT = LOOKED_AT.length - 1;
/** So many steps a similar case's may be off; so many the first look's. */
const MOST_MOVED = { near: 3, among: 6 } as const;

interface Point {
  /** Logarithm of the depth. */
  readonly x: number;
  readonly peak: number;
}

/** Peak at a step of the close ones. */
type PeakAtStep = (step: number) => number;

/** What is asked of a cliff, and known before it is looked for. */
interface Asked {
  /** Least climb that counts; left out: that of a cliff. */
  readonly least?: number;
  /** One whose peak is certainly higher than `over`, K, counts as none; `from` is a depth, m, that stays below it. */
  readonly past?: { readonly over: number; readonly from: number };
  /** Where it lies in a similar case, m. */
  readonly near?: number | undefined;
}

/**
 * The depth of whose doubling the upper half adds as much as the lower one: there doubling it adds most. Read over so wide a
 * span it moves on evenly, where the steepest of narrow ones leaps by what the steps of a run leave in a peak.
 *
 * @param rise adiabatic rise, K
 * @returns null where doubling the depth nowhere adds the least share of the rise
 */
export function cliffOf(
  peakAt: (depth: number) => number,
  rise: number,
  { past, near, least = CLIFF }: Asked = {},
): Cliff | null {
  const known = new Map<number, number>();
  const peakAtStep: PeakAtStep = (step) => {
    const peak = known.get(step) ?? peakAt(depthAt(step));
    known.set(step, peak);
    return peak;
  };
  const most = least * rise;
  const from = near === undefined ? undefined : Math.round(stepOf(near));
  const there = from === undefined ? undefined : crossingFrom(peakAtStep, from, MOST_MOVED.near);
  const at = there ?? stepAmong(peakAtStep, most, past);
  if (at === null) return null;
  const cliff = cliffAt(peakAtStep, at, rise);
  return cliff.climb > least ? cliff : null;
}

const depthAt = (step: number): number =>
  LOOKED_AT[step] ?? LOOKED_AT[0] * Math.exp(step * CLOSE_STEP);
const stepOf = (depth: number): number => Math.log(depth / LOOKED_AT[0]) / CLOSE_STEP;

/** By how much more the upper half of a doubling adds than the lower one, K. */
const bendAt = (peakAt: PeakAtStep, step: number): number =>
  peakAt(step + HALF_DOUBLED) - 2 * peakAt(step) + peakAt(step - HALF_DOUBLED);

/**
 * The last step at which the peak climbs more above than below it, from a step on that is near; the outermost where it does
 * so everywhere, or nowhere; undefined: further away than `most`.
 */
function crossingFrom(peakAt: PeakAtStep, start: number, most: number): number | undefined {
  const [first, last] = [SHALLOWEST_AT + HALF_DOUBLED, DEEPEST_AT - HALF_DOUBLED - 1];
  let at = Math.min(Math.max(start, first), last);
  for (let moved = 0; moved <= most; moved++) {
    if (!(bendAt(peakAt, at) > 0)) {
      if (at === first) return at;
      at -= 1;
    } else {
      if (at === last || !(bendAt(peakAt, at + 1) > 0)) return at;
      at += 1;
    }
  }
  return undefined;
}

/** The cliff between a step and the next. */
function cliffAt(peakAt: PeakAtStep, step: number, rise: number): Cliff {
  const [here, next] = [bendAt(peakAt, step), bendAt(peakAt, step + 1)];
  const part = here > 0 ? (next > 0 ? 1 : here / (here - next)) : 0;
  /** Along the line through two steps, so many after `part`. */
  const along = (from: number, by: number) => {
    const [a, b] = [peakAt(from), peakAt(from + 1)];
    return a + (step + part + by - from) * (b - a);
  };
  const half = Math.LN2 / 2 / CLOSE_STEP;
  const added = along(step + HALF_DOUBLED, half) - along(step - HALF_DOUBLED, -half);
  const depth = depthAt(step) * Math.exp(part * CLOSE_STEP);
  return { depth, peak: along(step, 0), climb: added / rise };
}

/** How steeply the peak climbs at a cliff, K per m of depth. */
export function steepnessAt(
  peakAt: (depth: number) => number,
  { depth }: Pick<Cliff, "depth">,
): number {
  const step = Math.floor(stepOf(depth));
  const slopeAfter = (from: number) =>
    (peakAt(depthAt(from + 1)) - peakAt(depthAt(from))) / CLOSE_STEP;
  const slopes = [slopeAfter(step - 1), slopeAfter(step), slopeAfter(step + 1)] as const;
  return topOf([-1, 0, 1], slopes).y / depth;
}

/** So many steps past a depth a higher peak is looked for. */
const LOOKED_PAST = 3;

/**
 * Whether a cliff lies at a peak higher than `over`, K, or there is none: where the peak is that high it still climbs more
 * above than below.
 *
 * @param from a depth, m, that stays below
 */
export function climbsPast(
  peakAt: (depth: number) => number,
  { over, from }: NonNullable<Asked["past"]>,
): boolean {
  const peakAtStep: PeakAtStep = (step) => peakAt(depthAt(step));
  const start = Math.max(Math.ceil(stepOf(from)), SHALLOWEST_AT + HALF_DOUBLED);
  for (let step = start; step < start + LOOKED_PAST; step++) {
    if (step > DEEPEST_AT - HALF_DOUBLED) return false;
    if (peakAtStep(step) >= over) return bendAt(peakAtStep, step) > 0;
  }
  return false;
}

/** Among all depths the step before it; null: none that counts. */
function stepAmong(peakAt: PeakAtStep, most: number, past: Asked["past"]): number | null {
  const pointAt = (i: number): Point => ({
    x: Math.log(FIRST_LOOK[i]),
    peak: peakAt(i * CLOSER),
  });
  // the steepest place lies in the steepest span or the nearer halves of its neighbors
  const certain = (points: readonly Point[]) => {
    const steepest = steepestOf(points);
    if (past === undefined || steepest < 2) return false;
    return (points[steepest - 1].peak + points[steepest].peak) / 2 > past.over;
  };
  const lookFrom = (start: number): Point[] => {
    const looked: Point[] = [];
    for (let i = start; i < FIRST_LOOK.length; i++) {
      looked.push(pointAt(i));
      if (isPast(looked, most) || certain(looked)) break;
    }
    return looked;
  };
  let start = past ? FIRST_LOOK.filter((depth) => depth < MILD * past.from).length - 1 : 0;
  start = Math.max(0, start);
  let points = lookFrom(start);
  // it may lie before
  if (start > 0 && steepestOf(points) < 2) {
    start = 0;
    points = lookFrom(0);
  }
  if (certain(points) || !mayClimb(points, most)) return null;
  const at = Math.min(Math.max(steepestOf(points), 1), points.length - 3);
  const middle = (i: number) => (points[i].x + points[i + 1].x) / 2;
  const { x } = topOf(
    [middle(at - 1), middle(at), middle(at + 1)],
    [slopeOver(points, at - 1), slopeOver(points, at), slopeOver(points, at + 1)],
  );
  return crossingFrom(peakAt, Math.floor(stepOf(Math.exp(x))), MOST_MOVED.among) ?? null;
}

/** A doubling lies within so many spans. */
const SPANS_OF_DOUBLING = Math.ceil(Math.LN2 / (CLOSER * CLOSE_STEP)) + 1;

/** Whether a doubling may add as much as `most`, K. */
const mayClimb = (points: readonly Point[], most: number): boolean =>
  points.some(
    ({ peak }, i) => points[Math.min(i + SPANS_OF_DOUBLING, points.length - 1)].peak - peak > most,
  );

/** Spans after the steepest that must be flatter, by this, for a cliff to lie behind: deeper ones only get hot sooner. */
const FLATTER = { spans: 3, share: 0.5 } as const;

function isPast(points: readonly Point[], most: number): boolean {
  const spans = points.length - 1;
  if (spans < FLATTER.spans + 2) return false;
  const steepest = steepestOf(points);
  const slope = slopeOver(points, steepest);
  if (steepest + FLATTER.spans >= spans || !(slope * Math.LN2 > most)) return false;
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
