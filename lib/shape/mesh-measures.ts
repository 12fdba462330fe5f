/** Volume, surface and moments of a mesh from its triangles. Any unit of length. */
import type { Mesh } from "./mesh-check.ts";

export interface MeshMeasures {
  /** Negative for a mesh that faces inward. */
  readonly volume: number;
  readonly surface: number;
  readonly centroid: readonly [number, number, number];
  /** Integrals of x^2, y^2, z^2 over the volume, about the centroid. */
  readonly second: readonly [number, number, number];
  readonly least: readonly [number, number, number];
  readonly most: readonly [number, number, number];
}

/**
 * Sums over the tetrahedra between each triangle and one inner point.
 *
 * @source Zhang & Chen, Efficient feature extraction for 2D/3D objects in mesh representation, ICIP 2001
 */
export function meshMeasures({ corners, count }: Pick<Mesh, "corners" | "count">): MeshMeasures {
  const least: [number, number, number] = [Infinity, Infinity, Infinity];
  const most: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < 9 * count; i += 3)
    for (let axis = 0; axis < 3; axis++) {
      const x = corners[i + axis];
      if (x < least[axis]) least[axis] = x;
      if (x > most[axis]) most[axis] = x;
    }
  const [ox, oy, oz] = [0, 1, 2].map((axis) => (least[axis] + most[axis]) / 2);
  let [volume, surface] = [0, 0];
  let [mx, my, mz, xx, yy, zz] = [0, 0, 0, 0, 0, 0];
  for (let t = 0; t < 9 * count; t += 9) {
    const ax = corners[t] - ox;
    const ay = corners[t + 1] - oy;
    const az = corners[t + 2] - oz;
    const bx = corners[t + 3] - ox;
    const by = corners[t + 4] - oy;
    const bz = corners[t + 5] - oz;
    const cx = corners[t + 6] - ox;
    const cy = corners[t + 7] - oy;
    const cz = corners[t + 8] - oz;
    const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    surface += Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
    const v = (ax * nx + ay * ny + az * nz) / 6;
    volume += v;
    mx += (v * (ax + bx + cx)) / 4;
    my += (v * (ay + by + cy)) / 4;
    mz += (v * (az + bz + cz)) / 4;
    xx += (v * (ax * ax + bx * bx + cx * cx + ax * bx + bx * cx + ax * cx)) / 10;
    yy += (v * (ay * ay + by * by + cy * cy + ay * by + by * cy + ay * cy)) / 10;
    zz += (v * (az * az + bz * bz + cz * cz + az * bz + bz * cz + az * cz)) / 10;
  }
  const middle = volume === 0 ? [0, 0, 0] : [mx / volume, my / volume, mz / volume];
  return {
    volume,
    surface,
    centroid: [ox + middle[0], oy + middle[1], oz + middle[2]],
    second: [
      Math.abs(xx - volume * middle[0] ** 2),
      Math.abs(yy - volume * middle[1] ** 2),
      Math.abs(zz - volume * middle[2] ** 2),
    ],
    least,
    most,
  };
}
