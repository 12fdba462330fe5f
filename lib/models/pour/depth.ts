/**
 * How deep a single pour may be, and how far today's is from the cliff where it runs away.
 *
 * Searched with 1-D solves far from the walls; what the walls take away is carried over from the cut across the box as
 * a shorter depth of the same peak. Depths m, T K.
 */
import { linearAt } from "../../numerics/linear.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import type { PourSetting } from "./problem.ts";
import type { PouredResin } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** No pour is looked at beyond this. */
export const DEEPEST_LOOKED = 0.3;
const SHALLOWEST = 0.0015;
/** A box of about the same size moves a depth by less than this factor. */
const NEARLY = 1.1;

/** Depths that a cliff is looked for at, and the figure is drawn from: the same for every pour. */
export const LOOKED_AT: readonly number[] = Array.from(
  { length: 33 },
  (_, i) => 0.003 * (DEEPEST_LOOKED / 0.003) ** (i / 32),
);

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
 * The depth far from walls that gets as hot as this pour does within its box, as a share of the depth: 1 in a wide box. It
 * is the next one below; a depth on the other side of a hump, as over a plate, is another pour.
 */
export function wallShare(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  sectionPeak: number,
): number {
  const { depth, room, stock } = setting;
  const from = Math.max(room, stock);
  const least = Math.log(Math.min(Math.max(0.1, SHALLOWEST / depth), 1));
  if (!(sectionPeak > from)) return Math.exp(least);
  const over = riseOver(sectionPeak, from);
  const miss = (x: number) =>
    over(runs.linePeak(resin, { ...setting, depth: depth * Math.exp(x) }).value);
  let deeper: Missed = [0, miss(0)];
  let steepness = USUAL_STEEPNESS;
  while (deeper[1] > 0 && deeper[0] > least) {
    const by = Math.min(Math.max((FURTHER * deeper[1]) / steepness, FOUND_WITHIN), LONGEST_DOWN);
    const x = Math.max(least, deeper[0] - by);
    const next: Missed = [x, miss(x)];
    if (next[1] <= 0) return between(miss, next, deeper, FOUND_WITHIN);
    if (next[1] >= deeper[1]) break;
    steepness = steepnessOf((deeper[1] - next[1]) / (deeper[0] - next[0]));
    deeper = next;
  }
  return Math.exp(deeper[0]);
}

/** Depths found by a line are known to this share, or their rise is. */
const FOUND_WITHIN = 2e-3;
/** So many of the depths that a cliff is looked for at are one step. */
const STEP = 4;
/** Around a depth that is near the one looked for so many steps are made along the slope, each a little further than it leads. */
const STEPS_NEARBY = 4;
const FURTHER = 1.2;
/** Longest step down to the depth that gets as hot, of its logarithm. */
const LONGEST_DOWN = 0.4;

/**
 * Depth at which the peak far from walls reaches `limit`; null: not down to DEEPEST_LOOKED. What is known of other depths
 * is made use of: a second temperature costs little.
 *
 * @param near where another resin reaches it, or about where it is
 */
export function lineDepthFor(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  limit: number,
  near?: number,
): number | null {
  const from = Math.max(setting.room, setting.stock);
  if (!(limit > from)) return 0;
  const reached = (depth: number) => runs.linePeak(resin, { ...setting, depth }).value >= limit;
  const over = riseOver(limit, from);
  const miss = (x: number) => over(runs.linePeak(resin, { ...setting, depth: Math.exp(x) }).value);
  // is among those that are seen, wherever it is looked
  const humps = humpOf(setting);
  humps.forEach(reached);
  if (near === undefined || !enclosedNear(miss, near)) {
    if (reached(SHALLOWEST)) return 0;
    // up in steps: deep pours in a cold room may be milder than a somewhat shallower one, and that over a plate is
    const steps = [...LOOKED_AT.filter((_, i) => i % STEP === 0), ...humps];
    if (!steps.sort((a, b) => a - b).some(reached)) return null;
  }
  const seen = runs.linePeaks(resin, setting);
  if (seen[0].value >= limit && reached(SHALLOWEST)) return 0;
  const first = seen.findIndex(({ value }) => value >= limit);
  const ends = [seen[first - 1], seen[first]];
  // found before
  for (const { depth, value } of ends) if (Math.abs(over(value)) < FOUND_WITHIN) return depth;
  const [held, failed] = ends.map(({ depth, value }): Missed => [Math.log(depth), over(value)]);
  return between(miss, held, failed, FOUND_WITHIN);
}

