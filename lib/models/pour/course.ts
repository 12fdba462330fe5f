/** What happens in a pour over time, read from the simulated cut across the box. T K, times s, lengths m. */
import { type GlassTransition, glassAt } from "../../cure/glass-transition.ts";
import { timeToCure } from "../../cure/isothermal.ts";
import { makeTabulatedRateLaw } from "../../cure/tabulated.ts";
import type { History, Snapshot } from "../../heat/problem.ts";
import { linearAt } from "../../numerics/linear.ts";
import { memoized } from "../../numerics/memoized.ts";
import { topOf } from "../../numerics/parabola.ts";
import { lostFront } from "./lost-front.ts";
import { fallsTo, fastestGrowth, highest, highestRise, reaches } from "./moments.ts";
import type { PouredResin } from "./resin.ts";

/** When the pour may be touched; null: not within the time looked at. */
export interface Milestones {
  /** Gelled somewhere, past its peak, and half of the rise is gone: it may be left alone. */
  readonly leave: number | null;
  /** Past the gel point everywhere, a little firmer, and past its heat, as it may be left alone: it may be turned over. */
  readonly turn: number | null;
  /** Cool, and its glass transition well over its own temperature everywhere: it comes out without bowing. A rubber: cured. */
  readonly comesOff: number | null;
  /** Glass transition well over the room everywhere: it may be clamped. */
  readonly clamp: number | null;
}

export interface PourCourse {
  /** Hottest of all, as it is poured or later. */
  readonly peak: number;
  /** Of the reaction's own peak: what warm stock begins with is none. */
  readonly peakTime: number;
  /** The reaction lifts it no higher than it is poured. */
  readonly hottestAsPoured: boolean;
  /** How much hotter the peak may be for a front that is lost between the cells, K. */
  readonly lost: number;
  /** What a front that is narrower than the cells leaves open in temperatures, K. */
  readonly frontError: number;
  /** Where: over the bed, and from the nearer long wall of the box. */
  readonly where: { readonly overBed: number; readonly fromWall: number };
  /** The first and the last place gels; null: not within the time looked at. */
  readonly gelFirst: number | null;
  readonly gelLast: number | null;
  /** Past the gel point everywhere, and a little firmer; null: not within the time looked at. */
  readonly firm: number | null;
  readonly bed: number; // hottest, K
  readonly master: number | null;
  readonly milestones: Milestones;
  /** Of the least cured place, and the least glass transition, at the end of what was looked at. */
  readonly cureReached: number;
  readonly glassReached: number;
  readonly until: number;
  /** Least cured place over time. */
  readonly hardening: {
    readonly t: readonly number[];
    readonly cure: readonly number[];
    readonly glass: readonly number[];
  };
  /** Hottest place over time. */
  readonly curve: { readonly t: readonly number[]; readonly hot: readonly number[] };
}

/** Glass transition of full cure below which a resin counts as rubber, K. */
const RUBBER_BELOW = 270;
/** Past the gel point by this: a network that holds its own weight (common practice, no source). */
const FIRM = 0.05;
/** Glass transition over the resin's own temperature, K, to pry it out; over the room, to clamp it; guesses. */
const HARD_DEMOLD = 10;
const HARD_CLAMP = 20;
/** What has risen by less, K, before so much has reacted, is as it was poured. */
const LIFTED = 1;
const BEGUN = 0.05;
/** A silicone comes out when this much has cured; a guess. */
const RUBBER_TURN = 0.8;
const RUBBER_DEMOLD = 0.95;

/** Asked for before every run of a resin: gel times in a thin layer, s, by temperature. */
const thinGel = new WeakMap<PouredResin, Map<number, number>>();

/** Relative error of a step: it says only how long to look. */
const THIN_GEL_WITHIN = 1e-6;

function thinGelTime(resin: PouredResin, T: number): number {
  const known = thinGel.get(resin) ?? new Map<number, number>();
  thinGel.set(resin, known);
  return memoized(known, T, 32, () => {
    const { cap: _, ...plain } = resin.spec;
    const from = Math.max(1e-6, resin.material.cure?.initial ?? 0);
    const span = { from, to: resin.gel, within: THIN_GEL_WITHIN };
    return timeToCure(makeTabulatedRateLaw(plain), T, span) ?? 1e9;
  });
}

