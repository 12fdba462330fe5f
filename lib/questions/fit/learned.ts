/** What evidence of cooling teaches about a job's inputs: the quick model laid out as surfaces, and the ensemble weighed. */

import { type Learned, learn, weightedQuantiles } from "../../confidence/learn.ts";
import { sobolSequence } from "../../confidence/sobol-sequence.ts";
import { designOf, fitSurface, type Surface } from "../../confidence/surface.ts";
import { FARTHEST } from "../../job/fitted.ts";
import type { FittedInput } from "../../job/input-names.ts";
import { type JobInput, jobInputs } from "../../job/inputs.ts";
import type { Job } from "../../job/types.ts";
import { normalQuantile } from "../../numerics/special-functions.ts";

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

/** A weighted ensemble of a job's inputs, then of what else was not known. */
export interface Weighed extends Learned {
  readonly inputs: readonly JobInput[];
}

export function weigh(
  inputs: readonly JobInput[],
  further: number,
  logLikelihood: (z: Float64Array) => number,
): Weighed {
  return { ...learn(inputs.length + further, logLikelihood), inputs };
}

const STEP = 0.05;

/**
 * What stands in the job from now on: the part of the ensemble that is of the job's inputs. Its middle is moved, the way
 * the ensemble is widest, to where the time is the ensemble's own middle one: a mean of bent inputs gives another.
 */
function fittedInputs(
  { inputs, middle, triangle }: Weighed,
  logTime: (z: Float64Array) => number,
  target: number,
): FittedInput[] {
  const n = inputs.length;
  const z = Float64Array.from(middle.slice(0, n));
  for (let round = 0; round < 4; round++) {
    const slope = z.map((_, i) => {
      const moved = z.slice();
      moved[i] += STEP;
      const up = logTime(moved);
      moved[i] -= 2 * STEP;
      return (up - logTime(moved)) / (2 * STEP);
    });
    // along the covariance: L (L' slope)
    const along = triangle
      .slice(0, n)
      .map((_, j) => slope.reduce((sum, s, i) => sum + (j <= i ? triangle[i][j] * s : 0), 0));
    const way = z.map((_, i) =>
      along.reduce((sum, a, j) => sum + (j <= i ? triangle[i][j] * a : 0), 0),
    );
    const gain = slope.reduce((sum, s, i) => sum + s * way[i], 0);
    if (!(gain > 1e-9)) break;
    const by = (target - logTime(z)) / gain;
    for (let i = 0; i < n; i++) z[i] += by * way[i];
  }
  return inputs.map(({ name }, i) => ({
    name,
    middle: Math.min(FARTHEST, Math.max(-FARTHEST, z[i])),
    row: Array.from(triangle[i].slice(0, i + 1)),
  }));
}

/** What evidence makes of the time to opening. */
export interface Opening {
  readonly before: Ends;
  readonly after: Ends;
  readonly fitted: readonly FittedInput[];
}

/**
 * Time to opening before and after.
 *
 * @param logTime logarithm of the time by the job's inputs
 * @param off place of the deviate by which all times are off
 */
export function openingOf(
  weighed: Weighed,
  further: number,
  logTime: (z: Float64Array) => number,
  off: number,
): Opening {
  const time = (z: Float64Array) => Math.exp(logTime(z) + TIMES_OFF * z[off]);
  const after = endsOf(weighed, time);
  return {
    before: endsOf(
      weigh(weighed.inputs, further, () => 0),
      time,
    ),
    after,
    fitted: fittedInputs(weighed, logTime, Math.log(after.value)),
  };
}

export interface Ends {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Middle, 10th and 90th percentile of what follows from each member. */
export function endsOf({ members, weights }: Learned, of: (z: Float64Array) => number): Ends {
  const [low, value, high] = weightedQuantiles(members.map(of), weights, [0.1, 0.5, 0.9]);
  return { value, low, high };
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
