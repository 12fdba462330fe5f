/** A probe in the middle of one bait as evidence. SI and K. */

import { simulate } from "../../heat/simulate.ts";
import type { Job } from "../../job/types.ts";
import { cool, DRAFTING, LONGEST_COOLING } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import type { EffortSum } from "../../models/ranged.ts";
import { linearAt } from "../../numerics/linear.ts";
import { layOut, type OpeningLearned, openingLearned, TIMES_OFF } from "./learned.ts";
import { slowestBar } from "./slowest-bar.ts";
import { type Weighed, weigh } from "./weighed.ts";

interface Readings {
  readonly time: readonly number[];
  readonly temperature: readonly number[];
}

/** Scatter of a reading; how far the instrument is off as a whole, K; and the clock, s: a probe in a body, from memory. */
export const NOISE = 1;
export const OFF = 1.5;
export const CLOCK = 3;
/** What one dimension and constant contact leave in a curve, as a share of what it has cooled: from the method's own checks. */
export const CURVE_OFF = 0.02;
/** Readings that are held against the model; neighbors say the same. */
const HELD = 16;

/** Which of so many readings these are: evenly from the first to the last. */
export function heldOf(readings: number): number[] {
  const count = Math.min(HELD, readings);
  return Array.from({ length: count }, (_, k) =>
    Math.round((k * (readings - 1)) / Math.max(1, count - 1)),
  );
}

interface ProbeFound extends OpeningLearned {
  readonly weighed: Weighed;
  /** Computed curve at the readings, K, and its root mean square distance. */
  readonly model: readonly number[];
  readonly residual: number;
  /** How often the readings' scatter had to be raised to what the model leaves. */
  readonly widened: number;
  readonly members: number;
}

/** @param truer how much longer the section takes than its stand-in: what is logged goes by the section */
export function fitProbe(
  job: Job,
  { time, temperature }: Readings,
  truer: number,
  effort: EffortSum,
  options: QuestionOptions,
): ProbeFound {
  const { shouldStop } = options;
  const { modelOf } = slowestBar(job, options);
  const held = heldOf(time.length);
  // a clock may run ahead: the model is asked a little before the first reading, too
  const at = held.map((k) => Math.max(0.5, time[k]));
  const until = at[at.length - 1];
  const laid = layOut(job, 0, (moved) => {
    const model = modelOf(moved);
    const history = simulate({
      ...model.problem,
      ...DRAFTING,
      ...(shouldStop && { shouldStop }),
      stages: [{ until: Math.max(until, 1) / truer }],
      times: at.map((t) => t / truer),
    });
    effort.add(history);
    const cooled = cool(model, job.limits.demold, DRAFTING);
    return [
      Math.log(truer * Math.min(cooled.time, LONGEST_COOLING)),
      ...Array.from(history.probes["hottest"]),
    ];
  });
  const [logTime, ...curve] = laid.surfaces;
  const n = laid.inputs.length;
  const read = held.map((k) => temperature[k]);
  // how fast it cools there: what a late clock or a slower bait does to a reading
  const rate = at.map((_, k) => {
    const [a, b] = [Math.max(0, k - 1), Math.min(at.length - 1, k + 1)];
    return b > a && at[b] > at[a] ? (read[b] - read[a]) / (at[b] - at[a]) : 0;
  });
  const hottest = read.reduce((a, b) => Math.max(a, b), 0);
  const computed = (z: Float64Array, k: number) =>
    curve[k].at(z) + OFF * z[n] + rate[k] * (CLOCK * z[n + 1] - TIMES_OFF * z[n + 2] * at[k]);
  const scatter = (raised: number) =>
    read.map((T, k) => raised * Math.hypot(NOISE, CURVE_OFF * (hottest - T), curve[k].error));
  const weighAt = (raised: number) => {
    const sigma = scatter(raised);
    return weigh(laid.inputs, 3, (z) => {
      let sum = 0;
      for (let k = 0; k < read.length; k++) {
        const e = (read[k] - computed(z, k)) / sigma[k];
        sum -= (e * e) / 2;
      }
      return sum;
    });
  };
  const misfit = (weighed: Weighed, sigma: readonly number[]) =>
    Math.sqrt(
      read.reduce(
        (sum, T, k) => sum + ((T - computed(Float64Array.from(weighed.middle), k)) / sigma[k]) ** 2,
        0,
      ) / read.length,
    );
  let raised = 1;
  let weighed = weighAt(raised);
  const left = misfit(weighed, scatter(1));
  if (left > 1.5) {
    // the model can't follow any closer: what it misses counts as scatter, and the ranges get wider
    raised = left;
    weighed = weighAt(raised);
  }
  const middle = Float64Array.from(weighed.middle);
  const curveThere = read.map((_, k) => computed(middle, k));
  const residual = Math.sqrt(
    read.reduce((sum, T, k) => sum + (T - curveThere[k]) ** 2, 0) / read.length,
  );
  return {
    weighed,
    ...openingLearned(weighed, 3, (z) => logTime.at(z), n + 2),
    model: time.map((t) => linearAt(at, curveThere, t)),
    residual,
    widened: raised,
    members: laid.members,
  };
}
