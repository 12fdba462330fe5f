/**
 * Whether what cures has been at its hottest. That it falls is not enough: where it runs away in one place first, or is
 * warmed from outside, another gets hotter later. T K.
 */
import type { Operator } from "./operator.ts";

export interface PastPeak {
  /** Remembers the temperatures that a step begins with. */
  begin(): void;
  /**
   * Whether every place that may still get hotter than `highest`, K, cooled during the step: as hot as the hottest is by
   * now, by what comes from there, and by its own heat that is left.
   *
   * @param u at the end of the step
   */
  isOver(u: Float64Array, highest: number): boolean;
}

export function makePastPeak(op: Operator): PastPeak {
  const { cells } = op;
  const before = new Float64Array(cells);
  const left = new Float64Array(cells);
  return {
    begin: () => before.set(op.T),
    isOver(u, highest) {
      const { T, C } = op;
      op.heatLeft(u, left);
      const hottest = T.reduce((most, here, i) => (left[i] > 0 ? Math.max(most, here) : most), 0);
      for (let i = 0; i < cells; i++)
        if (left[i] > 0 && T[i] > before[i] && hottest + left[i] / C[i] > highest) return false;
      return true;
    },
  };
}
