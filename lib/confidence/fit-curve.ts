/**
 * Least squares with what was known before: parameters counted in their own prior standard deviations, so that a
 * parameter on which the readings say nothing keeps its prior.
 *
 *     minimize sum [(reading - model(p))/noise]2 + sum p2
 */
import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { inverse, Matrix } from "ml-matrix";

export interface CurveFit {
  /** In prior standard deviations. */
  readonly p: readonly number[];
  /** Standard deviation of each after the fit, in prior standard deviations: near 1, the readings said nothing. */
  readonly deviation: readonly number[];
  /** Correlation of each pair after the fit. */
  readonly correlation: readonly (readonly number[])[];
  /** Root mean square of reading less model, in the unit of the readings. */
  readonly residual: number;
  readonly iterations: number;
}

/** Parameters are kept within this many prior standard deviations. */
const FARTHEST = 4;
const STEP = 0.05;

/**
 * Fits a model to readings.
 *
 * @param readings what was measured
 * @param noise standard deviation of a reading, in its unit; raised to the scatter that the fit leaves
 * @param count number of parameters
 * @param model values at all readings for parameters in prior standard deviations
 */
export function fitCurve(
  readings: readonly number[],
  noise: number,
  count: number,
  model: (p: readonly number[]) => readonly number[],
): CurveFit {
  const n = readings.length;
  const known = new Map<string, readonly number[]>();
  const values = (p: readonly number[]) => {
    const key = p.join(" ");
    let found = known.get(key);
    if (!found) {
      found = model(p);
      known.set(key, found);
    }
    return found;
  };
  const fitWith = (sigma: number) =>
    levenbergMarquardt(
      {
        x: Array.from({ length: n + count }, (_, i) => i),
        // the prior: each parameter read as 0, give or take 1
        y: [...readings.map((r) => r / sigma), ...new Array<number>(count).fill(0)],
      },
      (p) => {
        const at = values(p);
        return (i) => (i < n ? at[i] / sigma : p[i - n]);
      },
      {
        initialValues: new Array<number>(count).fill(0),
        minValues: new Array<number>(count).fill(-FARTHEST),
        maxValues: new Array<number>(count).fill(FARTHEST),
        gradientDifference: STEP,
        maxIterations: 40,
        damping: 0.1,
        errorTolerance: 1e-6,
        improvementThreshold: 1e-4,
      },
    );
  const scatter = (p: readonly number[]) => {
    const at = values(p);
    return Math.sqrt(readings.reduce((sum, r, i) => sum + (r - at[i]) ** 2, 0) / n);
  };
  let sigma = noise;
  let fit = fitWith(sigma);
  const left = scatter(fit.parameterValues);
  if (left > 1.5 * noise) {
    // the model can't follow the readings any closer: they count for as much as that
    sigma = left;
    fit = fitWith(sigma);
  }
  const p = fit.parameterValues;
  const jacobian = new Matrix(n, count);
  for (let k = 0; k < count; k++) {
    const [up, down] = [STEP, -STEP].map((d) => values(p.map((v, i) => (i === k ? v + d : v))));
    for (let i = 0; i < n; i++) jacobian.set(i, k, (up[i] - down[i]) / (2 * STEP) / sigma);
  }
  const information = jacobian.transpose().mmul(jacobian).add(Matrix.eye(count));
  const covariance = inverse(information);
  const deviation = p.map((_, k) => Math.sqrt(covariance.get(k, k)));
  return {
    p,
    deviation,
    correlation: p.map((_, a) =>
      p.map((__, b) => covariance.get(a, b) / (deviation[a] * deviation[b])),
    ),
    residual: scatter(p),
    iterations: fit.iterations,
  };
}
