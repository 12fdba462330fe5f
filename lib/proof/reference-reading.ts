/** Takes one quantity of a reference case from what `solve` gave back. */
import type { Reading, Tipping } from "./reference-case.ts";

/** What is read of an answer of `solve`; temperatures in degC. */
export interface ReadableRun {
  readonly times: readonly number[];
  readonly probes: Readonly<Record<string, readonly (number | null)[]>>;
  readonly cure: Readonly<Record<string, readonly number[]>>;
  readonly crossings: readonly {
    readonly probe: string;
    readonly below?: number;
    readonly above?: number;
    readonly time: number | null;
  }[];
  readonly extremes: Readonly<Record<string, Readonly<Record<string, number>> | null>>;
  readonly steady?: { readonly flows: Readonly<Record<string, number>> };
}

/** A point on a curve. */
interface Sample {
  readonly time: number;
  readonly value: number;
}

/**
 * The quantity in its unit, or null where the run does not show it.
 *
 * @param at the time for a reading that lists several
 * @param tip finds the tipping point of the case, for `critical`
 */
export function readingOf(
  reading: Reading,
  run: ReadableRun,
  at: number | undefined,
  tip: (tipping: Tipping) => number | null,
): number | null {
  const time = at ?? (typeof reading.at === "number" ? reading.at : undefined);
  const value = rawQuantity(reading, run, time, tip);
  if (value === null) return null;
  const shifted = value - (reading.minus ?? 0);
  const result =
    (reading.scale ?? 1) * (reading.power === undefined ? shifted : shifted ** reading.power);
  return Number.isFinite(result) ? result : null;
}

/** The level as asked for comes back through kelvin, so a rounding off. */
const near = (a: number | undefined, b: number | undefined) =>
  a === b || (a !== undefined && b !== undefined && Math.abs(a - b) < 1e-6);

function rawQuantity(
  r: Reading,
  run: ReadableRun,
  time: number | undefined,
  tip: (tipping: Tipping) => number | null,
): number | null {
  if (r.sum) return sumOf(r.sum, run, time, tip);
  if (r.critical) return tip(r.critical);
  if (r.flow !== undefined) return run.steady?.flows[r.flow] ?? null;
  if (r.crossing !== undefined || r.extreme !== undefined) return eventOf(r, run);
  const figure = curveFigure(r, run);
  if (figure !== undefined) return figure;
  return time === undefined ? null : (seriesOf(r, run)?.[run.times.indexOf(time)] ?? null);
}

function sumOf(
  parts: readonly Reading[],
  run: ReadableRun,
  time: number | undefined,
  tip: (tipping: Tipping) => number | null,
): number | null {
  let total = 0;
  for (const part of parts) {
    const value = readingOf(part, run, time, tip);
    if (value === null) return null;
    total += value;
  }
  return total;
}

/** A crossing or an extreme, as the run reports it. */
function eventOf(r: Reading, run: ReadableRun): number | null {
  if (r.crossing === undefined) return run.extremes[r.extreme!]?.[r.of ?? "max"] ?? null;
  const found = run.crossings.find(
    (c) => c.probe === r.crossing && near(c.below, r.below) && near(c.above, r.above),
  );
  return found?.time ?? null;
}

/** Cure or temperature at the reported times. */
const seriesOf = (r: Reading, run: ReadableRun) =>
  r.cure === undefined ? run.probes[r.probe!] : run.cure[r.cure];

/** A figure of a whole curve; undefined when the reading asks for none. */
function curveFigure(r: Reading, run: ReadableRun): number | null | undefined {
  if (r.passes !== undefined) return passing(samples(run, seriesOf(r, run), r.between), r.passes);
  if (r.peak !== undefined) {
    const top = summit(samples(run, run.probes[r.peak], r.between));
    return top && (r.of === "time" ? top.time : top.value);
  }
  if (r.steepest !== undefined)
    return summit(slopes(samples(run, run.probes[r.steepest], r.between)))?.time ?? null;
  if (r.harmonic) return harmonic(r, run);
  return r.decay === undefined ? undefined : decayRate(r, run.probes[r.decay], run);
}

function decayRate(
  r: Reading,
  values: readonly (number | null)[] | undefined,
  run: ReadableRun,
): number | null {
  const ends = samples(run, values, undefined).filter(
    (s) => s.time === r.between?.[0] || s.time === r.between?.[1],
  );
  const [first, last] = ends;
  if (!first || !last) return null;
  const toward = r.toward ?? 0;
  return Math.log((first.value - toward) / (last.value - toward)) / (last.time - first.time);
}

function samples(
  run: ReadableRun,
  values: readonly (number | null)[] | undefined,
  between: readonly [number, number] | undefined,
): Sample[] {
  if (!values) return [];
  return run.times
    .flatMap((time, k) => {
      const value = values[k] ?? null;
      return value === null ? [] : [{ time, value }];
    })
    .filter((s) => !between || (s.time >= between[0] && s.time <= between[1]));
}

/** First time at which the curve, straight between its points, passes the level. */
function passing(curve: readonly Sample[], level: number): number | null {
  for (let k = 1; k < curve.length; k++) {
    const a = curve[k - 1]!;
    const b = curve[k]!;
    if ((a.value - level) * (b.value - level) <= 0 && a.value !== b.value)
      return a.time + ((b.time - a.time) * (level - a.value)) / (b.value - a.value);
  }
  return null;
}

/** Top of the parabola through the highest point and its neighbors; null when the highest is the first or last. */
function summit(curve: readonly Sample[]): Sample | null {
  let k = 0;
  for (let i = 1; i < curve.length; i++) if (curve[i]!.value > curve[k]!.value) k = i;
  const [a, b, c] = [curve[k - 1], curve[k], curve[k + 1]];
  if (!a || !b || !c) return null;
  const left = (b.value - a.value) / (b.time - a.time);
  const right = (c.value - b.value) / (c.time - b.time);
  const bend = (right - left) / (c.time - a.time);
  if (!(bend < 0)) return b;
  const slope = left + bend * (b.time - a.time);
  const step = -slope / (2 * bend);
  return { time: b.time + step, value: b.value + slope * step + bend * step * step };
}

function slopes(curve: readonly Sample[]): Sample[] {
  return curve.slice(1).map((b, k) => {
    const a = curve[k]!;
    return { time: (a.time + b.time) / 2, value: (b.value - a.value) / (b.time - a.time) };
  });
}

/** Fourier sums over evenly spaced samples of one period. */
function harmonic(r: Reading, run: ReadableRun): number | null {
  const [from, to] = r.between ?? [0, 0];
  const period = r.period ?? to - from;
  let count = 0;
  let mean = 0;
  let inStep = 0;
  let behind = 0;
  run.times.forEach((time, k) => {
    if (!(time >= from && time < from + period * (1 - 1e-9))) return;
    let value = 0;
    for (const [name, weight] of Object.entries(r.harmonic!))
      value += weight * (run.probes[name]?.[k] ?? Number.NaN);
    const angle = (2 * Math.PI * time) / period;
    count++;
    mean += value;
    inStep += 2 * value * Math.cos(angle);
    behind += 2 * value * Math.sin(angle);
  });
  if (count < 4) return null;
  if (r.of === "mean") return mean / count;
  if (r.of === "amplitude") return Math.hypot(inStep, behind) / count;
  return ((Math.atan2(behind, inStep) * 180) / Math.PI + 360) % 360;
}
