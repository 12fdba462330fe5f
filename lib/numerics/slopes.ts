/**
 * Slopes of a function of several numbers, by central differences.
 *
 * @example slopesAt(([x, y]) => x * x + 3 * y, [2, 1], 0.1).map((s) => Math.round(s)) // [4, 3]
 */
export function slopesAt(
  f: (x: Float64Array) => number,
  at: ArrayLike<number>,
  step: number,
): number[] {
  return Array.from(at, (_, i) => {
    const moved = (by: number) => {
      const x = Float64Array.from(at);
      x[i] += by;
      return f(x);
    };
    return (moved(step) - moved(-step)) / (2 * step);
  });
}