/** How long to look, s: many times the gel time in a thin layer. */
export function horizonOf(resin: PouredResin, room: number, stock: number): number {
  const time = thinGelTime(resin, Math.min(room, stock));
  const hours = 3600;
  return Math.min(Math.max(14 * time, 12 * hours), 60 * 24 * hours);
}

/**
 * Snapshots beside those at the ends of steps, each of which ends a step, too. In the cut across the box times and milestones
 * are as near to what twenty times as many give as with twice as many, 0.2 % in nearly all (measured, 24 jobs); far from the
 * walls 19 in 20 of 522 times keep to 0.3 %, all to 0.8 %.
 */
const LOOKS = 12;

/** Times of snapshots, closer together at the start. */
export function lookTimes(until: number, count = LOOKS): number[] {
  const first = until / 3000;
  return Array.from({ length: count }, (_, i) => first * 3000 ** (i / (count - 1)));
}

/** Least and largest of what the resin has become, at each snapshot. */
interface Field {
  readonly t: readonly number[];
  readonly leastCure: readonly number[];
  readonly mostCure: readonly number[];
  /** Smallest of glass transition less temperature, and of the glass transition, K. */
  readonly leastHardness: readonly number[];
  readonly leastGlass: readonly number[];
}

/** A field's cells that hold resin: those that cured at all. */
function resinCells({ cure }: Snapshot, initial: number): number[] {
  const cells: number[] = [];
  if (!cure) return cells;
  let most = 0;
  for (let i = 0; i < cure.length; i++) most = Math.max(most, cure[i]);
  // a cell cut by a master is only partly resin, and has the cure of that part
  const least = Math.max(initial, 1e-3 * most);
  for (let i = 0; i < cure.length; i++) if (cure[i] > least) cells.push(i);
  return cells;
}

/** Cure of the least cured place at a snapshot. */
export function leastCureAt(snapshot: Snapshot, resin: PouredResin): number {
  const cells = resinCells(snapshot, resin.material.cure?.initial ?? 0);
  return cells.reduce((least, i) => Math.min(least, snapshot.cure![i]), 1);
}

function fieldOf(snapshots: readonly Snapshot[], resin: PouredResin): Field {
  const last = snapshots[snapshots.length - 1];
  const cells = resinCells(last, resin.material.cure?.initial ?? 0);
  const rows = snapshots.map(({ temperature, cure }) => {
    let [least, most, hardness] = [1, 0, Number.POSITIVE_INFINITY];
    // plain comparisons: before these few looks are over, nothing of them has been compiled
    for (let k = 0; k < cells.length; k++) {
      const own = cure![cells[k]];
      const a = own > 0 ? (own < 1 ? own : 1) : 0;
      const over = glassAt(resin.glass, a) - temperature[cells[k]];
      if (a < least) least = a;
      if (a > most) most = a;
      if (over < hardness) hardness = over;
    }
    // it rises with the cure
    const glass = cells.length > 0 ? glassAt(resin.glass, least) : Number.POSITIVE_INFINITY;
    return { least, most, hardness, glass };
  });
  return {
    t: snapshots.map(({ time }) => time),
    leastCure: rows.map((r) => r.least),
    mostCure: rows.map((r) => r.most),
    leastHardness: rows.map((r) => r.hardness),
    leastGlass: rows.map((r) => r.glass),
  };
}

/** Cure of the least cured place from which on it may be turned over. */
export function firmCure(resin: PouredResin): number {
  return isRubber(resin.glass) ? RUBBER_TURN : Math.min(resin.gel + FIRM, 0.5 * (1 + resin.gel));
}

/** Soft at every temperature at which it is used. */
export const isRubber = ({ cured }: Pick<GlassTransition, "cured">): boolean =>
  cured < RUBBER_BELOW;

