/** What a verdict tells of the time after which a bait has cooled: good, it had by then; soft, it had not. Logarithms of s. */

import { erfc } from "../../numerics/special-functions.ts";

/** One bait is this much slower or faster than the next: handling, filling, who judges it. From memory. */
export const LINE_SCATTER = 0.06;
/** A line against all others is a slip of the pen this often. */
const SLIP = 0.02;

/** A verdict, and by how much later than the time that was likely before it was opened. */
export interface Told {
  /** 1: good; -1: soft. */
  readonly late: number;
  readonly beside: number;
  readonly scatter: number;
}

/**
 * That a bait comes out so which is opened by `beside` later than it has cooled on the whole.
 *
 * @param late 1: good; -1: soft
 */
export function chance(late: number, beside: number, scatter: number): number {
  return erfc((-late * beside) / scatter / Math.SQRT2) / 2;
}

/** Scatters beside its time beyond which only slips tell. */
const ENDS = 6;
const CELLS = 128;
/** At evenly spaced scatters: it is read off some hundred thousand times. */
const LOG_CHANCE = Float64Array.from({ length: 2 * ENDS * CELLS + 2 }, (_, i) =>
  Math.log(SLIP + (1 - 2 * SLIP) * chance(1, i / CELLS - ENDS, 1)),
);

/** Logarithm of the same with slips of the pen, to 1e-5. */
export function logChance(late: number, beside: number, scatter: number): number {
  const x = CELLS * (ENDS + Math.min(ENDS, Math.max(-ENDS, (late * beside) / scatter)));
  const i = Math.floor(x);
  return LOG_CHANCE[i] + (x - i) * (LOG_CHANCE[i + 1] - LOG_CHANCE[i]);
}

/** Between the last soft one and the first good one, beside the likely time; without either, open to that side. */
interface Parted {
  readonly from: number;
  readonly to: number;
}

const besides = (lines: readonly Told[], late: number) =>
  lines.filter((line) => line.late === late).map(({ beside }) => beside);

/** Where one time parts all soft ones from all good ones; null: shorter ones were good and longer ones soft. */
export function partedBy(lines: readonly Told[]): Parted | null {
  const from = Math.max(...besides(lines, -1), Number.NEGATIVE_INFINITY);
  const to = Math.min(...besides(lines, 1), Number.POSITIVE_INFINITY);
  return to >= from ? { from, to } : null;
}

/** Lines, by their place, that are against the single time with the fewest against it. */
export function againstBest(lines: readonly Told[]): number[] {
  const against = (time: number) =>
    lines.flatMap(({ late, beside }, i) => (late * (beside - time) < 0 ? [i] : []));
  // a time at a line parts it from none: every way of parting them begins at one, or before all
  return [Number.NEGATIVE_INFINITY, ...lines.map(({ beside }) => beside)]
    .map((time) => against(time + 1e-9))
    .concat(lines.map(({ beside }) => against(beside)))
    .reduce((a, b) => (b.length < a.length ? b : a));
}

/** How much larger the scatter of a line may be than thought, and how unlikely that is: a share of spread in logarithms. */
const RAISED = [1, 1.4, 2, 2.8, 4, 5.6, 8];
const RAISED_SPREAD = 0.7;
/** Times that are tried, as a share of what is likely: from a fifth to five times. */
const TRIED = Array.from({ length: 81 }, (_, k) => (k / 40 - 1) * Math.log(5));

/**
 * How much the scatter of lines must be raised. Where one time explains them all as they are, not at all; where shorter
 * ones were good and longer ones soft, by what makes them likeliest with the time that suits them best.
 */
export function raisedScatter(lines: readonly Told[]): number {
  // verdicts that one time parts are at odds with the job at most, not with each other
  if (partedBy(lines) !== null) return RAISED[0];
  const explained = (raised: number) =>
    Math.max(
      ...TRIED.map((time) =>
        lines.reduce(
          (sum, { late, beside, scatter }) =>
            sum + logChance(late, beside - time, raised * scatter),
          0,
        ),
      ),
    );
  const likely = RAISED.map(
    (raised) => explained(raised) - (Math.log(raised) / RAISED_SPREAD) ** 2 / 2,
  );
  return RAISED[likely.indexOf(Math.max(...likely))];
}
