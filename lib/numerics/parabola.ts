/** The highest point of the parabola through three points. */

/**
 * Where the parabola through three points is highest between the outer ones.
 *
 * @param x rising
 * @param y one for each
 * @returns the place and the value there; the highest of the three where they bend upward or not at all
 * @example topOf([0, 1, 3], [0, 3, 3]) // { x: 2, y: 4 }
 */
export function topOf(
  x: readonly [number, number, number],
  y: readonly [number, number, number],
): { readonly x: number; readonly y: number } {
  const [a, b] = [x[0] - x[1], x[2] - x[1]];
  const [ya, yb] = [(y[0] - y[1]) / a, (y[2] - y[1]) / b];
  const curve = (yb - ya) / (b - a);
  const slope = ya - curve * a;
  if (!(curve < 0)) {
    const best = y.indexOf(Math.max(...y));
    return { x: x[best], y: y[best] };
  }
  const at = Math.min(Math.max(-slope / (2 * curve), a), b);
  return { x: x[1] + at, y: y[1] + at * (slope + curve * at) };
}