/**
 * The peak that the reaction makes. Warm stock that cools at first may be hottest as it is poured: then the reaction's is where
 * it warms again; where it only slows the cooling, when the resin cures fastest.
 *
 * @param hottest of the probe
 * @param cured most cured place over time, s
 */
export function reactionPeak(
  history: History,
  probe: string,
  hottest: { readonly value: number; readonly time: number },
  {
    t,
    cure,
    from = 0,
  }: { readonly t: readonly number[]; readonly cure: readonly number[]; readonly from?: number },
): { readonly value: number; readonly time: number } {
  const begun = reaches(t, cure, BEGUN, from);
  const { times, probes } = history.trace;
  const poured =
    probes[probe][
      Math.max(
        0,
        times.findIndex((time) => time >= from),
      )
    ];
  if (begun === null || hottest.time >= begun || hottest.value > poured + LIFTED) return hottest;
  const time = fastestGrowth(t, cure, from);
  return (
    highestRise(history, probe, { start: from, from: begun }) ?? {
      value: linearAt(times, probes[probe], time),
      time,
    }
  );
}

/** The latest of some moments; null: one of them does not come. */
const later = (...times: readonly (number | null)[]) =>
  times.some((x) => x === null) ? null : Math.max(...(times as number[]));

/** When what is poured may be touched, from where it is least cured and from each of its hottest places. */
function milestonesOf(
  history: History,
  resin: PouredResin,
  { t, leastCure, leastHardness, leastGlass }: Field,
  from: {
    readonly room: number;
    readonly gelFirst: number | null;
    readonly hot: readonly {
      readonly probe: string;
      readonly peak: { readonly value: number; readonly time: number };
    }[];
  },
): Milestones & { readonly firm: number | null } {
  const { room, gelFirst, hot } = from;
  /** Each has fallen to so much over the room, by how far its peak was over it. */
  const fallen = (over: (rise: number) => number) =>
    later(
      ...hot.map(({ probe, peak: { value, time } }) =>
        fallsTo(history, probe, room + over(value - room), time),
      ),
    );
  const cool = fallen((rise) => rise / 2);
  const rubber = isRubber(resin.glass);
  const firm = reaches(t, leastCure, firmCure(resin));
  const leave = later(cool, gelFirst);
  // nothing hot is lifted, however firm
  const turn = later(firm, leave ?? firm);
  const away = fallen((rise) => Math.max(5, 0.2 * rise));
  const peaked = Math.max(...hot.map(({ peak }) => peak.time));
  const comesOff = rubber
    ? later(turn, reaches(t, leastCure, RUBBER_DEMOLD))
    : later(turn, away, reaches(t, leastHardness, HARD_DEMOLD, peaked));
  const clamp = rubber ? comesOff : later(comesOff, reaches(t, leastGlass, room + HARD_CLAMP));
  return { leave, turn, comesOff, clamp, firm };
}

/**
 * When a stack may be touched, in s after its last layer was poured.
 *
 * @param history of `pourStack`, with snapshots and wanted times that all lie after `begin`
 * @param names of its layers' probes, the last one on top
 */
export function milestonesOfStack(
  history: History,
  resin: PouredResin,
  names: readonly string[],
  { room, begin }: { readonly room: number; readonly begin: number },
): Milestones {
  const field = fieldOf(history.snapshots, resin);
  const top = { t: [...history.times], cure: [...history.cure[`top${names.length}`]], from: begin };
  const hot = names.map((probe, i) => {
    const hottest = highest(history, probe, begin);
    const last = i === names.length - 1;
    return { probe, peak: last ? reactionPeak(history, probe, hottest, top) : hottest };
  });
  // those below have gelled: the least cured place is the last one's
  const gelFirst = reaches(field.t, field.leastCure, resin.gel);
  const { leave, turn, comesOff, clamp } = milestonesOf(history, resin, field, {
    room,
    gelFirst,
    hot,
  });
  const since = (time: number | null) => (time === null ? null : time - begin);
  return {
    leave: since(leave),
    turn: since(turn),
    comesOff: since(comesOff),
    clamp: since(clamp),
  };
}

