/**
 * How deep a pour may be when pot life, heat, energy, conductivity and room all turn out badly. The same depth for
 * whatever depth was asked about. Depths m, T K.
 */

import { CLIFF, type Cliff, cliffOf, climbsPast } from "./cliff.ts";
import { cornersAt, type PourCorner } from "./corners.ts";
import { deepestPour } from "./depth.ts";
import { hardens } from "./hardening.ts";
import { DEEPEST_LOOKED, LOOKED_AT, lineDepthFor } from "./line-depth.ts";
import { inRoom, type PourSetting, settingOf } from "./problem.ts";
import { LIKELY_RESIN, TOO_HOT } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** Nearer to the cliff than this no pour is recommended, K. */
export const CLIFF_MARGIN = 15;

/** A slope whose climb is above this begins to be minded as a cliff is, all of it at that of a cliff. */
const MINDED_FROM = 1 / 4;

/**
 * A depth with room for bad luck has room for so much more depth, too: no bed is more level and no box more square. The
 * unlucky pour of that depth still stays below what no pour may reach.
 */
export const DEPTH_MARGIN = 1.1;

/** A shallower pour is looked at as one of this depth, m. */
const LEAST_DEPTH = 3e-3;

/** Rooms of the table, K. */
export const ROOMS: readonly number[] = [278.15, 283.15, 288.15, 293.15, 298.15, 303.15, 311.15];

/**
 * Where the pour of this corner runs away far from walls; null: it never does.
 *
 * @param known as in `cliffOf`
 */
export function lineCliff(
  runs: PourRuns,
  corner: PourCorner,
  known?: Parameters<typeof cliffOf>[2],
): Cliff | null {
  const { heat, specificHeat } = corner.resin;
  return cliffOf(peakOver(runs, corner), heat / specificHeat, known);
}

const peakOver =
  (runs: PourRuns, { resin, setting }: PourCorner) =>
  (depth: number): number =>
    runs.linePeak(resin, { ...setting, depth }).value;

/** Where corners are compared first when nothing is known yet, m: among the depths that every search looks at. */
const USUAL_DEPTH = LOOKED_AT[8];
/** No rise grows faster than with this power of the depth, from one depth to another that is near. */
const STEEPEST = 12;

/** A corner with the depth far from walls at which it reaches the limit, m; null: none, 0: every depth does. */
interface Unluckiest extends PourCorner {
  readonly line: number | null;
}

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
): Unluckiest {
  const looked = near ?? USUAL_DEPTH;
  const corners = cornersAt(runs, "high", setting).map((corner) => {
    const peakAt = peakOver(runs, corner);
    return { corner, peakAt, first: peakAt(looked) };
  });
  type Rival = (typeof corners)[number];
  const hottest = (rivals: readonly Rival[], depth: number) =>
    rivals.reduce((a, b) => (b.peakAt(depth) > a.peakAt(depth) ? b : a));
  let found = hottest(corners, looked);
  const lineOf = ({ corner }: Rival, near?: number) =>
    lineDepthFor(runs, corner.resin, corner.setting, limit, near);
  let line = lineOf(found, near);
  const { room, stock } = found.corner.setting;
  const from = Math.max(room, stock);
  // the hottest there reaches the limit at less depth; where two curves cross it is another one again
  for (let round = 0; round < corners.length && line !== 0; round++) {
    const at = line ?? DEEPEST_LOOKED;
    const growth = Math.max(at / looked, looked / at) ** STEEPEST;
    const rivals = corners.filter(
      (one) => one === found || (one.first - from) * growth > limit - from,
    );
    const next = hottest(rivals, at);
    if (next === found || next.peakAt(at) <= limit) break;
    found = next;
    line = lineOf(found, line ?? undefined);
  }
  return { ...found.corner, line };
}

