/**
 * How deep a pour may be when pot life, heat, energy, conductivity and room all turn out badly. The same depth for
 * whatever depth was asked about. Depths m, T K.
 */
import { cornersAt, type PourCorner } from "./corners.ts";
import {
  type Cliff,
  cliffOf,
  DEEPEST_LOOKED,
  deepestPour,
  LOOKED_AT,
  lineDepthFor,
} from "./depth.ts";
import { hardens } from "./hardening.ts";
import { type PourSetting, settingOf } from "./problem.ts";
import { LIKELY_RESIN } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** Nearer to the cliff than this no pour is recommended, K. */
export const CLIFF_MARGIN = 15;

/** A shallower pour is looked at as one of this depth, m. */
const LEAST_DEPTH = 3e-3;

/** Rooms of the table, K. */
export const ROOMS: readonly number[] = [278.15, 283.15, 288.15, 293.15, 298.15, 303.15, 311.15];

/**
 * Where the pour of this corner runs away far from walls; null: it never does.
 *
 * @param over a cliff whose peak is certainly higher, K, is told roughly only
 */
export function lineCliff(
  runs: PourRuns,
  { resin, setting }: PourCorner,
  over?: number,
): Cliff | null {
  const peakAt = (depth: number) => runs.linePeak(resin, { ...setting, depth }).value;
  return cliffOf(peakAt, resin.heat / resin.specificHeat, over);
}

/** Where corners are compared first when nothing is known yet, m: among the depths that every search looks at. */
const USUAL_DEPTH = LOOKED_AT[8];

/**
 * The corner that reaches the limit at the least depth: which one is no matter of the depth that is asked about.
 *
 * @param near where it is expected, m
 */
export function unluckiest(
  runs: PourRuns,
  limit: number,
  setting: PourSetting = settingOf(runs.job),
  near?: number,
): PourCorner {
  const corners = cornersAt(runs, "high", setting);
  const peakOf = ({ resin, setting }: PourCorner, depth: number) =>
    runs.linePeak(resin, { ...setting, depth }).value;
  const hottestAt = (depth: number) =>
    corners.reduce((a, b) => (peakOf(b, depth) > peakOf(a, depth) ? b : a));
  let found = hottestAt(near ?? USUAL_DEPTH);
  let depth = lineDepthFor(runs, found.resin, found.setting, limit, near);
  // the hottest there reaches the limit at less depth; where two curves cross it is another one again
  for (let round = 0; round < corners.length && depth !== 0; round++) {
    const at = depth ?? DEEPEST_LOOKED;
    const hottest = hottestAt(at);
    if (hottest === found || peakOf(hottest, at) <= limit) break;
    found = hottest;
    depth = lineDepthFor(runs, found.resin, found.setting, limit, depth ?? undefined);
  }
  return found;
}

interface SafeDepth {
  /** m; Infinity: none down to 300 mm is too deep. */
  readonly depth: number;
  /** Far from walls, m; null: none there. */
  readonly line: number | null;
  /** What the walls leave of it, to start the next search from. */
  readonly share: number;
}

/** Below the limit, and off the cliff. */
export function safePeak(limit: number, cliff: Cliff | null): number {
  return Math.min(limit, cliff ? cliff.peak - CLIFF_MARGIN : limit);
}

/**
 * Deepest pour that stays below the limit and off the cliff in the pessimistic corner.
 *
 * @param share what `wallShare` found nearby, to start from
 * @param near where it is expected far from walls, m
 */
export function safeDepth(
  runs: PourRuns,
  limit: number,
  share: number,
  setting: PourSetting = settingOf(runs.job),
  near?: number,
): SafeDepth {
  const corner = unluckiest(runs, limit, setting, near);
  const most = safePeak(limit, lineCliff(runs, corner, limit + CLIFF_MARGIN));
  const line = lineDepthFor(runs, corner.resin, corner.setting, most, near);
  const found = deepestPour(runs, corner.resin, corner.setting, most, share);
  return { depth: found.depth ?? Number.POSITIVE_INFINITY, line, share: found.share };
}

export interface RoomDepth {
  readonly room: number;
  /** Safe for its heat, m. */
  readonly deepest: number;
  /** Whether it hardens there within a week, most likely. */
  readonly hardens: boolean;
}

/** From the last two rooms to the next, which is about as much warmer. */
function expected(lines: readonly number[]): number | undefined {
  const [last, before] = [lines.at(-1) ?? 0, lines.at(-2) ?? 0];
  const next = (last * last) / before;
  return next > 0 && Number.isFinite(next) ? next : undefined;
}

/** The safe depth of the same pour in other rooms, stock as today against the room. */
export function safeDepthByRoom(
  runs: PourRuns,
  limit: number,
  start: number,
  eachRoom?: () => void,
): RoomDepth[] {
  const today = settingOf(runs.job);
  let share = start;
  const lines: number[] = [];
  return ROOMS.map((room) => {
    const stock = room + today.stock - today.room;
    const there = { ...today, room, stock };
    const safe = safeDepth(runs, limit, share, there, expected(lines));
    const deepest = safe.depth;
    share = safe.share;
    lines.push(safe.line ?? Number.POSITIVE_INFINITY);
    eachRoom?.();
    const depth = Math.min(Math.max(deepest, LEAST_DEPTH), DEEPEST_LOOKED);
    return { room, deepest, hardens: hardens(runs, runs.resin(LIKELY_RESIN), { ...there, depth }) };
  });
}
