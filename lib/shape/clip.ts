import { boxOf, type Ring } from "./outline.ts";

/**
 * Area that rings cover in each box of a rectangular grid, and its first moment about x = 0.
 *
 * Clipping against a half plane keeps the signed area exact for any ring, so holes (clockwise) subtract themselves.
 */
export interface CoveredShare {
  /** m2 for each box, x fastest. */
  readonly area: Float64Array;
  /** Integral of x over the covered area, m3. */
  readonly moment: Float64Array;
}

/** A ring that is cut again and again: the memory of its corners is kept, of which the first `length` numbers count. */
interface Cut {
  readonly at: number[];
  length: number;
}

const noCut = (): Cut => ({ at: [], length: 0 });

export function coveredAreas(
  rings: readonly Ring[],
  x: Float64Array,
  y: Float64Array,
): CoveredShare {
  const nx = x.length - 1;
  const ny = y.length - 1;
  const area = new Float64Array(nx * ny);
  const moment = new Float64Array(nx * ny);
  // what is left to the right and above, each cut from the one into the other by turns, and what was cut off
  let rest = noCut();
  let less = noCut();
  let column = noCut();
  let lower = noCut();
  const cell = noCut();
  for (const ring of rings) {
    rest.length = ring.length;
    for (let k = 0; k < ring.length; k++) rest.at[k] = ring[k];
    const box = boxOf([ring]);
    if (box.left < x[0]) {
      clip(rest, 0, x[0], false, less);
      [rest, less] = [less, rest];
    }
    for (let i = 0; i < nx && rest.length > 0; i++) {
      if (x[i + 1] <= box.left) continue;
      if (box.right > x[i + 1]) {
        clip(rest, 0, x[i + 1], true, column);
        clip(rest, 0, x[i + 1], false, less);
        [rest, less] = [less, rest];
      } else {
        [column, rest] = [rest, column];
        rest.length = 0;
      }
      const [low, high] = reach(column);
      if (low < y[0]) {
        clip(column, 1, y[0], false, lower);
        [column, lower] = [lower, column];
      }
      for (let j = 0; j < ny && column.length > 0; j++) {
        if (y[j + 1] <= low) continue;
        if (!(high > y[j + 1])) {
          addArea(column, j * nx + i, area, moment);
          break;
        }
        clip(column, 1, y[j + 1], true, cell);
        addArea(cell, j * nx + i, area, moment);
        clip(column, 1, y[j + 1], false, lower);
        [column, lower] = [lower, column];
      }
    }
  }
  return { area, moment };
}

/** Puts the part of a ring below (or above) `at` along an axis (0 = x, 1 = y) into `out`. */
function clip(from: Cut, axis: 0 | 1, at: number, below: boolean, out: Cut): void {
  const ring = from.at;
  const n = from.length;
  const part = out.at;
  const sign = below ? 1 : -1;
  let to = 0;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const dj = sign * (ring[j + axis] - at);
    const di = sign * (ring[i + axis] - at);
    if (dj < 0 !== di < 0 && dj !== 0 && di !== 0) {
      const s = dj / (dj - di);
      part[to++] = axis === 0 ? at : ring[j] + s * (ring[i] - ring[j]);
      part[to++] = axis === 1 ? at : ring[j + 1] + s * (ring[i + 1] - ring[j + 1]);
    }
    if (di <= 0) {
      part[to++] = ring[i];
      part[to++] = ring[i + 1];
    }
  }
  out.length = to;
}

function reach({ at, length }: Cut): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 1; i < length; i += 2) {
    low = Math.min(low, at[i]);
    high = Math.max(high, at[i]);
  }
  return [low, high];
}

function addArea(ring: Cut, cell: number, area: Float64Array, moment: Float64Array) {
  const { at, length: n } = ring;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const cross = at[j] * at[i + 1] - at[i] * at[j + 1];
    area[cell] += cross / 2;
    moment[cell] += ((at[j] + at[i]) * cross) / 6;
  }
}
