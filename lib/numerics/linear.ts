/** Between the points of a table. */

/**
 * Linear between the points of a table, and level beyond its ends.
 *
 * @param x rising; as many as `y`, at least one
 * @param at where it is wanted, in the unit of `x`
 */
export function linearAt(x: ArrayLike<number>, y: ArrayLike<number>, at: number): number {
  const last = x.length - 1;
  if (last < 1) return y[0];
  // the first span whose end is not before it
  let low = 0;
  let high = last - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (x[middle + 1] < at) low = middle + 1;
    else high = middle;
  }
  const span = x[low + 1] - x[low];
  const share = span > 0 ? Math.min(1, Math.max(0, (at - x[low]) / span)) : 1;
  return y[low] + share * (y[low + 1] - y[low]);
}
