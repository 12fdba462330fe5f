import { NoConvergence } from "../units/problem.ts";

/**
 * Root of a continuous function between two ends of opposite sign, by Brent's method.
 *
 * @param f the function
 * @param low lower end
 * @param high upper end; f(low) and f(high) differ in sign
 * @param tolerance absolute, on the root
 * @throws NoConvergence when the ends have the same sign or after 200 tries
 * @example findRoot((x) => x * x - 2, 0, 2, 1e-12) // 1.41421356237
 * @source Brent, Algorithms for Minimization without Derivatives, 1973, ch. 4
 */
export function findRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  tolerance = 1e-10,
): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) throw new NoConvergence("root", 0, 0, Math.min(Math.abs(fa), Math.abs(fb)));
  let c = a;
  let fc = fa;
  let d = b - a;
  let e = d;
  for (let k = 0; k < 200; k++) {
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const tol = 2 * Number.EPSILON * Math.abs(b) + 0.5 * tolerance;
    const m = 0.5 * (c - b);
    if (Math.abs(m) <= tol || fb === 0) return b;
    if (Math.abs(e) < tol || Math.abs(fa) <= Math.abs(fb)) {
      d = m;
      e = m;
    } else {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * m * s;
        q = 1 - s;
      } else {
        const r1 = fa / fc;
        const r2 = fb / fc;
        p = s * (2 * m * r1 * (r1 - r2) - (b - a) * (r2 - 1));
        q = (r1 - 1) * (r2 - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (2 * p < Math.min(3 * m * q - Math.abs(tol * q), Math.abs(e * q))) {
        e = d;
        d = p / q;
      } else {
        d = m;
        e = m;
      }
    }
    a = b;
    fa = fb;
    b += Math.abs(d) > tol ? d : Math.sign(m) * tol;
    fb = f(b);
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      d = b - a;
      e = d;
    }
  }
  throw new NoConvergence("root", 0, 200, Math.abs(fb));
}
