import type { Grid } from "./grid-type.ts";

/** What a peak between cells adds to the temperature of the hottest (or coldest) cell: a parabola along an axis, K. */
export function peakCorrection(grid: Grid, T: Float64Array, cell: number, axis: 0 | 1): number {
  const i = cell % grid.nx;
  const j = (cell - i) / grid.nx;
  return alongAxis(
    grid,
    T,
    cell,
    axis === 0
      ? { stride: 1, at: i, centers: grid.xc, even: grid.evenX }
      : { stride: grid.nx, at: j, centers: grid.yc, even: grid.evenY },
  );
}

interface Axis {
  /** Cells from one to the next along the axis. */
  readonly stride: number;
  /** Place of the cell along the axis. */
  readonly at: number;
  readonly centers: Float64Array;
  /** The field goes on evenly beyond the first cell. */
  readonly even: boolean;
}

function alongAxis(grid: Grid, T: Float64Array, cell: number, axis: Axis): number {
  const { stride, at, centers, even } = axis;
  if (at === centers.length - 1 || (at === 0 && !even)) return 0;
  const region = grid.content[cell];
  if (grid.content[cell + stride] !== region) return 0;
  if (at > 0 && grid.content[cell - stride] !== region) return 0;
  // beyond a mirror the same cell comes again
  const a = at === 0 ? 0 : T[cell - stride] - T[cell];
  const b = T[cell + stride] - T[cell];
  if (a * b < 0 || a + b === 0) return 0; // no peak along this axis
  const l = at === 0 ? 2 * centers[0] : centers[at] - centers[at - 1];
  const r = centers[at + 1] - centers[at];
  const curve = (a / l + b / r) / (l + r);
  const tilt = b / r - curve * r;
  const rise = (-tilt * tilt) / (4 * curve);
  // a smooth peak between equal cells adds at most an eighth of the drop beside it; a front is no parabola
  const most = Math.max(Math.abs(a), Math.abs(b)) / 6;
  return Math.min(most, Math.max(-most, rise));
}
