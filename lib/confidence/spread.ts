/**
 * Ranges of results whose inputs are uncertain: all inputs are drawn together, and of ten members eight lie in the range.
 *
 * Members are computed at the points of a low-discrepancy sequence; through each result a surface is laid, which gives as
 * many further members as are wanted, what it misses added as scatter. Where no surface follows a result, or where it may
 * have no end, the computed members themselves are counted. Members are added until the ends stand still.
 */
import { normalQuantile } from "../numerics/special-functions.ts";
import type { Range } from "./range.ts";
import { sobolSequence } from "./sobol-sequence.ts";
import { type Design, designOf, fitSurface, type Surface } from "./surface.ts";
import type { Uncertain } from "./uncertain.ts";

/** What one input has of a result's variance. */
export interface Share {
  readonly name: string;
  /** By itself, and with all in which it has a part; 0 to 1. */
  readonly first: number;
  readonly total: number;
  /** Result for one standard deviation of the input, as a part of the standard deviation of the result. */
  readonly slope: number;
}

/** A result with its range and the shares of its inputs, the largest first. */
export interface Spreading {
  /** From the 10th to the 90th percentile; `value` with every input at its own. */
  readonly range: Range;
  readonly shares: readonly Share[];
  /** Standard error of an end, as a share of the width of the range. */
  readonly unsteady: number;
  /** Computed ones. */
  readonly members: number;
}

export interface SpreadOptions {
  /** Results of the case itself where they are known already. */
  readonly known?: readonly number[];
  /** Members that are computed at first, and at most. */
  readonly least?: number;
  readonly most?: number;
  /** So many results, the first ones, must stand still; left out: all. */
  readonly deciding?: number;
}

/** Members from the surface. */
const DRAWN = 1024;
/** An end may move by this share of the width of its range. */
const STEADY = 0.03;
/** The surface is taken when it leaves this share of the variance at most. */
const FOLLOWS = 0.1;
const SEED = 20_14;

/** Deviates of the first members, one standard normal for each input and one more for what a surface misses. */
function deviates(inputs: number, from: number, to: number): Float64Array[] {
  const sequence = sobolSequence(inputs + 1, SEED);
  const points: Float64Array[] = [];
  for (let n = from; n < to; n++) points.push(sequence.point(n).map(normalQuantile));
  return points;
}

/**
 * Ranges of several results of one computation.
 *
 * @param given the case
 * @param inputs its uncertain inputs, up to 39, independent of each other
 * @param evaluate the results of a case; Infinity stands for never, NaN is not allowed
 * @returns one for each result; a result that is never in more than one member of ten has an infinite end
 */
export function spread<Case>(
  given: Case,
  inputs: readonly Uncertain<Case>[],
  evaluate: (given: Case) => readonly number[],
  options: SpreadOptions = {},
): Spreading[] {
  const known = options.known ?? evaluate(given);
  if (inputs.length === 0)
    return known.map((value) => ({
      range: { value, low: value, high: value },
      shares: [],
      unsteady: 0,
      members: 0,
    }));
  const {
    least = Math.max(24, 2 * inputs.length + 8),
    most = 128,
    deciding = known.length,
  } = options;
  const points: Float64Array[] = [];
  const members: (readonly number[])[] = [];
  const drawnPoints = deviates(inputs.length, 0, DRAWN);
  for (let wanted = least; ; wanted = Math.min(2 * wanted, most)) {
    for (const z of drawnPoints.slice(members.length, wanted)) {
      points.push(z.subarray(0, inputs.length));
      members.push(evaluate(inputs.reduce((at, input, i) => input.at(at, z[i]), given)));
    }
    const design = designOf(points);
    const found = known.map((value, r) =>
      spreadingOf(
        value,
        members.map((results) => results[r]),
        design,
        drawnPoints,
        inputs,
      ),
    );
    if (wanted >= most || found.slice(0, deciding).every(({ unsteady }) => unsteady <= STEADY))
      return found;
  }
}

