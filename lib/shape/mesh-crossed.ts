/** The few triangles of a large mesh that a set of planes crosses. */
import { crossedPlanes } from "./mesh-slices.ts";
import type { Triangles } from "./stl.ts";

/** Triangles that meet one of the planes at right angles to an axis: all that cutting needs. */
export function crossedTriangles(
  { corners, count, written }: Triangles,
  along: 0 | 1 | 2,
  planes: readonly number[],
): Triangles {
  const found: number[] = [];
  for (let t = 0; t < count; t++) {
    const at = 9 * t + along;
    const [from, to] = crossedPlanes(corners[at], corners[at + 3], corners[at + 6], planes);
    if (from <= to) found.push(t);
  }
  const few = new Float32Array(9 * found.length);
  found.forEach((t, k) => {
    few.set(corners.subarray(9 * t, 9 * t + 9), 9 * k);
  });
  return { corners: few, count: found.length, written };
}
