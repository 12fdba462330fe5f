/** A smooth curve through points that never overshoots them. */
import { hermite } from "./hermite.ts";

/**
 * Cubic through points, rising only where they rise: between two neighbors it stays between their values.
 *
 * @param x rising strictly, two at least
 * @param y one for each x
 * @returns the value at a place; outside the points the nearer end's
 * @example monotoneCubic([0, 1, 2], [0, 1, 4])(1) // 1
 * @source Fritsch & Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat.
 * Comput. 5 (1984) 300
 */
export function monotoneCubic(x: readonly number[], y: readonly number[]): (at: number) => number {
  const n = x.length;
  const slope = slopesOf(x, y);
  return (at) => {
    if (!(at > x[0])) return y[0];
    if (!(at < x[n - 1])) return y[n - 1];
    let i = 0;
    while (x[i + 1] <= at) i++;
    const h = x[i + 1] - x[i];
    const cubic = { h, y0: y[i], d0: slope[i], y1: y[i + 1], d1: slope[i + 1] };
    return hermite(cubic, (at - x[i]) / h);
  };
}

function slopesOf(x: readonly number[], y: readonly number[]): number[] {
  const n = x.length;
  const h = Array.from({ length: n - 1 }, (_, i) => x[i + 1] - x[i]);
  const rise = h.map((step, i) => (y[i + 1] - y[i]) / step);
  if (n === 2) return [rise[0], rise[0]];
  const inner = (i: number) => {
    const [a, b] = [rise[i - 1], rise[i]];
    if (!(a * b > 0)) return 0;
    const [v, w] = [2 * h[i] + h[i - 1], h[i] + 2 * h[i - 1]];
    return (v + w) / (v / a + w / b);
  };
  // of the parabola through the outer three points, kept from turning back
  const outer = (h0: number, h1: number, a: number, b: number) => {
    const s = ((2 * h0 + h1) * a - h0 * b) / (h0 + h1);
    if (!(s * a > 0)) return 0;
    return !(a * b > 0) && Math.abs(s) > 3 * Math.abs(a) ? 3 * a : s;
  };
  return [
    outer(h[0], h[1], rise[0], rise[1]),
    ...Array.from({ length: n - 2 }, (_, i) => inner(i + 1)),
    outer(h[n - 2], h[n - 3], rise[n - 2], rise[n - 3]),
  ];
}
