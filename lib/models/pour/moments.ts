/** Moments in the history of a pour: when a probe is highest, falls to a level, or a row of numbers reaches one. K, s. */
import type { History } from "../../heat/problem.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import { topOf } from "../../numerics/parabola.ts";
import { findRoot } from "../../numerics/roots.ts";

/**
 * Highest value of a probe and when: a parabola through the highest accepted step and its neighbors.
 *
 * @param from only after it
 */
export function highest(
  history: History,
  probe: string,
  from = 0,
): { value: number; time: number } {
  const t = history.trace.times;
  const v = history.trace.probes[probe];
  const after = from > 0 ? t.findIndex((time) => time > from) : 0;
  const first = after < 0 ? t.length - 1 : after;
  let k = first;
  for (let i = first + 1; i < v.length; i++) if (v[i] > v[k]) k = i;
  if (k === first || k === v.length - 1) return { value: v[k], time: t[k] };
  const top = topOf([t[k - 1], t[k], t[k + 1]], [v[k - 1], v[k], v[k + 1]]);
  return { value: top.y, time: top.x };
}

/** A rise by less, out of what cools, is none, K. */
const LEAST_RISE = 0.2;

/**
 * Where a probe that cools at first has risen most over its lowest until then.
 *
 * @param start when it is poured
 * @param from not before it
 * @returns null when it only cools
 */
export function highestRise(
  { trace: { times: t, probes } }: History,
  probe: string,
  { start, from }: { readonly start: number; readonly from: number },
): { value: number; time: number } | null {
  const v = probes[probe];
  let [lowest, most, k] = [Number.POSITIVE_INFINITY, LEAST_RISE, -1];
  for (let i = 1; i < v.length; i++) {
    if (!(t[i] > start)) continue;
    lowest = Math.min(lowest, v[i]);
    if (t[i] >= from && v[i] - lowest > most) [most, k] = [v[i] - lowest, i];
  }
  if (k < 0) return null;
  if (k === v.length - 1) return { value: v[k], time: t[k] };
  const top = topOf([t[k - 1], t[k], t[k + 1]], [v[k - 1], v[k], v[k + 1]]);
  return { value: top.y, time: top.x };
}

/** When a row of numbers grows most for each doubling of the time since `from`. */
export function fastestGrowth(t: ArrayLike<number>, v: ArrayLike<number>, from: number): number {
  let [at, steepest] = [from, 0];
  for (let i = 1; i < t.length; i++) {
    if (!(t[i - 1] > from)) continue;
    const [a, b] = [t[i - 1] - from, t[i] - from];
    const slope = (v[i] - v[i - 1]) / Math.log(b / a);
    if (slope > steepest) [at, steepest] = [from + Math.sqrt(a * b), slope];
  }
  return at;
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

/** Ratio of two times, less 1, that no one tells apart. */
const SAME_RATIO = 1e-6;

/**
 * First time at which a row of numbers reaches a level: on a smooth curve over the ratios of the times.
 *
 * @param t above 0, rising
 * @param from not before it
 * @returns null when it does not
 */
export function reaches(
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
