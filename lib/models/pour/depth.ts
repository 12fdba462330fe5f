/**
 * How deep a single pour may be in its box.
 *
 * Searched with 1-D solves far from the walls; what the walls take away is carried over from the cut across the box as
 * a shorter depth of the same peak. Depths m, T K.
 */
import type { PourCorner } from "./corners.ts";
import { DEEPEST_LOOKED, lineDepthFor, SHALLOWEST, STEEPNESSES, wallShare } from "./line-depth.ts";
import type { PourSetting } from "./problem.ts";
import type { PouredResin } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** So many looks find the depth of which walls leave another one. */
const MOST_LOOKS = 4;

/**
 * The depth of which the walls of this box leave so much, m; Infinity: of none down to 300 mm they do.
 *
 * @param left depth far from walls, m
 */
export function depthInBox(runs: PourRuns, { resin, setting }: PourCorner, left: number): number {
  let depth = DEEPEST_LOOKED;
  for (let look = 0; look < MOST_LOOKS; look++) {
    const there = { ...setting, depth };
    const share = wallShare(runs, resin, there, runs.sectionPeak(resin, there).value);
    if (depth === DEEPEST_LOOKED && share * depth <= left) return Number.POSITIVE_INFINITY;
    const next = Math.min(left / share, DEEPEST_LOOKED);
    if (Math.max(next / depth, depth / next) < SAME_DEPTH) return next;
    depth = next;
  }
  return depth;
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
const BESIDE = 0.1;

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