export interface SafeDepth {
  /** m; Infinity: none down to 300 mm is too deep. */
  readonly depth: number;
  /** Far from walls, m; null: none there. */
  readonly line: number | null;
  /** What the walls leave of it, to start the next search from. */
  readonly share: number;
  /** Far from walls, m; null: none, or none that counts. */
  readonly cliff: number | null;
  readonly boundBy: DepthBound;
}

/**
 * What a deeper pour comes to with bad luck: over the limit, within 15 K of where the peak climbs most steeply, or so near
 * to a runaway that a little more depth is one.
 */
export type DepthBound = "limit" | "climb" | "runaway";

/**
 * The peak up to which this corner stays below the limit, and off its cliff, K.
 *
 * @param known `line`: a depth, m, that stays below `below`, K, up to which the cliff counts
 */
function safePeak(
  runs: PourRuns,
  corner: PourCorner,
  limit: number,
  known: { readonly line: number | null; readonly below: number; readonly near?: number },
): { readonly most: number; readonly cliff: number | null; readonly offCliff: number } {
  const { line, below: up, near } = known;
  const past = { over: up + CLIFF_MARGIN, from: line ?? DEEPEST_LOOKED };
  // by far the most: no cliff that counts, wherever it is
  if (near === undefined && climbsPast(peakOver(runs, corner), past))
    return { most: limit, cliff: null, offCliff: Number.POSITIVE_INFINITY };
  const cliff = lineCliff(runs, corner, { past, near, least: MINDED_FROM });
  if (cliff === null) return { most: limit, cliff: null, offCliff: Number.NEGATIVE_INFINITY };
  const steep = Math.min((cliff.climb - MINDED_FROM) / (CLIFF - MINDED_FROM), 1);
  const minded = steep * shareOver(runs, corner, limit);
  const offCliff = cliff.peak - CLIFF_MARGIN;
  return { most: limit - minded * Math.max(0, limit - offCliff), cliff: cliff.depth, offCliff };
}

/** How far the deepest pour is over the limit, as a share of the margin: a climb that ends below the limit is none to mind. */
function shareOver(runs: PourRuns, corner: PourCorner, limit: number): number {
  const enough = ({ value }: { readonly value: number }) => value >= limit + CLIFF_MARGIN;
  const { resin, setting } = corner;
  if (runs.linePeaks(resin, setting).some(enough)) return 1;
  peakOver(runs, corner)(DEEPEST_LOOKED);
  const top = Math.max(...runs.linePeaks(resin, setting).map(({ value }) => value));
  return Math.min(Math.max(0, (top - limit) / CLIFF_MARGIN), 1);
}

/** Where searches are expected to end far from walls, m. */
interface Near {
  readonly line?: number;
  readonly cliff?: number;
}

interface SafeLine {
  readonly corner: PourCorner;
  /** Peak up to which it stays below the limit, and off its cliff, K. */
  readonly most: number;
  /** Depth of its cliff, m; null: none, or none that counts. */
  readonly cliff: number | null;
  /** Depth at which it gets there, m; null: none. */
  readonly line: number | null;
}

/** The cliffs of either energy lie at peaks that differ by less than this, K (measured: 4, three jobs in seven rooms). */
const OTHER_CLIFF = 10;

