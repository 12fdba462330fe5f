/**
 * Times at which steps must end: where a boundary bends or jumps, where a snapshot is wanted, and the end of the stage.
 */

interface Breakpoints {
  /** The first breakpoint after t, or the end of the stage. */
  after(t: number): number;
}

/**
 * @param times in any order; those outside the stage are left out
 * @example makeBreakpoints([30, 10, 99], 0, 60).after(10) // 30
 */
export function makeBreakpoints(
  times: readonly number[],
  start: number,
  until: number,
): Breakpoints {
  const inside = times.filter((c) => c > start && c < until).sort((a, b) => a - b);
  let k = 0;
  return {
    after(t) {
      while (k < inside.length && inside[k] <= t * (1 + 1e-12)) k++;
      return k < inside.length ? inside[k] : until;
    },
  };
}

/**
 * A step toward a breakpoint that lies `left` seconds ahead: two equal steps rather than one long and one tiny.
 *
 * @example stepToward(10, 8, 0) // 5
 */
export function stepToward(left: number, wish: number, t: number): number {
  const step = wish >= left ? left : Math.min(wish, 0.5 * left);
  return step < 1e-12 * (t + 1e-3) ? Math.min(left, 1e-12 * (t + 1e-3)) : step;
}