/** Depth just below a plate, where a pour gets hotter than somewhat deeper ones, m; none without. */
const humpOf = ({ plate }: PourSetting): number[] =>
  plate !== null && plate.over > SHALLOWEST && plate.over < DEEPEST_LOOKED ? [plate.over] : [];

/** Whether a few looks along the slope from a depth nearby enclose the one looked for: one below it, one past it. */
function enclosedNear(miss: (x: number) => number, near: number): boolean {
  const [least, most] = [Math.log(SHALLOWEST * NEARLY), Math.log(DEEPEST_LOOKED / NEARLY)];
  let x = Math.log(near);
  if (!(x > least && x < most)) return false;
  let last = miss(x);
  let steepness = USUAL_STEEPNESS;
  for (let step = 0; step < STEPS_NEARBY; step++) {
    const by = (-FURTHER * last) / steepness || -FOUND_WITHIN;
    const longest = Math.log(NEARLY);
    const next = x + Math.min(Math.max(by, -longest), longest);
    if (!(next > least && next < most)) return false;
    const found = miss(next);
    if (found < 0 !== last < 0) return true;
    steepness = steepnessOf((found - last) / (next - x));
    [x, last] = [next, found];
  }
  return false;
}

/** Logarithm of a depth, and that of its rise over the one up to the limit: above 0 it gets hotter. */
type Missed = readonly [x: number, miss: number];

const riseOver =
  (limit: number, from: number) =>
  (peak: number): number =>
    Math.log(Math.max(1e-6, peak - from) / (limit - from));

/** The depth between one that stays below the limit and one that does not: rise over depth is near a straight line in logarithms. */
function between(
  miss: (x: number) => number,
  held: Missed,
  failed: Missed,
  within: number,
): number {
  let [low, high] = [held, failed];
  let kept: "low" | "high" | undefined;
  let weight = 1;
  while (high[0] - low[0] > within) {
    // an end that stays counts less and less, or it would stay for good
    const [a, b] = [kept === "low" ? weight : 1, kept === "high" ? weight : 1];
    const share = (a * low[1]) / (a * low[1] - b * high[1]);
    const x = low[0] + Math.min(Math.max(share, 0.02), 0.98) * (high[0] - low[0]);
    const found: Missed = [x, miss(x)];
    if (Math.abs(found[1]) < within) return Math.exp(x);
    const stays = found[1] < 0 ? "high" : "low";
    weight = stays === kept ? weight / 2 : 1;
    kept = stays;
    if (found[1] < 0) low = found;
    else high = found;
  }
  return Math.exp((low[0] + high[0]) / 2);
}

/** Depths of members of a range are known to this share. */
const ROUGHLY = 0.01;
const NEAR = 0.03;
/** Growth of the logarithm of the rise with that of the depth, before a runaway, until one is seen. */
const USUAL_STEEPNESS = 1.6;
const STEEPNESSES = [0.3, 12] as const;
const steepnessOf = (seen: number) => Math.min(Math.max(seen, STEEPNESSES[0]), STEEPNESSES[1]);
/** Guesses after which the depths between are looked at one by one. */
const MOST_GUESSES = 12;

interface RoughlyWanted {
  readonly limit: number;
  readonly from: number;
  readonly near: number;
  readonly setting: PourSetting;
}

/**
 * Searches for depths at which the peak far from walls reaches `limit`, roughly, each looked for around its `near`; 0:
 * every depth does, Infinity: none does down to DEEPEST_LOOKED. How steeply the peak climbs is taken over from search to
 * search.
 *
 * @returns a search over `peakAt`, the peak over depth in K, which rises from `from`
 */
