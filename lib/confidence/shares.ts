/**
 * Shares of variance of any function of independent inputs, from samples: how much each input explains alone, and how
 * much is gone when all but it are known.
 *
 * @source first order: Saltelli et al., Comput. Phys. Commun. 181 (2010) 259, table 2 (b); total: Jansen, ibid. 117 (1999)
 * 35
 */
import { sobolSequence } from "./sobol-sequence.ts";

interface Shares {
  /** First-order Sobol index of each input. */
  readonly first: readonly number[];
  /** Total Sobol index of each input. */
  readonly total: readonly number[];
  readonly variance: number;
  readonly evaluations: number;
}

/**
 * First-order and total Sobol indices.
 *
 * @param evaluate the function, of inputs uniform between 0 and 1; make other inputs from them by their quantiles
 * @param dimensions number of inputs, 1 to 20
 * @param samples evaluations are `samples (dimensions + 2)`; a power of 2 serves best
 * @throws InputError for too many inputs
 * @example Math.round(sobolShares(([a, b]) => a + 2 * b, 2, 256).first[1] * 10) / 10 // 0.8
 */
export function sobolShares(
  evaluate: (inputs: Float64Array) => number,
  dimensions: number,
  samples: number,
): Shares {
  const sequence = sobolSequence(2 * dimensions);
  const both = new Float64Array(2 * dimensions);
  const first = new Array<number>(dimensions).fill(0);
  const total = first.slice();
  // sums stay small when the function is counted from its middle
  const middle = evaluate(new Float64Array(dimensions).fill(0.5));
  const f = (inputs: Float64Array) => evaluate(inputs) - middle;
  let mean = 0;
  let square = 0;
  for (let n = 0; n < samples; n++) {
    sequence.point(n, both);
    const a = both.slice(0, dimensions);
    const b = both.slice(dimensions);
    const [fa, fb] = [f(a), f(b)];
    mean += fa + fb;
    square += fa * fa + fb * fb;
    for (let i = 0; i < dimensions; i++) {
      const mixed = a.slice();
      mixed[i] = b[i];
      const fm = f(mixed);
      first[i] += fb * (fm - fa);
      total[i] += (fa - fm) ** 2 / 2;
    }
  }
  mean /= 2 * samples;
  const variance = square / (2 * samples) - mean * mean;
  const share = (sum: number) => (variance > 0 ? sum / samples / variance : 0);
  return {
    first: first.map(share),
    total: total.map(share),
    variance,
    evaluations: samples * (dimensions + 2),
  };
}
