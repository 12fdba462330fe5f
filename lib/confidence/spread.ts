/**
 * What uncertain inputs do to a result: each input is moved to the ends of its spread, one at a time, and the shifts
 * of the result are added as independent ones, each way on its own.
 *
 *     low = value - sqrt(sum of squares of the shifts that lower it), high likewise
 */
import type { Range } from "./range.ts";

/** One uncertain input: the same case with this input at the low and at the high end of its spread. */
export interface Unsure<Case> {
  readonly name: string;
  low(given: Case): Case;
  high(given: Case): Case;
}

/** How far a result moves with one input at its low and at its high end. */
export interface Shift {
  readonly name: string;
  readonly low: number;
  readonly high: number;
}

/** A result with its range and the shift of every input, the largest first. */
export interface Spreading {
  readonly range: Range;
  readonly shifts: readonly Shift[];
}

interface SpreadOptions {
  /** Results of the case itself where they are known already. */
  readonly known?: readonly number[];
  /**
   * This many inputs, those that matter most, are moved to both ends, and all that concern a result without end; of the
   * others the far end is taken as mirrored.
   */
  readonly bothEnds?: number;
}

/**
 * Ranges of several results of one computation.
 *
 * @param given the case
 * @param unsure its uncertain inputs
 * @param evaluate the results of a case; Infinity stands for never, NaN is not allowed
 * @returns one for each result; a result that may become infinite has an infinite end
 */
export function spread<Case>(
  given: Case,
  unsure: readonly Unsure<Case>[],
  evaluate: (given: Case) => readonly number[],
  options: SpreadOptions = {},
): Spreading[] {
  const { known = evaluate(given), bothEnds = 3 } = options;
  const high = unsure.map((input) => evaluate(input.high(given)));
  const weight = (u: number) => Math.max(...known.map((v, r) => relative(high[u][r], v)));
  const order = unsure
    .map((_, u) => u)
    .sort((a, b) => Number(weight(b) > weight(a)) - Number(weight(b) < weight(a)));
  const both = new Set(order.slice(0, bothEnds));
  // a shift without end has no mirror image: its other end is run, however many there are
  const mirrored = (u: number) =>
    !both.has(u) && [...known, ...high[u]].every((result) => Number.isFinite(result));
  const low = unsure.map((input, u) => (mirrored(u) ? undefined : evaluate(input.low(given))));
  return known.map((value, r) => {
    const shifts = unsure
      .map(({ name }, u): Shift => {
        const up = apart(high[u][r], value);
        return { name, high: up, low: low[u] ? apart(low[u][r], value) : -up };
      })
      .sort((a, b) => reach(b) - reach(a));
    if (Number.isFinite(value)) return { range: rangeOfShifts(value, shifts), shifts };
    // never, but with some input otherwise it comes to an end
    const others = [...high, ...low].flatMap((results) => (results ? [results[r]] : []));
    return { range: { value, low: Math.min(value, ...others), high: value }, shifts };
  });
}

/** Difference of two results; 0 where both are infinite. */
function apart(a: number, b: number): number {
  return a === b ? 0 : a - b;
}

/** How far a result moves, as a share of it; Infinity between an end and never. */
function relative(moved: number, value: number): number {
  const by = Math.abs(apart(moved, value));
  return Number.isFinite(by) ? by / (Math.abs(value) || 1) : by;
}

/** The larger of the two shifts of an input. */
function reach(shift: Shift): number {
  return Math.max(Math.abs(shift.low), Math.abs(shift.high));
}

/**
 * Range of a value whose inputs shift it independently.
 *
 * @example rangeOfShifts(10, [{ name: "a", low: -3, high: 3 }, { name: "b", low: 4, high: -4 }]).low // 5
 */
export function rangeOfShifts(value: number, shifts: readonly Shift[]): Range {
  let down = 0;
  let up = 0;
  for (const { low, high } of shifts) {
    down += Math.min(0, low, high) ** 2;
    up += Math.max(0, low, high) ** 2;
  }
  return { value, low: value - Math.sqrt(down), high: value + Math.sqrt(up) };
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