function spreadingOf(
  value: number,
  results: readonly number[],
  design: Design,
  drawnPoints: readonly Float64Array[],
  inputs: readonly { readonly name: string }[],
): Spreading {
  const scale = scaleOf(value, results);
  const values = results.map(scale.to);
  const surface = fitSurface(design, values);
  const noise = surface.error ** 2;
  const whole = surface.variance + noise;
  const follows = scale.ends && noise <= FOLLOWS * whole && !stuck(results);
  const drawn = follows ? fromSurface(surface, drawnPoints).map(scale.from) : [...results];
  drawn.sort((a, b) => a - b);
  const [low, high] = [0.1, 0.9].map((share) => quantile(drawn, share));
  const part = whole > 0 ? surface.variance / whole : 0;
  return {
    range: { value, low: Math.min(value, low), high: Math.max(value, high) },
    shares: inputs
      .map(({ name }, i) => ({
        name,
        first: part * surface.first[i],
        total: part * surface.total[i],
        slope: whole > 0 ? surface.slopes[i] / Math.sqrt(whole) : 0,
      }))
      .sort((a, b) => b.total - a.total),
    unsteady:
      whole > 0
        ? follows
          ? surfaceUnsteady(surface, results.length)
          : 1.5 / Math.sqrt(results.length) / 4
        : 0,
    members: results.length,
  };
}

/** Width of 10 to 90 of a normal curve in standard deviations. */
const WIDTH = 2.563;

/** Error of an end by the coefficients, which few members leave uncertain, and by the number of members drawn. */
function surfaceUnsteady({ error, variance, terms }: Surface, members: number): number {
  const whole = error ** 2 + variance;
  return Math.sqrt((1.5 * error ** 2 * terms) / members / whole + 0.016 ** 2) / WIDTH;
}

function fromSurface(surface: Surface, points: readonly Float64Array[]): number[] {
  return points.map((z) => surface.at(z) + surface.error * z[z.length - 1]);
}

/** Members of which more are alike than this, at their least or most, have run against a bound. */
const ALIKE = 0.04;

function stuck(results: readonly number[]): boolean {
  const [least, most] = [Math.min(...results), Math.max(...results)];
  const at = (bound: number) => results.filter((x) => x === bound).length;
  return least < most && Math.max(at(least), at(most)) > Math.max(1, ALIKE * results.length);
}

interface Scale {
  to(result: number): number;
  from(scaled: number): number;
  /** Every member has an end. */
  readonly ends: boolean;
}

/** A scale on which a result is near a polynomial: of ratios where it spans a wide one, one that ends where some never end. */
function scaleOf(value: number, results: readonly number[]): Scale {
  const finite = results.filter((x) => Number.isFinite(x));
  const [least, most] = [Math.min(...finite), Math.max(...finite)];
  if (finite.length < results.length || !Number.isFinite(value)) {
    const size =
      finite.length > 0
        ? Math.max(
            Math.abs(
              quantile(
                [...finite].sort((a, b) => a - b),
                0.5,
              ),
            ),
            1e-300,
          )
        : 1;
    return {
      to: (x) => (Number.isFinite(x) ? x / (Math.abs(x) + size) : 1),
      from: (x) => x,
      ends: false,
    };
  }
  if (least > 0 && most > 1.3 * least) return { to: Math.log, from: Math.exp, ends: true };
  return { to: (x) => x, from: (x) => x, ends: true };
}

/** The value below which a share of a sorted list lies, between its members. */
function quantile(sorted: readonly number[], share: number): number {
  const place = share * sorted.length - 0.5;
  const i = Math.min(Math.max(Math.floor(place), 0), sorted.length - 1);
  const next = Math.min(i + 1, sorted.length - 1);
  const part = Math.min(Math.max(place - i, 0), 1);
  if (part === 0 || sorted[i] === sorted[next]) return sorted[i];
  return sorted[i] + part * (sorted[next] - sorted[i]);
}

/** The same relative range around another value: from a quick model onto the full one. */
export function scaledTo(range: Range, value: number): Range {
  if (!(range.value > 0) || !Number.isFinite(range.value) || !Number.isFinite(value))
    return { value, low: Math.min(value, range.low), high: Math.max(value, range.high) };
  const factor = value / range.value;
  return { value, low: range.low * factor, high: range.high * factor };
}

/** The same range in absolute terms around another value. */
export function movedTo(range: Range, value: number): Range {
  return {
    value,
    low: value + (range.low - range.value),
    high: value + (range.high - range.value),
  };
}
