/** What a person must know about how far an answer can be trusted. */
import type { Effort, Limit } from "../heat/problem.ts";

const BECAUSE: Readonly<Record<Limit, string>> = {
  cells: "a finer grid would have more cells than mostCells allows",
  steps: "shorter time steps, or those of a finer grid, would be too many",
  halvings: "finer grids bring the answers no nearer to each other",
};

/** What no tolerance was asked for may be so far off before it is told, K: as near as a thermocouple reads, from memory. */
const UNTOLD = 1;

/**
 * Sentences about an answer: none when it kept the tolerance that was asked for, or is within a kelvin where none was, and no
 * front was lost between its cells.
 *
 * @example notesOn({ cells: 9, steps: 9, rejected: 0, energyImbalance: 0, timeError: 0, gridError: 0, frontError: 0,
 * reached: 0.12, asked: 0.015, limitedBy: "cells" }).length // 1
 */
export function notesOn({ reached, asked, limitedBy, frontError }: Effort): string[] {
  const found: string[] = [];
  const kelvin = (K: number) => `${Number(K.toPrecision(2))} K`;
  if (asked !== null && limitedBy !== null && reached > asked)
    found.push(
      `tolerance not reached: ${kelvin(reached)} instead of ${kelvin(asked)}; ${BECAUSE[limitedBy]}`,
    );
  if (asked === null && reached > UNTOLD && reached > frontError)
    found.push(
      `values may be ${kelvin(reached)} off on this grid; a tolerance or a finer resolution brings them nearer`,
    );
  if (frontError > 0)
    found.push(
      `a front of reaction is narrower than the cells: peaks where it ends may be ${kelvin(frontError)} off; a tolerance or a finer resolution follows it`,
    );
  return found;
}