export function makeRoughSearch() {
  const [least, most] = [Math.log(SHALLOWEST), Math.log(DEEPEST_LOOKED)];
  let steepness = USUAL_STEEPNESS;
  return (
    peakAt: (depth: number) => number,
    { limit, from, near, setting }: RoughlyWanted,
  ): number => {
    if (!(limit > from)) return 0;
    const over = riseOver(limit, from);
    const miss = (x: number) => over(peakAt(Math.exp(x)));
    const humps = humpOf(setting).map((depth): Missed => [Math.log(depth), miss(Math.log(depth))]);
    let held = humps.find(([, missed]) => missed < 0);
    let failed = humps.find(([, missed]) => !(missed < 0));
    let last: Missed | undefined;
    let x = Math.log(near);
    // on its own side of a hump
    x = Math.min(Math.max(x, held?.[0] ?? least), failed?.[0] ?? most);
    for (let guess = 0; guess < MOST_GUESSES; guess++) {
      const found: Missed = [x, miss(x)];
      // so near to it the rest of the way is straight
      if (Math.abs(found[1]) < NEAR) return Math.exp(x - found[1] / steepness);
      if (found[1] < 0) held = found;
      else failed = found;
      if (found[1] < 0 && x >= most) return Number.POSITIVE_INFINITY;
      if (found[1] > 0 && x <= least) return 0;
      if (held && failed && failed[0] - held[0] < ROUGHLY) break;
      if (last) {
        steepness = steepnessOf((found[1] - last[1]) / (found[0] - last[0]));
      }
      last = found;
      const step = Math.min(Math.max(-found[1] / steepness, -Math.LN2), Math.LN2);
      x = Math.min(Math.max(x + step, least), most);
      // what two looks enclose is not left again
      if (held && failed && !(x > held[0] && x < failed[0])) x = (held[0] + failed[0]) / 2;
    }
    if (held && failed) return between(miss, held, failed, ROUGHLY);
    return Math.exp(x);
  };
}

/** What one depth says of the deepest. */
interface DepthLook {
  /** Logarithm of its rise over that up to the limit: not above 0, it stays below the limit. */
  readonly rise: number;
  /** Where the limit would be with the walls' share of here, m. */
  readonly next: number;
  readonly share: number;
}

/** Depths nearer than this factor are one. */
const SAME_DEPTH = 1.015;
/** So near to the limit it is there: half a kelvin of fifty. */
const SAME_RISE = 0.01;
/** The walls leave more of a deeper pour: of the way to the depth that one look shows, in logarithms, this is gone (measured: 0.65 to 0.85). */
const STEP_TO_NEXT = 0.75;

/**
 * Deepest that stays below, by a look at it or at one that misses it by a percent; 0 where none does, null where none
 * looked at gets there. The walls' share of one depth shows the next; between a depth that holds and one that does not,
 * both shares do.
 *
 * @param start first depth that is tried, m
 */
export function deepestBelow(
  lookAt: (depth: number) => DepthLook,
  start: number,
): { readonly depth: number | null; readonly share: number } {
  let held: { readonly depth: number; readonly look: DepthLook } | undefined;
  let failed: typeof held;
  let depth = Math.min(Math.max(start, SHALLOWEST), DEEPEST_LOOKED);
  let width = Number.POSITIVE_INFINITY;
  let quick = true;
  for (let round = 0; round < 16; round++) {
    const look = lookAt(depth);
    const below = look.rise <= 0;
    if (below) held = { depth, look };
    else failed = { depth, look };
    if (below && depth >= DEEPEST_LOOKED) return { depth: null, share: look.share };
    if (!below && depth <= SHALLOWEST) return { depth: 0, share: look.share };
    // so near to the limit the walls leave as much of the depth that it shows: no other look is needed
    if (!below && look.next * SAME_DEPTH > depth)
      return { depth: look.next / SAME_DEPTH ** 0.25, share: look.share };
    // past a runaway the share of the walls is lost: only a depth that holds tells that there is no more
    if (below && (look.rise > -SAME_RISE || look.next < depth * SAME_DEPTH)) break;
    if (held && failed) {
      if (failed.depth < held.depth * SAME_DEPTH) break;
      const now = Math.log(failed.depth / held.depth);
      // halfway where the last look did not narrow it much, but not twice in a row
      quick = !quick || now < 0.6 * width;
      depth = nextBetween(held, failed, quick);
      width = now;
    } else {
      // a little less than what is shown, to land on the side that holds
      const shown = (depth * (look.next / depth) ** STEP_TO_NEXT) / Math.sqrt(SAME_DEPTH);
      depth = Math.min(Math.max(shown, SHALLOWEST), DEEPEST_LOOKED);
      if (failed && !(depth < failed.depth)) depth = SHALLOWEST;
    }
  }
  return held ? { depth: held.depth, share: held.look.share } : { depth: 0, share: 1 };
}

