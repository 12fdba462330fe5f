import { NoConvergence } from "../units/problem.ts";
import { findRoot } from "./roots.ts";

/** A small set of ordinary differential equations y' = f(t, y). Knows no physics. */
interface Integration {
  /** Writes y' into `dy`. */
  readonly slope: (t: number, y: Float64Array, dy: Float64Array) => void;
  readonly from: number;
  readonly until: number;
  readonly start: ArrayLike<number>;
  /** Allowed relative error of a step. Default 1e-9. */
  readonly relative?: number;
  /** Allowed absolute error of a step, in the unit of y. Default 1e-12. */
  readonly absolute?: number;
  /** The run ends where this rises through zero. */
  readonly stop?: (t: number, y: Float64Array) => number;
  /** Called after each accepted step, and once at the start. */
  readonly eachStep?: (t: number, y: Float64Array) => void;
}

interface Integrated {
  readonly t: number;
  readonly y: Float64Array;
  readonly stopped: boolean;
  readonly steps: number;
}

// Dormand & Prince 5(4)
const C = [0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1, 1];
const A = [
  [],
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
const ERROR = [71 / 57600, 0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40];
const MOST_STEPS = 200_000;
/** A crossing is found to this share of the error that a step is allowed. */
const CROSSING = 1e-3;

/**
 * Integrates y' = f(t, y) from `from` to `until`, or to where `stop` rises through zero.
 *
 * Explicit Runge-Kutta of order 5 with an error estimate of order 4 (Dormand & Prince); the step follows the
 * error. Meant for a handful of equations that are not very stiff: a cup of resin, a conversion over time.
 *
 * @throws NoConvergence after 200 000 steps, or when the slope is not a number
 * @example integrate({ slope: (t, y, dy) => { dy[0] = -y[0]; }, from: 0, until: 1, start: [1] }).y[0] // 0.3678794412
 * @source Dormand & Prince, J. Comput. Appl. Math. 6 (1980) 19
 */
export function integrate(problem: Integration): Integrated {
  const { slope, from, until, stop } = problem;
  const relative = problem.relative ?? 1e-9;
  const absolute = problem.absolute ?? 1e-12;
  const n = problem.start.length;
  let y = Float64Array.from(problem.start);
  let next = new Float64Array(n);
  const k = Array.from({ length: 7 }, () => new Float64Array(n));
  const at = new Float64Array(n);

  /** One step of size h from (t, y) into `next`; returns the error relative to what is allowed. */
  function step(t: number, h: number): number {
    for (let s = 1; s < 7; s++) {
      for (let i = 0; i < n; i++) {
        let sum = 0;
        for (let j = 0; j < s; j++) sum += A[s][j] * k[j][i];
        at[i] = y[i] + h * sum;
      }
      if (s === 6) next.set(at);
      slope(t + C[s] * h, at, k[s]);
    }
    let worst = 0;
    for (let i = 0; i < n; i++) {
      let error = 0;
      for (let s = 0; s < 7; s++) error += ERROR[s] * k[s][i];
      const scale = absolute + relative * Math.max(Math.abs(y[i]), Math.abs(next[i]));
      const ratio = Math.abs(h * error) / scale;
      if (!(ratio <= worst)) worst = ratio; // keeps NaN
    }
    return worst;
  }

  let t = from;
  let steps = 0;
  slope(t, y, k[0]);
  problem.eachStep?.(t, y);
  let sign = stop ? stop(t, y) : 0;
  let h = (until - from) * 1e-4;
  for (let tries = 0; t < until; tries++) {
    if (tries > MOST_STEPS) throw new NoConvergence("integration", t, tries, h);
    h = Math.min(h, until - t);
    const error = step(t, h);
    if (!(error <= 1)) {
      h *= Number.isNaN(error) ? 0.1 : Math.max(0.1, 0.9 * error ** -0.2);
      if (h <= 1e-15 * Math.abs(t) || h < 1e-300)
        throw new NoConvergence("integration", t, tries, error);
      continue;
    }
    steps++;
    const signNext = stop ? stop(t + h, next) : 0;
    if (stop && sign < 0 && signNext >= 0) {
      // shorten the step onto the crossing; each try is a full step of order 5
      const begin = t;
      const past = (length: number) => {
        if (length === 0) return sign;
        step(begin, length);
        return stop(begin + length, next);
      };
      const last = findRoot(past, 0, h, Math.max(1e-14, CROSSING * relative) * (t + h));
      step(t, last);
      problem.eachStep?.(t + last, next);
      return { t: t + last, y: next, stopped: true, steps };
    }
    sign = signNext;
    t = h === until - t ? until : t + h;
    [y, next] = [next, y];
    k[0].set(k[6]);
    problem.eachStep?.(t, y);
    h *= Math.min(5, 0.9 * Math.max(error, 1e-10) ** -0.2);
  }
  return { t, y, stopped: false, steps };
}
