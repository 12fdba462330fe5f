import { boxOf, type Ring } from "./outline.ts";

/**
 * Area that rings cover in each box of a rectangular grid, and its first moment about x = 0.
 *
 * Clipping against a half plane keeps the signed area exact for any ring, so holes (clockwise) subtract themselves.
 */
interface CoveredShare {
  /** m2 for each box, x fastest. */
  readonly area: Float64Array;
  /** Integral of x over the covered area, m3. */
  readonly moment: Float64Array;
}

export function coveredAreas(
  rings: readonly Ring[],
  x: Float64Array,
  y: Float64Array,
): CoveredShare {
  const nx = x.length - 1;
  const ny = y.length - 1;
  const area = new Float64Array(nx * ny);
  const moment = new Float64Array(nx * ny);
  for (const ring of rings) {
    let rest: number[] = Array.from(ring);
    const box = boxOf([ring]);
    if (box.left < x[0]) rest = clipped(rest, 0, x[0], false);
    for (let i = 0; i < nx && rest.length > 0; i++) {
      if (x[i + 1] <= box.left) continue;
      let column = box.right > x[i + 1] ? clipped(rest, 0, x[i + 1], true) : rest;
      if (box.right > x[i + 1]) rest = clipped(rest, 0, x[i + 1], false);
      else rest = [];
      const [low, high] = reach(column);
      if (low < y[0]) column = clipped(column, 1, y[0], false);
      for (let j = 0; j < ny && column.length > 0; j++) {
        if (y[j + 1] <= low) continue;
        const above = high > y[j + 1];
        addArea(above ? clipped(column, 1, y[j + 1], true) : column, j * nx + i, area, moment);
        column = above ? clipped(column, 1, y[j + 1], false) : [];
      }
    }
  }
  return { area, moment };
}

/** Part of a ring below (or above) `at` along an axis (0 = x, 1 = y). */
function clipped(ring: readonly number[], axis: 0 | 1, at: number, below: boolean): number[] {
  const out: number[] = [];
  const n = ring.length;
  const sign = below ? 1 : -1;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const dj = sign * (ring[j + axis] - at);
    const di = sign * (ring[i + axis] - at);
    if (dj < 0 !== di < 0 && dj !== 0 && di !== 0) {
      const s = dj / (dj - di);
      const px = axis === 0 ? at : ring[j] + s * (ring[i] - ring[j]);
      const py = axis === 1 ? at : ring[j + 1] + s * (ring[i + 1] - ring[j + 1]);
      out.push(px, py);
    }
    if (di <= 0) out.push(ring[i], ring[i + 1]);
  }
  return out;
}

function reach(ring: readonly number[]): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 1; i < ring.length; i += 2) {
    low = Math.min(low, ring[i]);
    high = Math.max(high, ring[i]);
  }
  return [low, high];
}

function addArea(ring: readonly number[], at: number, area: Float64Array, moment: Float64Array) {
  const n = ring.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const cross = ring[j] * ring[i + 1] - ring[i] * ring[j + 1];
    area[at] += cross / 2;
    moment[at] += ((ring[j] + ring[i]) * cross) / 6;
  }
}
