/**
 * Temperatures that stages left behind, as a first guess for another problem that is laid out alike: on other cells, of
 * somewhat other size.
 */
import { linearAt } from "../numerics/linear.ts";
import type { Integrator } from "./integrator.ts";
import type { Scale } from "./scale.ts";

/** Coldest and hottest that a problem can get, K. */
type Reach = Pick<Scale, "lowest" | "highest">;

/** What lies in one row of cells: places along it as shares of the width, temperatures, K. */
interface LeftRow {
  /** Of the row, as a share of the height. */
  readonly at: number;
  readonly along: readonly number[];
  readonly temperature: readonly number[];
}

/** Temperatures by their place; only where something was left. */
export type LeftState = readonly LeftRow[];

/** What the last stage of an integrator left. */
export function leftIn({ op, cellT }: Integrator): LeftState {
  const { nx, ny, x, y, xc, yc } = op.grid;
  const rows: LeftRow[] = [];
  for (let j = 0; j < ny; j++) {
    const along: number[] = [];
    const temperature: number[] = [];
    for (let i = 0; i < nx; i++)
      if (op.active[j * nx + i] === 1) {
        along.push(xc[i] / x[nx]);
        temperature.push(cellT[j * nx + i]);
      }
    if (along.length > 0) rows.push({ at: yc[j] / y[ny], along, temperature });
  }
  return rows;
}

/**
 * Sets the cells of an integrator: along a row between its neighbors, from the row that is nearest. What lies outside of
 * what this problem can reach is put at its end: no step leads away from there.
 */
export function startFrom(left: LeftState, { op, cellT }: Integrator, reach: Reach): void {
  const { nx, ny, x, y, xc, yc } = op.grid;
  for (let j = 0; j < ny; j++) {
    const at = yc[j] / y[ny];
    const row = left.reduce((a, b) => (Math.abs(b.at - at) < Math.abs(a.at - at) ? b : a));
    for (let i = 0; i < nx; i++) {
      const T = linearAt(row.along, row.temperature, xc[i] / x[nx]);
      cellT[j * nx + i] = Math.min(Math.max(T, reach.lowest), reach.highest);
    }
  }
}
