/** What a person must know about how far an answer can be trusted. */
import type { Effort, Limit } from "../heat/problem.ts";

const BECAUSE: Readonly<Record<Limit, string>> = {
  cells: "a finer grid would have more cells than mostCells allows",
  steps: "shorter time steps, or those of a finer grid, would be too many",
  halvings: "finer grids bring the answers no nearer to each other",
};

/**
 * Sentences about an answer: none when it kept the tolerance that was asked for.
 *
 * @example notesOn({ cells: 9, steps: 9, rejected: 0, energyImbalance: 0, timeError: 0, gridError: 0, reached: 0.12,
 * asked: 0.015, limitedBy: "cells" }).length // 1
 */
export function notesOn({ reached, asked, limitedBy }: Effort): string[] {
  if (asked === null || limitedBy === null || reached <= asked) return [];
  const [is, wanted] = [reached, asked].map((K) => Number(K.toPrecision(2)));
  return [`tolerance not reached: ${is} K instead of ${wanted} K; ${BECAUSE[limitedBy]}`];
}
