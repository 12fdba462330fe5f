/**
 * Whether a front of reaction is narrower than the cells: then what it leaves behind, and how hot it gets where it ends, are
 * not known from them, and two grids that both lose it may agree.
 */
import type { Operator } from "./operator.ts";

/**
 * From this difference of cure between two cells on a front is not resolved, and from the second on nothing is known of where it
 * ends. Measured on slabs and boxes that run away: below the first, peaks are within what grids show; at the second and above
 * they were off by a tenth to 0.6 of the adiabatic rise.
 */
const RESOLVED = 0.6;
const LOST = 0.8;
const MOST_OFF = 0.7;

/**
 * What an unresolved front leaves open in temperatures where it ends, K.
 *
 * @param sharpest difference of cure from a cell to the next, 0 to 1
 * @param rise adiabatic, K
 */
export function frontError(sharpest: number, rise: number): number {
  const lost = Math.min(1, Math.max(0, (sharpest - RESOLVED) / (LOST - RESOLVED)));
  return lost * MOST_OFF * rise;
}

export interface FrontWatch {
  /** How much further cure is in a cell than in the next one of the same region, at most, at this state. */
  sharpest(u: Float64Array): number;
}

export function makeFrontWatch({ grid, cells, qV, hasCure }: Operator): FrontWatch {
  const pairs: number[] = [];
  const add = (cell: number, next: number) => {
    const isOne = grid.content[cell] >= 0 && grid.content[cell] === grid.content[next];
    if (isOne) pairs.push(cell, next);
  };
  for (let cell = 0; hasCure && cell < cells; cell++) {
    if ((cell + 1) % grid.nx !== 0) add(cell, cell + 1);
    if (cell + grid.nx < cells) add(cell, cell + grid.nx);
  }
  const both = Int32Array.from(pairs);
  return {
    sharpest(u) {
      let most = 0;
      for (let k = 0; k < both.length; k += 2) {
        const cell = both[k];
        // what fills it cures
        if (!(qV[cell] > 0)) continue;
        const apart = Math.abs(u[cells + cell] - u[cells + both[k + 1]]);
        if (apart > most) most = apart;
      }
      return most;
    },
  };
}
