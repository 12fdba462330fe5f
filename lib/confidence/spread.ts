/**
 * Ranges of results whose inputs are uncertain: all inputs are drawn together, and of ten members eight lie in the range.
 *
 * Members are computed at the points of a low-discrepancy sequence; through each result a surface is laid, which gives as
 * many further members as are wanted, what it misses added as scatter. Where no surface follows a result, or where it may
 * have no end, the computed members themselves are counted. Members are added until the ends stand still.
 */
import { memoized } from "../numerics/memoized.ts";
import { normalQuantile } from "../numerics/special-functions.ts";
import type { Range } from "./range.ts";
import { sobolSequence } from "./sobol-sequence.ts";
import { type Design, designOf, fitSurface, membersOf, type Surface } from "./surface.ts";
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
  /** At most where a result of some never ends: two kinds of members need more to be told apart. */
  readonly mostEndless?: number;
  /** So many results, the first ones, must stand still; left out: all. */
  readonly deciding?: number;
  /** Results, by their place, that go on through 0 as on either side of it: never on a scale of ratios. */
  readonly throughZero?: readonly number[];
}

/** Members from the surface. */
const DRAWN = 1024;
/** An end may move by this share of the width of its range. */
const STEADY = 0.03;
/** A surface that leaves this share of the variance is taken whole; none that leaves the other; between, as much as it is off. */
const FOLLOWS = 0.06;
const STRAYS = 0.14;
const SEED = 20_14;

/** Of all members, by the number of inputs: an answer draws for several results, a page for each turn of a dial. */
const drawnDeviates = new Map<number, readonly Float64Array[]>();
const MOST_DRAWN = 8;

/** Deviates of each member, one standard normal for each input and one more for what a surface misses. */
function deviates(inputs: number): readonly Float64Array[] {
  return memoized(drawnDeviates, inputs, MOST_DRAWN, () => {
    const sequence = sobolSequence(inputs + 1, SEED);
    return Array.from({ length: DRAWN }, (_, n) => sequence.point(n).map(normalQuantile));
  });
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
    mostEndless = most,
    deciding = known.length,
    throughZero = [],
  } = options;
  const points: Float64Array[] = [];
  const members: (readonly number[])[] = [];
  const drawnPoints = deviates(inputs.length);
  const enough = () => (members.some(hasNoEnd) ? mostEndless : most);
  for (let wanted = least; ; wanted = Math.min(2 * wanted, enough())) {
    for (const z of drawnPoints.slice(members.length, wanted)) {
      points.push(z.subarray(0, inputs.length));
      members.push(evaluate(inputs.reduce((at, input, i) => input.at(at, z[i]), given)));
    }
    const design = designOf(points);
    const found = known.map((value, r) =>
      spreadingOf(
        { value, members: members.map((results) => results[r]), ratios: !throughZero.includes(r) },
        design,
        drawnPoints,
        inputs,
      ),
    );
    const steady = found.slice(0, deciding).every(({ unsteady }) => unsteady <= STEADY);
    if (wanted >= enough() || (steady && enough() === most)) return found;
  }
}

const hasNoEnd = (results: readonly number[]): boolean => results.some((x) => !Number.isFinite(x));

/** One result: of the case itself and of each member, and whether it may be taken on a scale of ratios. */
interface Drawn {
  readonly value: number;
  readonly members: readonly number[];
  readonly ratios: boolean;
}

function spreadingOf(
  drawn: Drawn,
  design: Design,
  drawnPoints: readonly Float64Array[],
  inputs: readonly { readonly name: string }[],
): Spreading {
  const { value, members: results } = drawn;
  const fits = surfacesOf(drawn, design, drawnPoints);
  const { surface } = fits.reduce((a, b) => (b.part > a.part ? b : a));
  const whole = surface.variance + surface.error ** 2;
  const counted = 1 - fits.reduce((sum, { part }) => sum + part, 0);
  const parts = fits.filter(({ part }) => part > 0);
  const ends = parts.map(({ part, scale, surface }) => ({
    part,
    at: endsOf(fromSurface(surface, drawnPoints).map(scale.from)),
  }));
  if (counted > 0) ends.push({ part: counted, at: endsOf([...results]) });
  const [low, high] = [0, 1].map((i) => ends.reduce((sum, { part, at }) => sum + part * at[i], 0));
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
        ? parts.reduce(
            (sum, { part, surface }) => sum + part * surfaceUnsteady(surface, results.length),
            (counted * 1.5) / Math.sqrt(results.length) / 4,
          )
        : 0,
    members: results.length,
  };
}

/** The 10th and the 90th percentile. */
function endsOf(members: number[]): number[] {
  members.sort((a, b) => a - b);
  return [0.1, 0.9].map((share) => quantile(members, share));
}

/** A result's surface on a scale, and the share of the variance that it misses. */
interface Fitted {
  readonly scale: Scale;
  readonly surface: Surface;
  readonly missed: number;
}

