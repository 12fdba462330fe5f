/**
 * How deep a pour may be when pot life, heat, energy, conductivity and room all turn out badly. The same depth for
 * whatever depth was asked about. Depths m, T K.
 */
import { type PourCorner, pourCorners } from "./corners.ts";
import { type Cliff, cliffOf, deepestPour, LOOKED_AT } from "./depth.ts";
import { settingOf } from "./problem.ts";
import type { PourRuns } from "./runs.ts";

/** Nearer to the cliff than this no pour is recommended, K. */
export const CLIFF_MARGIN = 15;

/** Rooms of the table, K. */
const ROOMS = [278.15, 283.15, 288.15, 293.15, 298.15, 303.15, 311.15];

/** Where the pour of this corner runs away far from walls; null: it never does. */
export function lineCliff(runs: PourRuns, { resin, setting }: PourCorner): Cliff | null {
  const peakAt = (depth: number) => runs.linePeak(resin, { ...setting, depth }).value;
  const depth = LOOKED_AT.filter((_, i) => i % 2 === 0);
  const curve = { depth, peak: depth.map(peakAt) };
  return cliffOf(curve, peakAt, resin.heat / resin.specificHeat);
}

interface SafeDepth {
  /** m; Infinity: none down to 300 mm is too deep. */
  readonly depth: number;
  /** What the walls leave of it, to start the next search from. */
  readonly share: number;
}

/**
 * Deepest pour that stays below the limit and off the cliff in the pessimistic corner.
 *
 * @param share what `wallShare` found nearby, to start from
 */
export function safeDepth(
  runs: PourRuns,
  fast: PourCorner,
  { limit, share, cliff }: { limit: number; share: number; cliff: Cliff | null },
): SafeDepth {
  const safePeak = Math.min(limit, cliff ? cliff.peak - CLIFF_MARGIN : limit);
  const found = deepestPour(runs, fast.resin, fast.setting, safePeak, share);
  return { depth: found.depth ?? Number.POSITIVE_INFINITY, share: found.share };
}

/** The safe depth of the same pour in other rooms, stock as today against the room. */
export function safeDepthByRoom(
  runs: PourRuns,
  limit: number,
  start: number,
): { readonly room: number; readonly deepest: number }[] {
  const today = settingOf(runs.job);
  let share = start;
  return ROOMS.map((room) => {
    const { fast } = pourCorners(runs, { ...today, room, stock: room + today.stock - today.room });
    const safe = safeDepth(runs, fast, { limit, share, cliff: lineCliff(runs, fast) });
    share = safe.share;
    return { room, deepest: safe.depth };
  });
}
