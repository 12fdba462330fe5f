/**
 * What evidence makes of uncertain inputs: from independent standard normal deviates to a weighted ensemble.
 *
 * Evidence is taken in by steps. In each, members are drawn from the normal curve that the step before left, weighted by
 * what they explain, and as much more of the evidence is let in as leaves enough members with weight. So bounds ("opened
 * at 400 s and soft") count as well as readings, and nothing has to be a straight line.
 *
 * @source tempering by effective members: Del Moral, Doucet & Jasra, J. R. Stat. Soc. B 68 (2006) 411
 */

import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { dot } from "../numerics/dot.ts";
import { normalQuantile } from "../numerics/special-functions.ts";
import { sobolSequence } from "./sobol-sequence.ts";

export interface Learned {
  /** Members in deviates, with weights that add up to 1. */
  readonly members: readonly Float64Array[];
  readonly weights: readonly number[];
  /** Of the weighted members: middle, and lower triangle of their covariance. */
  readonly middle: readonly number[];
  readonly triangle: readonly (readonly number[])[];
  /** Members that count after all evidence. */
  readonly effective: number;
}

const MEMBERS = 4096;
/** Members that must keep their weight in a step, share. */
const KEPT = 0.3;
const STEPS = 30;
/** The curve drawn from is wider than what was found, so that nothing is lost at its edge. */
const WIDER = 1.15;

/** A normal curve of deviates: middle + triangle u. */
interface Curve {
  readonly middle: readonly number[];
  readonly triangle: readonly (readonly number[])[];
}

/**
 * Takes evidence in.
 *
 * @param inputs number of deviates
 * @param logLikelihood of the evidence for deviates `z`
 */
export function learn(inputs: number, logLikelihood: (z: Float64Array) => number): Learned {
  const sequence = sobolSequence(inputs, 77);
  const normals = Array.from({ length: MEMBERS }, (_, n) => sequence.point(n).map(normalQuantile));
  let curve: Curve = {
    middle: new Array<number>(inputs).fill(0),
    triangle: Matrix.eye(inputs).to2DArray(),
  };
  let share = 0;
  for (let step = 0; ; step++) {
    const members = normals.map((u) => onCurve(curve, u));
    const evidence = members.map(logLikelihood);
    const prior = members.map((z, n) => (dot(normals[n], normals[n]) - dot(z, z)) / 2);
    const weightsAt = (s: number) => weightsOf(prior, evidence, s);
    // all of it, or as much as leaves enough members with weight
    let next = 1;
    if (effectiveOf(weightsAt(1)) < KEPT * MEMBERS) {
      let [a, b] = [share, 1];
      for (let k = 0; k < 30; k++) {
        const middle = (a + b) / 2;
        if (effectiveOf(weightsAt(middle)) < KEPT * MEMBERS) b = middle;
        else a = middle;
      }
      // some progress must be made, even where few are left
      next = step >= STEPS ? 1 : Math.min(1, Math.max(a, share + 0.002));
    }
    const weights = weightsAt(next);
    const found = curveOf(members, weights);
    if (next === 1 || step > STEPS)
      return { members, weights, ...found, effective: effectiveOf(weights) };
    share = next;
    curve = {
      middle: found.middle,
      triangle: found.triangle.map((row) => row.map((x) => WIDER * x)),
    };
  }
}

/** A point of the curve by independent deviates. */
export function onCurve({ middle, triangle }: Curve, u: Float64Array): Float64Array {
  return Float64Array.from(middle, (m, i) => {
    let z = m;
    for (let j = 0; j <= i; j++) z += triangle[i][j] * u[j];
    return z;
  });
}

function weightsOf(prior: readonly number[], evidence: readonly number[], share: number): number[] {
  const logs = prior.map((p, n) => p + share * evidence[n]);
  const most = logs.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const weights = logs.map((l) => Math.exp(l - most));
  const sum = weights.reduce((a, b) => a + b, 0);
  return weights.map((w) => w / sum);
}

function effectiveOf(weights: readonly number[]): number {
  return 1 / weights.reduce((sum, w) => sum + w * w, 0);
}

function curveOf(members: readonly Float64Array[], weights: readonly number[]): Curve {
  const n = members[0].length;
  const middle = new Array<number>(n).fill(0);
  members.forEach((z, k) => {
    for (let i = 0; i < n; i++) middle[i] += weights[k] * z[i];
  });
  const covariance = Matrix.zeros(n, n);
  members.forEach((z, k) => {
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) {
        const add = weights[k] * (z[i] - middle[i]) * (z[j] - middle[j]);
        covariance.set(i, j, covariance.get(i, j) + add);
      }
  });
  for (let i = 0; i < n; i++)
    for (let j = 0; j < i; j++) covariance.set(j, i, covariance.get(i, j));
  return { middle, triangle: triangleOf(covariance.to2DArray()) };
}

/** The lower triangle of a covariance; a deviate that does not vary at all is given a little, and rounding is evened out. */
export function triangleOf(covariance: readonly (readonly number[])[]): number[][] {
  const given = covariance.map((row, i) =>
    row.map((x, j) => (i === j ? x + 1e-9 : (x + covariance[j][i]) / 2)),
  );
  return new CholeskyDecomposition(new Matrix(given)).lowerTriangularMatrix.to2DArray();
}

/**
 * Percentiles of weighted values.
 *
 * @example weightedQuantiles([3, 1, 2], [0.25, 0.25, 0.5], [0.5]) // [2]
 */
export function weightedQuantiles(
  values: readonly number[],
  weights: readonly number[],
  shares: readonly number[],
): number[] {
  const order = values.map((_, i) => i).sort((a, b) => values[a] - values[b]);
  let sum = 0;
  const middles = order.map((i) => {
    sum += weights[i];
    return sum - weights[i] / 2;
  });
  return shares.map((share) => {
    const k = middles.findIndex((at) => at >= share * sum);
    if (k < 0) return values[order[order.length - 1]];
    if (k === 0) return values[order[0]];
    const part = (share * sum - middles[k - 1]) / (middles[k] - middles[k - 1]);
    const [a, b] = [values[order[k - 1]], values[order[k]]];
    return a === b ? a : a + part * (b - a);
  });
}
