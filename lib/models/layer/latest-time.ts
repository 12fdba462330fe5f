/**
 * The latest time at which a surplus that falls with time is still there, where each look at it costs a simulation: from a
 * guess along the slope, which a similar case lends, then outwards and between. Times s, surplus K.
 */

/** How the latest time is looked for, s. */
interface Search {
  /** Times at which the function costs nothing any more. */
  readonly known: readonly number[];
  readonly guess: number;
  /** What the function is expected to lose there while the time grows by a factor of e. */
  readonly slope: number;
  readonly from: number;
  readonly to: number;
  /** One look so near to the end will do, as a logarithm of time. */
  readonly nearly: number;
  /** Once too cold for any meeting, the end of what is looked at is the end. */
  readonly ends: boolean;
}

/** A look at a falling function of time. */
interface Looked {
  readonly t: number;
  readonly value: number;
}

/** The end that was found, s, and what the function loses there while the time grows by a factor of e. */
export interface Ended {
  readonly t: number;
  readonly slope: number;
}

/** What a meeting typically loses while the wait grows by a factor of e, K. */
export const USUAL_SLOPE = 15;
/** Least and largest first step outwards, as logarithms of time; each after it may be twice as long. */
const STEPS_OUT = { least: 0.02, most: 0.26 };

/** Between two looks this close to each other the surplus is as good as straight: within 1 per mille of the time. */
const STRAIGHT = 0.04;
/** So close beside the later of two looks, too, when they lie no further apart than that. */
const STRAIGHT_BESIDE = { by: 0.01, apart: 0.12 };
/** Beside one look, by the slope of a similar case, where a rough end will do. */
export const NEARLY = 0.008;
/** Beside one of several looks, by their own slope, where a percent of the time is no matter. */
export const ROUGHLY = 0.07;
/** So many steps along the slope, of this length at most, as a logarithm of time. */
const STEPS_ALONG = 4;
const LONGEST_ALONG = 0.5;
/** A surplus this small is none, K. */
const NONE = 0.02;

const slopeOf = (a: Looked, b: Looked): number => (a.value - b.value) / Math.log(b.t / a.t);

/** Where the straight line through two looks has no surplus, when that is as good as known; else undefined. */
function endBeside(before: Looked, last: Looked): number | undefined {
  if (Math.abs(Math.log(last.t / before.t)) > STRAIGHT_BESIDE.apart) return undefined;
  const by = last.value / slopeOf(before, last);
  return Math.abs(by) <= STRAIGHT_BESIDE.by ? last.t * Math.exp(by) : undefined;
}

/** From one look to where its slope leads, and on from there, until it shows the end; undefined: that does not do. */
function alongSlope(
  look: (t: number) => Looked,
  first: Looked,
  { slope, nearly, from, to }: Search,
): Ended | undefined {
  let at: Ended & Looked = { ...first, slope };
  for (let step = 0; step < STEPS_ALONG; step++) {
    const by = Math.min(Math.max(at.value / at.slope, -LONGEST_ALONG), LONGEST_ALONG);
    const there = Math.min(Math.max(at.t * Math.exp(by), from), to);
    if (!(there > from && there < to)) return undefined;
    if (Math.abs(at.value) < NONE || Math.abs(by) < nearly) return { t: there, slope: at.slope };
    const next = look(there);
    const end = endBeside(at, next);
    const own = slopeOf(at, next);
    if (end !== undefined && end > from && end < to) return { t: end, slope: own };
    if (!(own > 0)) return undefined;
    at = { ...next, slope: own };
  }
  return undefined;
}

/** The look with the least surplus or lack, and what the two around it say of the slope. */
function bestOf(looks: readonly Looked[], usual: number): { first: Looked; slope: number } {
  const off = ({ value }: Looked) => Math.abs(value);
  const best = looks.reduce((least, one, i) => (off(one) < off(looks[least]) ? i : least), 0);
  const beside = [looks[best - 1], looks[best + 1]].filter((one) => one !== undefined);
  const nearest = beside.sort((a, b) => off(a) - off(b))[0];
  const slope = nearest === undefined ? usual : slopeOf(nearest, looks[best]);
  return { first: looks[best], slope: slope > 0 ? slope : usual };
}

/**
 * Largest t with f(t) >= 0 of a falling f: from what is known, or a guess, along its slope; where that does not do, outwards
 * until it lies between two looks, then by false position. 0: none; Infinity: beyond.
 */
export function latestTime(f: (t: number) => number, search: Search): Ended {
  const { known, guess, from, to, ends } = search;
  const values = [...known].sort((a, b) => a - b).map((t): Looked => ({ t, value: f(t) }));
  let high = values.find(({ value }) => value < 0);
  let low = values.filter(({ t, value }) => value >= 0 && !(high && t > high.t)).pop();
  const look = (t: number): Looked => {
    const found = { t, value: f(t) };
    if (found.value >= 0) low = found;
    else high = found;
    return found;
  };
  if (values.length === 0) values.push(look(Math.min(Math.max(guess, from), to)));
  const { first, slope } = bestOf(values, search.slope);
  const straight = low && high && high.t - low.t <= STRAIGHT * high.t;
  const beside = straight ? undefined : alongSlope(look, first, { ...search, slope });
  if (beside !== undefined) return beside;
  let before: Looked | undefined = first;
  // a step that should lead past the end, and somewhat further
  let { most } = STEPS_OUT;
  const out = (last: Looked) => {
    const own = before && before.t !== last.t ? Math.abs(slopeOf(before, last)) : slope;
    const step = Math.min((1.5 * Math.abs(last.value)) / (own || USUAL_SLOPE), most);
    before = last;
    most *= 2;
    return Math.exp(Math.max(step, STEPS_OUT.least));
  };
  while (!low && high) {
    if (high.t <= from) return { t: 0, slope };
    look(Math.max(from, high.t / out(high)));
  }
  while (low && !high) {
    if (low.t >= to) return { t: ends ? to : Number.POSITIVE_INFINITY, slope };
    look(Math.min(to, low.t * out(low)));
  }
  if (!low || !high) return { t: 0, slope };
  let [a, b] = [low.value, high.value];
  let rose: boolean | undefined;
  for (let turn = 0; turn < 30 && high.t - low.t > STRAIGHT * high.t; turn++) {
    const share = Math.min(0.98, Math.max(0.02, a / (a - b)));
    const { t, value } = look(low.t + share * (high.t - low.t));
    if (Math.abs(value) < NONE) return { t, slope: slopeOf(low, high) };
    const up = value >= 0;
    // an end that stays a second time is taken less seriously, or the other would creep
    [a, b] = up ? [value, rose === true ? b / 2 : b] : [rose === false ? a / 2 : a, value];
    rose = up;
  }
  return {
    t: low.t + (low.value / (low.value - high.value)) * (high.t - low.t),
    slope: slopeOf(low, high),
  };
}
