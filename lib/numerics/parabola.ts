/** The highest point of the parabola through three points. */

/**
 * Where the parabola through a highest point and one on either side of it is highest.
 *
 * @param x rising
 * @param y the middle one not below the others
 * @returns the place, between the outer points, and the value there; the middle point where all three are even
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
  if (!(curve < 0)) return { x: x[1], y: y[1] };
  const at = Math.min(Math.max(-slope / (2 * curve), a), b);
  return { x: x[1] + at, y: y[1] + at * (slope + curve * at) };
}
