/** Depths far from the walls of a box at which a pour gets as hot as asked, from 1-D solves. Depths m, T K. */
import type { PourSetting } from "./problem.ts";
import type { PouredResin } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** No pour is looked at beyond this. */
export const DEEPEST_LOOKED = 0.3;
/** Nor before this. */
export const SHALLOWEST = 0.0015;
/** A box of about the same size moves a depth by less than this factor. */
const NEARLY = 1.1;

/** Depths that a cliff is looked for at, and the figure is drawn from: the same for every pour. */
export const LOOKED_AT: readonly number[] = Array.from(
  { length: 33 },
  (_, i) => 0.003 * (DEEPEST_LOOKED / 0.003) ** (i / 32),
);

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
  const { depth, room, stock, plate } = setting;
  const from = Math.max(room, stock);
  const least = Math.log(Math.min(Math.max(0.1, SHALLOWEST / depth), 1));
  if (!(sectionPeak > from)) return Math.exp(least);
  const over = riseOver(sectionPeak, from);
  const miss = (x: number) =>
    over(runs.linePeak(resin, { ...setting, depth: depth * Math.exp(x) }).value);
  let deeper: Missed = [0, miss(0)];
  let steepness = USUAL_STEEPNESS;
  // twice as long each time: past a runaway, where all depths get about as hot, its own slope would creep
  let shortest = FOUND_WITHIN;
  while (deeper[1] > 0 && deeper[0] > least) {
    const by = Math.min(Math.max((FURTHER * deeper[1]) / steepness, shortest), LONGEST_DOWN);
    shortest *= 2;
    const x = Math.max(least, deeper[0] - by);
    const next: Missed = [x, miss(x)];
    if (next[1] <= 0) return between(miss, next, deeper, FOUND_WITHIN);
    if (next[1] >= deeper[1] + (plate === null ? PLATEAU : 0)) break;
    steepness = steepnessOf((deeper[1] - next[1]) / (deeper[0] - next[0]));
    deeper = next;
  }
  return Math.exp(deeper[0]);
}

/**
 * Without a plate deep pours, past their runaway, may be a little milder than somewhat shallower ones: a logarithm of the rise
 * that grows by no more than this is still on that plateau.
 */
const PLATEAU = 0.1;

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

/** Over so little of the logarithm of the depth the rise runs straight: in the steepest runaway the depth read off it is within 5e-4. */
const STRAIGHT = 0.024;

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
    if (high[0] - low[0] < STRAIGHT)
      return Math.exp(low[0] + (low[1] / (low[1] - high[1])) * (high[0] - low[0]));
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
export const STEEPNESSES = [0.3, 12] as const;
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