/**
 * Reads the course of a pour from a history of `pourSection` or `pourLine` that has snapshots.
 *
 * @param place the room, K; height of the bed's surface and thickness of the box's wall in the grid, m
 */
export function pourCourseOf(
  history: History,
  resin: PouredResin,
  place: { readonly room: number; readonly bed: number; readonly wall: number },
): PourCourse {
  const field = fieldOf(history.snapshots, resin);
  const { t, leastCure, mostCure, leastGlass } = field;
  const hottest = highest(history, "hot");
  const own = reactionPeak(history, "hot", hottest, { t, cure: mostCure });
  const gelFirst = reaches(t, mostCure, resin.gel);
  const gelLast = reaches(t, leastCure, resin.gel);
  const { firm, ...milestones } = milestonesOf(history, resin, field, {
    room: place.room,
    gelFirst,
    hot: [{ probe: "hot", peak: own }],
  });
  return {
    peak: hottest.value,
    peakTime: own.time,
    hottestAsPoured: own.value < hottest.value,
    lost: lostFront(history, resin),
    frontError: history.effort.frontError,
    where: whereHottest(history.snapshots, own.time, place),
    gelFirst,
    gelLast,
    firm,
    bed: highest(history, "bed").value,
    master: history.trace.probes["master"] ? highest(history, "master").value : null,
    milestones,
    cureReached: leastCure[leastCure.length - 1],
    glassReached: leastGlass[leastGlass.length - 1],
    until: history.end,
    hardening: { t, cure: leastCure, glass: leastGlass },
    curve: {
      t: Array.from(history.trace.times),
      hot: Array.from(history.trace.probes["hot"]),
    },
  };
}

function whereHottest(
  snapshots: readonly Snapshot[],
  peakTime: number,
  place: { readonly bed: number; readonly wall: number },
): PourCourse["where"] {
  const after = snapshots.findIndex(({ time }) => time >= peakTime);
  const [a, b] = [Math.max(0, after - 1), after < 0 ? snapshots.length - 1 : after];
  const places = [snapshots[a], snapshots[b]].map((one) => hottestIn(one, place));
  const times = [snapshots[a].time, snapshots[b].time];
  // in between it has moved from one to the other; at the side of a wall it stays there
  const between = (key: "overBed" | "fromWall") => {
    const [from, to] = places.map((one) => one[key]);
    return a === b || from === to ? to : linearAt(times, [from, to], peakTime);
  };
  return { overBed: between("overBed"), fromWall: between("fromWall") };
}

function hottestIn(
  { x, y, temperature, cure }: Snapshot,
  { bed, wall }: { readonly bed: number; readonly wall: number },
): PourCourse["where"] {
  // a 1-D grid runs along x
  const line = y.length <= 2;
  const nx = x.length - 1;
  let best = -1;
  for (let i = 0; i < temperature.length; i++)
    if (cure && cure[i] > 0 && (best < 0 || temperature[i] > temperature[best])) best = i;
  if (best < 0) return { overBed: 0, fromWall: 0 };
  const column = best % nx;
  const row = (best - column) / nx;
  const across = topAlong(x, column, (i) => temperature[row * nx + i]);
  if (line) return { overBed: Math.max(0, across - bed), fromWall: Number.POSITIVE_INFINITY };
  const up = topAlong(y, row, (k) => temperature[k * nx + column]);
  const width = x[nx];
  return {
    overBed: Math.max(0, up - bed),
    fromWall: Math.max(0, Math.min(across, width - across) - wall),
  };
}

/** Place of the highest value along a row of cells, of which the `best` is known, m: between their middles. */
function topAlong(
  edges: ArrayLike<number>,
  best: number,
  heightOf: (cell: number) => number,
): number {
  const middle = (i: number) => (edges[i] + edges[i + 1]) / 2;
  if (best === 0 || best >= edges.length - 2) return middle(best);
  const cells = [best - 1, best, best + 1] as const;
  const [a, b, c] = cells;
  return topOf([middle(a), middle(b), middle(c)], [heightOf(a), heightOf(b), heightOf(c)]).x;
}
