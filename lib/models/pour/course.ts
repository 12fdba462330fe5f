/** What happens in a pour over time, read from the simulated cut across the box. T K, times s, lengths m. */
import { glassTransition } from "../../cure/glass-transition.ts";
import { timeToCure } from "../../cure/isothermal.ts";
import { makeTabulatedRateLaw } from "../../cure/tabulated.ts";
import type { History, Snapshot } from "../../heat/problem.ts";
import { memoized } from "../../numerics/memoized.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import { findRoot } from "../../numerics/roots.ts";
import type { PouredResin } from "./resin.ts";

/** When the pour may be touched; null: not within the time looked at. */
interface Milestones {
  /** Gelled somewhere, past its peak, and half of the rise is gone: it may be left alone. */
  readonly leave: number | null;
  /** Past the gel point everywhere, and a little firmer: it may be turned over. */
  readonly turn: number | null;
  /** Cool, and its glass transition well over its own temperature everywhere: it comes out without bowing. A rubber: cured. */
  readonly comesOff: number | null;
  /** Glass transition well over the room everywhere: it may be clamped. */
  readonly clamp: number | null;
}

export interface PourCourse {
  readonly peak: number;
  readonly peakTime: number;
  /** Where: over the bed, and from the nearer long wall of the box. */
  readonly where: { readonly overBed: number; readonly fromWall: number };
  /** The first and the last place gels; null: not within the time looked at. */
  readonly gelFirst: number | null;
  readonly gelLast: number | null;
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
/** A silicone comes out when this much has cured; a guess. */
const RUBBER_TURN = 0.8;
const RUBBER_DEMOLD = 0.95;

/** Asked for before every run of a resin: gel times in a thin layer, s, by temperature. */
const thinGel = new WeakMap<PouredResin, Map<number, number>>();

function thinGelTime(resin: PouredResin, T: number): number {
  const known = thinGel.get(resin) ?? new Map<number, number>();
  thinGel.set(resin, known);
  return memoized(known, T, 32, () => {
    const { cap: _, ...plain } = resin.spec;
    const from = Math.max(1e-6, resin.material.cure?.initial ?? 0);
    return timeToCure(makeTabulatedRateLaw(plain), T, { from, to: resin.gel }) ?? 1e9;
  });
}

/** How long to look, s: many times the gel time in a thin layer. */
export function horizonOf(resin: PouredResin, room: number, stock: number): number {
  const time = thinGelTime(resin, Math.min(room, stock));
  const hours = 3600;
  return Math.min(Math.max(14 * time, 12 * hours), 60 * 24 * hours);
}

/** Times of the snapshots, closer together at the start. */
export function lookTimes(until: number, count = 70): number[] {
  const first = until / 3000;
  return Array.from({ length: count }, (_, i) => first * 3000 ** (i / (count - 1)));
}

/**
 * Highest value of a probe and when: a parabola through the highest accepted step and its neighbors.
 */
export function highest(history: History, probe: string): { value: number; time: number } {
  const t = history.trace.times;
  const v = history.trace.probes[probe];
  let k = 0;
  for (let i = 1; i < v.length; i++) if (v[i] > v[k]) k = i;
  if (k === 0 || k === v.length - 1) return { value: v[k], time: t[k] };
  const [a, b] = [t[k - 1] - t[k], t[k + 1] - t[k]];
  const [fa, fb] = [(v[k - 1] - v[k]) / a, (v[k + 1] - v[k]) / b];
  const curve = (fb - fa) / (b - a);
  const slope = fa - curve * a;
  if (!(curve < 0)) return { value: v[k], time: t[k] };
  const at = Math.min(Math.max(-slope / (2 * curve), a), b);
  return { value: v[k] + at * (slope + curve * at), time: t[k] + at };
}

/** First time after `from` at which a probe has fallen to a level; null when it does not. */
export function fallsTo(
  history: History,
  probe: string,
  level: number,
  from: number,
): number | null {
  const t = history.trace.times;
  const v = history.trace.probes[probe];
  for (let i = 1; i < v.length; i++) {
    if (t[i] < from || !(v[i] <= level)) continue;
    if (!(v[i - 1] > level)) return Math.max(t[i - 1], from);
    return Math.max(from, t[i - 1] + ((v[i - 1] - level) / (v[i - 1] - v[i])) * (t[i] - t[i - 1]));
  }
  return null;
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
    let [least, most, hardness, glass] = [1, 0, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const i of cells) {
      const a = Math.min(Math.max(cure![i], 0), 1);
      const Tg = glassTransition(resin.glass, a);
      least = Math.min(least, a);
      most = Math.max(most, a);
      glass = Math.min(glass, Tg);
      hardness = Math.min(hardness, Tg - temperature[i]);
    }
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
  return isRubber(resin) ? RUBBER_TURN : Math.min(resin.gel + FIRM, 0.5 * (1 + resin.gel));
}

const isRubber = ({ glass }: PouredResin): boolean => glass.cured < RUBBER_BELOW;

/** Ratio of two times, less 1, that no one tells apart. */
const SAME_RATIO = 1e-6;

/** First time at which a row of numbers reaches a level: on a smooth curve through the snapshots, which stand in even ratios. */
function reaches(
  t: readonly number[],
  v: readonly number[],
  level: number,
  from = 0,
): number | null {
  const i = t.findIndex((time, k) => time >= from && v[k] >= level);
  if (i < 0) return null;
  if (i === 0 || v[i - 1] >= level) return Math.max(t[i], from);
  const ratio = t.map(Math.log);
  const curve = monotoneCubic(ratio, v);
  const at = findRoot((x) => curve(x) - level, ratio[i - 1], ratio[i], SAME_RATIO);
  return Math.max(Math.exp(at), from);
}

/**
 * Reads the course of a pour from a history of `pourSection` or `pourLine` that has snapshots.
 *
 * @param place the room, K; height of the bed's surface and thickness of the box's wall in the grid, m
 */
export function courseOf(
  history: History,
  resin: PouredResin,
  place: { readonly room: number; readonly bed: number; readonly wall: number },
): PourCourse {
  const { value: peak, time: peakTime } = highest(history, "hot");
  const field = fieldOf(history.snapshots, resin);
  const { t, leastCure, mostCure, leastHardness, leastGlass } = field;
  const gelFirst = reaches(t, mostCure, resin.gel);
  const gelLast = reaches(t, leastCure, resin.gel);
  const half = place.room + (peak - place.room) / 2;
  const cool = fallsTo(history, "hot", half, peakTime);
  const rubber = isRubber(resin);
  const later = (...times: readonly (number | null)[]) =>
    times.some((x) => x === null) ? null : Math.max(...(times as number[]));
  const turn = reaches(t, leastCure, firmCure(resin));
  const away = fallsTo(
    history,
    "hot",
    place.room + Math.max(5, 0.2 * (peak - place.room)),
    peakTime,
  );
  const comesOff = rubber
    ? later(turn, reaches(t, leastCure, RUBBER_DEMOLD))
    : later(turn, away, reaches(t, leastHardness, HARD_DEMOLD, peakTime));
  const clamp = rubber
    ? comesOff
    : later(comesOff, reaches(t, leastGlass, place.room + HARD_CLAMP));
  return {
    peak,
    peakTime,
    where: whereHottest(history.snapshots, peakTime, place),
    gelFirst,
    gelLast,
    bed: highest(history, "bed").value,
    master: history.trace.probes["master"] ? highest(history, "master").value : null,
    milestones: { leave: later(cool, gelFirst), turn, comesOff, clamp },
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
  { bed, wall }: { readonly bed: number; readonly wall: number },
): PourCourse["where"] {
  const near = snapshots.reduce((a, b) =>
    Math.abs(b.time - peakTime) < Math.abs(a.time - peakTime) ? b : a,
  );
  const { x, y, temperature, cure } = near;
  // a 1-D grid runs along x
  const line = y.length <= 2;
  const nx = x.length - 1;
  let best = -1;
  for (let i = 0; i < temperature.length; i++)
    if (cure && cure[i] > 0 && (best < 0 || temperature[i] > temperature[best])) best = i;
  if (best < 0) return { overBed: 0, fromWall: 0 };
  const column = best % nx;
  const row = (best - column) / nx;
  const centerX = (x[column] + x[column + 1]) / 2;
  if (line) return { overBed: Math.max(0, centerX - bed), fromWall: Number.POSITIVE_INFINITY };
  const centerY = (y[row] + y[row + 1]) / 2;
  const width = x[nx];
  return {
    overBed: Math.max(0, centerY - bed),
    fromWall: Math.max(0, Math.min(centerX, width - centerX) - wall),
  };
}
