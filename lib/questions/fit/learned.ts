/** What evidence of cooling teaches about a job's inputs: the quick model laid out as surfaces, and the ensemble weighed. */

import type { Learned } from "../../confidence/learn.ts";
import { sobolSequence } from "../../confidence/sobol-sequence.ts";
import { designOf, fitSurface, type Surface } from "../../confidence/surface.ts";
import type { FittedInput } from "../../job/input-names.ts";
import { type JobInput, jobInputs } from "../../job/inputs.ts";
import type { Job } from "../../job/types.ts";
import { normalQuantile } from "../../numerics/special-functions.ts";
import { keptInputs } from "./kept.ts";
import { type Ends, endsOf, type Weighed, weigh } from "./weighed.ts";

/** A model that doesn't hold, found the same in every bait of a shop: its times are off by this share. From memory. */
export const TIMES_OFF = 0.03;

/** Surfaces of some results over the inputs of a job and some further ones. */
interface Laid {
  readonly inputs: readonly JobInput[];
  readonly surfaces: readonly Surface[];
  readonly members: number;
}

const MEMBERS = 80;

/**
 * Lays the surfaces.
 *
 * @param more number of further inputs, deviates that `evaluate` is given
 */
export function layOut(
  job: Job,
  more: number,
  evaluate: (job: Job, more: Float64Array) => readonly number[],
): Laid {
  const inputs = jobInputs(job);
  const count = inputs.length + more;
  const sequence = sobolSequence(count, 5);
  const points = Array.from({ length: MEMBERS }, (_, n) => sequence.point(n).map(normalQuantile));
  const results = points.map((z) =>
    evaluate(
      inputs.reduce((at, input, i) => input.at(at, z[i]), job),
      z.subarray(inputs.length),
    ),
  );
  const design = designOf(points);
  return {
    inputs,
    surfaces: results[0].map((_, r) =>
      fitSurface(
        design,
        results.map((result) => result[r]),
      ),
    ),
    members: MEMBERS,
  };
}

/** What evidence makes of the time to opening. */
export interface OpeningLearned {
  readonly before: Ends;
  readonly after: Ends;
  readonly fitted: readonly FittedInput[];
  /** What brings a time that a question answered from `fitted` between what was seen; null: it lies there. */
  readonly mended: (answered: number) => readonly FittedInput[] | null;
}

/** Times between which the likely one lies by what was seen, whatever was known before, s. */
export interface Between {
  readonly from: number;
  readonly to: number;
}

/**
 * Time to opening before and after.
 *
 * @param logTime logarithm of the time by the job's inputs
 * @param off place of the deviate by which all times are off
 */
export function openingLearned(
  weighed: Weighed,
  further: number,
  logTime: (z: Float64Array) => number,
  off: number,
  between: Between | null = null,
): OpeningLearned {
  const time = (z: Float64Array) => Math.exp(logTime(z) + TIMES_OFF * z[off]);
  const after = endsOf(weighed, time);
  // the ends are moved as a whole
  const seen = byWhich(after.value, between);
  const kept = (further = 1) => {
    const by = seen * further;
    const ends = { value: by * after.value, low: by * after.low, high: by * after.high };
    return keptInputs(weighed, logTime, (z) => TIMES_OFF * z[off], ends);
  };
  return {
    before: endsOf(
      weigh(weighed.inputs, further, () => 0),
      time,
    ),
    after,
    fitted: kept(),
    mended: (answered) => {
      const by = byWhich(answered, between);
      return by === 1 ? null : kept(by);
    },
  };
}

/** By which factor a time moves, as little as brings it between. */
function byWhich(time: number, between: Between | null): number {
  return between === null ? 1 : Math.min(between.to, Math.max(between.from, time)) / time;
}

/** Standard deviation of each input after the evidence, in deviates; 1: nothing learned. */
export function deviationsOf({ members, weights, middle }: Learned): number[] {
  return middle.map((m, i) =>
    Math.sqrt(members.reduce((sum, z, k) => sum + weights[k] * (z[i] - m) ** 2, 0)),
  );
}

export function correlationOf({ members, weights, middle }: Learned, i: number, j: number): number {
  let [a, b, ab] = [0, 0, 0];
  members.forEach((z, k) => {
    const [x, y] = [z[i] - middle[i], z[j] - middle[j]];
    a += weights[k] * x * x;
    b += weights[k] * y * y;
    ab += weights[k] * x * y;
  });
  return a > 0 && b > 0 ? ab / Math.sqrt(a * b) : 0;
}