/** The least depth far from walls that an unlucky pour may have: the one that is first at the limit may be later at its cliff. */
export function safeLine(
  runs: PourRuns,
  limit: number,
  setting: PourSetting = settingOf(runs.job),
  near: Near = {},
): SafeLine {
  const first = unluckiest(runs, limit, setting, near.line);
  const lineOf = (corner: PourCorner, most: number, from: number | undefined) =>
    lineDepthFor(runs, corner.resin, corner.setting, most, from);
  const expected = near.cliff === undefined ? {} : { near: near.cliff };
  const peak = safePeak(runs, first, limit, { line: first.line, below: limit, ...expected });
  const own = { corner: first, ...peak, line: lineOf(first, peak.most, first.line || undefined) };
  if (own.line === 0) return own;
  const at = own.line ?? DEEPEST_LOOKED;
  const [rival] = cornersAt(runs, "high", setting)
    .filter(({ end }) => end.energy !== first.end.energy)
    .map((corner) => ({ corner, there: peakOver(runs, corner)(at) }))
    .sort((a, b) => b.there - a.there);
  if (rival.there <= Math.min(limit, own.offCliff) - OTHER_CLIFF) return own;
  const other = safePeak(runs, rival.corner, limit, {
    line: own.line,
    below: rival.there,
    ...(own.cliff === null ? expected : { near: own.cliff }),
  });
  if (rival.there <= other.most) return own;
  const line = lineOf(rival.corner, other.most, own.line ?? undefined);
  return line === null ? own : { corner: rival.corner, ...other, line };
}

/**
 * Deepest pour that stays below the limit and off the cliff in the pessimistic corner.
 *
 * @param share what `wallShare` found nearby, to start from
 * @param near where it and the cliff are expected far from walls, m
 */
export function safeDepth(
  runs: PourRuns,
  limit: number,
  share: number,
  setting: PourSetting = settingOf(runs.job),
  near: Near = {},
): SafeDepth {
  const { corner, most, cliff, line } = safeLine(runs, limit, setting, near);
  const found = deepestPour(runs, corner.resin, corner.setting, most, { share, line });
  const left = line === null ? 1 : roomForDepth(runs, corner, limit, line);
  return {
    depth: left * (found.depth ?? Number.POSITIVE_INFINITY),
    line,
    share: found.share,
    cliff,
    boundBy: left < 1 ? "runaway" : most < limit ? "climb" : "limit",
  };
}

/** A pour that was to stay below the limit and gets hotter than this has run away, K. */
export const runawayOver = (limit: number): number => Math.max(TOO_HOT, limit + CLIFF_MARGIN);

/** What of a depth far from walls leaves room for DEPTH_MARGIN: 1 where a little more of it does not run away. */
export function roomForDepth(
  runs: PourRuns,
  corner: PourCorner,
  limit: number,
  line: number,
): number {
  const over = runawayOver(limit);
  const deeper = DEPTH_MARGIN * line;
  if (line === 0 || staysBelow(runs, corner, over, deeper)) return 1;
  const hot = lineDepthFor(runs, corner.resin, corner.setting, over, line);
  return hot === null ? 1 : Math.min(1, hot / deeper);
}

/**
 * Whether a pour that gets to `worst` with bad luck, K, is off the cliff and has room for a little more depth.
 *
 * @param line what its walls leave of its depth, m: below the limit
 */
export function hasRoom(
  runs: PourRuns,
  corner: PourCorner,
  limit: number,
  { worst, line }: { readonly worst: number; readonly line: number },
): boolean {
  if (roomForDepth(runs, corner, limit, line) < 1) return false;
  return worst <= safePeak(runs, corner, limit, { line, below: limit }).most;
}

/** A rise that begins to run away grows with so many times the power of the depth that it did a little before. */
const STEEPENS = 1.8;

/** Whether a pour stays below `over` down to a depth far from walls: what was looked at nearby spares a look. */
function staysBelow(runs: PourRuns, corner: PourCorner, over: number, deeper: number): boolean {
  const { resin, setting } = corner;
  const from = Math.max(setting.room, setting.stock);
  const seen = runs.linePeaks(resin, setting);
  const beyond = seen.find(({ depth }) => depth >= deeper);
  if (beyond && beyond.value <= over) return true;
  const near = seen.filter(({ depth }) => depth < deeper && depth * DEPTH_MARGIN ** 2 > deeper);
  const powers = near
    .slice(1)
    .map(
      ({ depth, value }, i) =>
        Math.log((value - from) / (near[i].value - from)) / Math.log(depth / near[i].depth),
    );
  if (powers.length > 0) {
    const last = near[near.length - 1];
    const growth = (deeper / last.depth) ** (STEEPENS * Math.max(...powers));
    if ((last.value - from) * growth <= over - from) return true;
  }
  return peakOver(runs, corner)(deeper) <= over;
}

