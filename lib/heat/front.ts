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

/** How much further cure is in a cell than in the next one of the same region, at most, at the state u. */
export function sharpestFront({ grid, cells, qV }: Operator, u: Float64Array): number {
  const { content, nx } = grid;
  let most = 0;
  for (let cell = 0; cell < cells; cell++) {
    // cut cells are left out; of the others the heat tells what cures
    if (!(content[cell] >= 0 && qV[cell] > 0)) continue;
    const own = u[cells + cell];
    const right = cell + 1;
    if (right % nx !== 0 && content[right] === content[cell])
      most = Math.max(most, Math.abs(own - u[cells + right]));
    const above = cell + nx;
    if (above < cells && content[above] === content[cell])
      most = Math.max(most, Math.abs(own - u[cells + above]));
  }
  return most;
}