/** A surface with its part in a range, 0 to 1; what all leave of 1 is for the members themselves. */
interface FittedPart extends Fitted {
  readonly part: number;
}

/** 1 up to `all`, 0 from `none` on, straight between: what is chosen by it goes over evenly. */
function fading(x: number, all: number, none: number): number {
  return Math.min(1, Math.max(0, (none - x) / (none - all)));
}

/**
 * On the usual scale where every member has an end; where some never end, or no surface follows there, on the one of those
 * on which a result without bounds comes to an end that is followed best. The surface goes through the members that end, and
 * on past the end of the scale: there nothing ends.
 */
function surfacesOf(
  { value, members: results, ratios }: Drawn,
  design: Design,
  points: readonly Float64Array[],
): readonly FittedPart[] {
  const ended = results.flatMap((x, i) => (Number.isFinite(x) ? [i] : []));
  const values = ended.map((i) => results[i]);
  const all = ended.length === results.length;
  const own = all ? design : membersOf(design, ended);
  const fitted = (scale: Scale): Fitted => {
    const surface = fitSurface(own, values.map(scale.to));
    const whole = surface.variance + surface.error ** 2;
    return { scale, surface, missed: whole > 0 ? surface.error ** 2 / whole : 0 };
  };
  const may = Number.isFinite(value) && ended.length >= LEAST_ENDED * results.length;
  const usual = may && all ? fitted(ratios ? usualScale(values) : STRAIGHT) : undefined;
  const trust = ({ missed }: Fitted) => fading(missed, FOLLOWS, STRAYS);
  const fits: FittedPart[] = [];
  let left = 1;
  if (
    ratios &&
    !(usual && usual.missed < WELL) &&
    may &&
    Math.min(...values) > 0 &&
    !stuck(values)
  ) {
    const best = endingScales(values)
      .map(fitted)
      .reduce((a, b) => (b.missed < a.missed ? b : a));
    const better = usual ? fading(best.missed / usual.missed, MUCH_BETTER, HARDLY_BETTER) : 1;
    const part = toldOf(results, best, points) ? better * trust(best) : 0;
    if (part > 0) fits.push({ ...best, part });
    left -= part;
  }
  if (usual && left > 0) fits.push({ ...usual, part: stuck(results) ? 0 : left * trust(usual) });
  if (fits.length > 0) return fits;
  const shares = endingScale(values);
  const surface = fitSurface(design, results.map(shares.to));
  return [{ scale: shares, surface, missed: 1, part: 0 }];
}

/**
 * Whether a surface that went through the members that end tells of the others: where one of ten may never end, that they
 * don't; else that they are among the latest.
 */
function toldOf(
  results: readonly number[],
  { scale, surface }: Fitted,
  points: readonly Float64Array[],
): boolean {
  const ended = results.filter((x) => Number.isFinite(x)).sort((a, b) => a - b);
  const few = results.length - ended.length <= FEW_ENDLESS * results.length;
  const latest = few ? quantile(ended, 0.9) : Number.MAX_VALUE;
  return results.every((x, i) => Number.isFinite(x) || scale.from(surface.at(points[i])) > latest);
}

/** So many members without an end leave the 90th percentile to those with one. */
const FEW_ENDLESS = 0.07;
/** A surface on the usual scale that misses less of the variance is taken; another must miss by far less to be better. */
const WELL = 0.02;
const MUCH_BETTER = 0.25;
const HARDLY_BETTER = 0.4;
/** Where fewer members end, what they say of the others is not enough. */
const LEAST_ENDED = 0.8;

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
}

const STRAIGHT: Scale = { to: (x) => x, from: (x) => x };

/** A scale on which a result that always ends is near a polynomial: of ratios where it spans a wide one. */
function usualScale(results: readonly number[]): Scale {
  const [least, most] = [Math.min(...results), Math.max(...results)];
  if (least > 0 && most > 1.3 * least) return { to: Math.log, from: Math.exp };
  return STRAIGHT;
}

/** Half of a list lies below. */
const middleOf = (values: readonly number[]): number =>
  quantile(
    values.map(Math.abs).sort((a, b) => a - b),
    0.5,
  );

/**
 * Scales on which times come to an end, 0, where they grow beyond all bounds: rates, for what grows as a ratio does whose
 * lower part goes to nothing, and what is left of a decay, for what approaches a limit.
 */
function endingScales(values: readonly number[]): Scale[] {
  const size = middleOf(values) / 2;
  const never = Number.POSITIVE_INFINITY;
  return [
    { to: (x) => size / x, from: (u) => (u > 0 ? size / u : never) },
    { to: (x) => Math.exp(-x / size), from: (u) => (u > 0 ? -size * Math.log(u) : never) },
  ];
}

/** 0.5 in the middle of those that end, 1 without an end. */
function endingScale(values: readonly number[]): Scale {
  const size = Math.max(values.length > 0 ? middleOf(values) : 1, 1e-300);
  return { to: (x) => (Number.isFinite(x) ? x / (Math.abs(x) + size) : 1), from: (u) => u };
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