/** Depths that a search from another depth finds differ by less than this factor (measured: 1.005). */
const SAME_FOUND = 1.005;

/** The safe depth as it is told of a pour of this depth: one that is found alike is safe itself. */
export function safeBeside(safe: SafeDepth, depth: number): SafeDepth {
  return depth > safe.depth && depth <= SAME_FOUND * safe.depth ? { ...safe, depth } : safe;
}

export interface RoomDepth {
  readonly room: number;
  /** Safe for its heat, m. */
  readonly deepest: number;
  /** Whether it hardens there within a week, most likely. */
  readonly hardens: boolean;
}

/** A room that is known: the logarithm of the depth far from walls and of the cliff's, and what the walls leave of a depth. */
interface KnownRoom {
  readonly room: number;
  readonly line: number;
  readonly share: number;
  readonly cliff: number | null;
}

/** Depths of a pour grow by this share for each K that a room is colder (measured: 0.04 to 0.08). */
const DEEPER = 0.06;

/** What a room is expected to be: along the straight line through the two known ones that are nearest. */
function expectedAt(room: number, known: readonly KnownRoom[]): KnownRoom | undefined {
  const [near, next] = [...known].sort((a, b) => Math.abs(a.room - room) - Math.abs(b.room - room));
  if (near === undefined) return undefined;
  const by = room - near.room;
  const deeper = -DEEPER * by;
  const cliff = near.cliff === null ? null : near.cliff + deeper;
  if (next === undefined) return { ...near, room, line: near.line + deeper, cliff };
  const part = by / (next.room - near.room);
  const along = (a: number, b: number) => a + part * (b - a);
  return {
    room,
    line: along(near.line, next.line),
    share: Math.min(Math.max(along(near.share, next.share), 0.1), 1),
    cliff: near.cliff === null || next.cliff === null ? cliff : along(near.cliff, next.cliff),
  };
}

/** Rooms nearer to one another are one, K. */
const SAME_ROOM = 1e-6;

/** The safe depth of the same pour in other rooms, stock that was not of the room's temperature as today; found from today's outwards. */
export function safeDepthByRoom(
  runs: PourRuns,
  limit: number,
  start: SafeDepth,
  eachRoom?: () => void,
): RoomDepth[] {
  const today = settingOf(runs.job);
  const known: KnownRoom[] = [];
  const learn = (room: number, { line, share, cliff }: SafeDepth) => {
    if (line !== null && line > 0 && known.every((one) => one.room !== room))
      known.push({ room, line: Math.log(line), share, cliff: cliff && Math.log(cliff) });
  };
  learn(today.room, start);
  const far = (room: number) => Math.abs(room - today.room);
  const found = [...ROOMS]
    .sort((a, b) => far(a) - far(b))
    .map((room): RoomDepth => {
      const there = settingOf(inRoom(runs.job, room));
      const expected = expectedAt(room, known);
      const near = expected && {
        line: Math.exp(expected.line),
        ...(expected.cliff !== null && { cliff: Math.exp(expected.cliff) }),
      };
      // the row of today's room is the answer itself
      const safe =
        far(room) < SAME_ROOM
          ? start
          : safeDepth(runs, limit, expected?.share ?? start.share, there, near);
      const deepest = safe.depth;
      learn(room, safe);
      eachRoom?.();
      const depth = Math.min(Math.max(deepest, LEAST_DEPTH), DEEPEST_LOOKED);
      const resin = runs.resin(LIKELY_RESIN);
      return { room, deepest, hardens: hardens(runs, resin, { ...there, depth }) };
    });
  return found.sort((a, b) => a.room - b.room);
}
