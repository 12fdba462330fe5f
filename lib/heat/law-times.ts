/**
 * Where a law of time that is given as a function jumps or turns: steps end there, and its bounds are found there.
 */
import type { OverTime } from "./problem.ts";

/** Samples over a stage: a pulse is seen when it lasts longer than one share of this. */
const SAMPLES = 4000;
/** A change between two samples below this share of the law's range is no jump. */
const LEAST_JUMP = 0.01;
/** More turns than this are left to the control of the step. */
const MOST_TURNS = 5000;

/**
 * Times in (from, to) at which the law jumps (found by bisection, to rounding) or turns from rising to falling or back,
 * in rising order. A table gives its points.
 *
 * @example turnsOf((t) => (t < 500 ? 20 : 80), 0, 1000)[0] // 500
 */
export function turnsOf(law: OverTime | undefined, from: number, to: number): number[] {
  if (law === undefined || typeof law === "number") return [];
  if (typeof law === "object") return law.t.filter((t) => t > from && t < to);
  const step = (to - from) / SAMPLES;
  const at = (k: number) => from + k * step;
  const value = Float64Array.from({ length: SAMPLES + 1 }, (_, k) => law(at(k)));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const v of value) {
    low = Math.min(low, v);
    high = Math.max(high, v);
  }
  const range = high - low;
  if (!(range > 0)) return [];
  const found: number[] = [];
  for (let k = 0; k < SAMPLES && found.length < MOST_TURNS; k++) {
    if (Math.abs(value[k + 1] - value[k]) > LEAST_JUMP * range) {
      const jump = jumpIn(law, at(k), at(k + 1), LEAST_JUMP * range);
      if (jump !== undefined) found.push(jump);
    }
    const before = k > 0 ? value[k] - value[k - 1] : 0;
    const after = value[k + 1] - value[k];
    // a flat piece that begins or ends, a peak or a valley
    const turns = before * after < 0 || (before === 0) !== (after === 0);
    if (k > 0 && turns) found.push(at(k));
  }
  return found.filter((t) => t > from && t < to);
}

/** Where the law jumps between two times; undefined where it goes over smoothly. */
function jumpIn(
  law: (t: number) => number,
  from: number,
  to: number,
  least: number,
): number | undefined {
  let a = from;
  let b = to;
  let atA = law(a);
  let atB = law(b);
  for (let k = 0; k < 60; k++) {
    const middle = 0.5 * (a + b);
    if (middle === a || middle === b) break;
    const here = law(middle);
    if (Math.abs(here - atA) > Math.abs(atB - here)) {
      b = middle;
      atB = here;
    } else {
      a = middle;
      atA = here;
    }
  }
  return Math.abs(atB - atA) > 0.5 * least ? b : undefined;
}