/** The next depth to look at between two: where both show the limit, or halfway. */
function nextBetween(
  held: { readonly depth: number; readonly look: DepthLook },
  failed: { readonly depth: number; readonly look: DepthLook },
  quick: boolean,
): number {
  const off = ({ depth, look }: typeof held) => Math.log(look.next / depth);
  const [over, under] = [off(held), off(failed)];
  const share = quick && over > 0 && under < 0 ? over / (over - under) : 0.5;
  const at = held.depth * (failed.depth / held.depth) ** share;
  const least = SAME_DEPTH ** 0.25;
  // a little less, to land on the side that holds
  return Math.min(Math.max(at / least, held.depth * least), failed.depth / least);
}

/**
 * Deepest single pour in this box that stays below `limit`, m; null when no depth down to 300 mm gets there.
 *
 * @param start what `wallShare` found for today's pour, to start from; the depth far from walls where it is known
 */
export function deepestPour(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  limit: number,
  start: { readonly share: number; readonly line?: number | null },
): { readonly depth: number | null; readonly share: number } {
  const { share, line = lineDepthFor(runs, resin, setting, limit) } = start;
  if (line === null) return { depth: null, share };
  if (line === 0) return { depth: 0, share };
  const lookAt = (depth: number) =>
    lookAtDepth(runs, resin, { ...setting, depth }, { limit, line });
  return deepestBelow(lookAt, line / share);
}

/**
 * The cut across the box at one depth.
 *
 * @param line depth of `lines` at which the limit is reached far from walls
 * @param lines what runs far from walls: left out, of the same box
 */
export function lookAtDepth(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  {
    limit,
    line,
    lines = runs,
  }: { readonly limit: number; readonly line: number; lines?: PourRuns },
): DepthLook {
  const peak = runs.sectionPeak(resin, setting).value;
  const from = Math.max(setting.room, setting.stock);
  const rise = Math.log(Math.max(1e-6, peak - from) / (limit - from));
  const share =
    shareBeside(lines, resin, setting, { line, rise }) ?? wallShare(lines, resin, setting, peak);
  return { rise: limit > from ? rise : 1, next: line / share, share };
}

/** A rise so near to that of the limit, as a logarithm, has its depth beside the limit's. */
const BESIDE = 0.06;

/** What the walls leave of a depth whose rise is beside that of the limit: along the slope there; undefined: not beside, or not known. */
function shareBeside(
  lines: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  { line, rise }: { readonly line: number; readonly rise: number },
): number | undefined {
  if (!(Math.abs(rise) < BESIDE)) return undefined;
  const seen = lines.linePeaks(resin, setting);
  const after = seen.findIndex(({ depth }) => depth > line);
  if (after < 1) return undefined;
  const from = Math.max(setting.room, setting.stock);
  const [a, b] = [seen[after - 1], seen[after]];
  const slope = Math.log((b.value - from) / (a.value - from)) / Math.log(b.depth / a.depth);
  if (!(slope > STEEPNESSES[0])) return undefined;
  return Math.min((line * Math.exp(rise / slope)) / setting.depth, 1);
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
  const three = [at - 1, at, at + 1].map((i) => ({
    x: (points[i].x + points[i + 1].x) / 2,
    slope: slopeOver(points, i),
  }));
  const { x, slope } = topOf(three);
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

/** Top of the parabola through three slopes, of which the middle one is the highest; else the highest of them. */
function topOf(three: readonly { readonly x: number; readonly slope: number }[]) {
  const [a, b, c] = three;
  const [left, right] = [a.x - b.x, c.x - b.x];
  const [fall, rest] = [(a.slope - b.slope) / left, (c.slope - b.slope) / right];
  const curve = (rest - fall) / (right - left);
  if (!(curve < 0)) return three.reduce((p, q) => (q.slope > p.slope ? q : p));
  const tilt = fall - curve * left;
  const by = Math.min(Math.max(-tilt / (2 * curve), left), right);
  return { x: b.x + by, slope: b.slope + by * (tilt + curve * by) };
}
