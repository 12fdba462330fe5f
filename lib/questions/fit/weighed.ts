/** An ensemble of a job's inputs, weighed by evidence, and what follows from it. */

import { type Learned, learn, weightedQuantiles } from "../../confidence/learn.ts";
import type { JobInput } from "../../job/inputs.ts";

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
