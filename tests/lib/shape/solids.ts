/** Solids as STL files, made for the tests. */

export type Corner = readonly [number, number, number];
export type Triangle = readonly [Corner, Corner, Corner];

/** A grid of corners, closed around in u and, where `poles`, to one corner at both ends of v. */
export function surface(
  nu: number,
  nv: number,
  at: (u: number, v: number) => Corner,
  around = false,
): Triangle[] {
  const triangles: Triangle[] = [];
  const corner = (i: number, j: number): Corner =>
    at((i % nu) / nu, around ? (j % nv) / nv : j / nv);
  for (let j = 0; j < nv; j++)
    for (let i = 0; i < nu; i++) {
      const [a, b, c, d] = [corner(i, j), corner(i + 1, j), corner(i + 1, j + 1), corner(i, j + 1)];
      if (around || j > 0) triangles.push([a, b, c]);
      if (around || j < nv - 1) triangles.push([a, c, d]);
    }
  return triangles;
}

/** Full axes along x, y and z; the long one along x. */
export function ellipsoid(long: number, wide: number, high: number, n = 64): Triangle[] {
  return surface(n, n, (u, v) => {
    const [s, c] =
      v === 0 ? [0, 1] : v === 1 ? [0, -1] : [Math.sin(Math.PI * v), Math.cos(Math.PI * v)];
    return [
      (-long / 2) * c,
      (wide / 2) * s * Math.cos(2 * Math.PI * u),
      (high / 2) * s * Math.sin(2 * Math.PI * u),
    ];
  });
}

/** Around the z axis. */
export function torus(ring: number, tube: number, n = 96): Triangle[] {
  return surface(
    n,
    n,
    (u, v) => {
      const r = ring + tube * Math.cos(2 * Math.PI * v);
      return [
        r * Math.cos(2 * Math.PI * u),
        r * Math.sin(2 * Math.PI * u),
        tube * Math.sin(2 * Math.PI * v),
      ];
    },
    true,
  );
}

/** Base at x = 0, tip at x = height. */
export function cone(height: number, radius: number, n = 128): Triangle[] {
  const rim = (i: number): Corner => {
    const angle = (2 * Math.PI * (i % n)) / n;
    return [0, radius * Math.cos(angle), radius * Math.sin(angle)];
  };
  return Array.from({ length: n }, (_, i): Triangle[] => [
    [rim(i), rim(i + 1), [height, 0, 0]],
    [rim(i + 1), rim(i), [0, 0, 0]],
  ]).flat();
}

export const turned = ([a, b, c]: Triangle): Triangle => [a, c, b];

export function binaryStl(triangles: readonly Triangle[], scale = 1): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * triangles.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, triangles.length, true);
  triangles.forEach((corners, t) => {
    corners.flat().forEach((x, i) => {
      view.setFloat32(84 + 50 * t + 12 + 4 * i, x * scale, true);
    });
  });
  return bytes;
}

export function textStl(triangles: readonly Triangle[], digits = 7): Uint8Array {
  const facets = triangles.map(
    (corners) =>
      `  facet normal 0 0 0\n    outer loop\n${corners.map((c) => `      vertex ${c.map((x) => x.toPrecision(digits)).join(" ")}`).join("\n")}\n    endloop\n  endfacet`,
  );
  return new TextEncoder().encode(`solid test\n${facets.join("\n")}\nendsolid test\n`);
}

/**
 * A solid whose sections are ellipses, x along: full sides where it is fullest, and the share of them at a share of the
 * length. Ends that are no points are closed by a face.
 */
export function ofEllipses(
  long: number,
  wide: number,
  high: number,
  share: (t: number) => number,
  n = 96,
): Triangle[] {
  const places = Array.from({ length: n + 1 }, (_, j) => (1 - Math.cos((Math.PI * j) / n)) / 2);
  const ring = (t: number, i: number): Corner => {
    const angle = (2 * Math.PI * (i % n)) / n;
    const s = share(t);
    return [long * t, (wide / 2) * s * Math.cos(angle), (high / 2) * s * Math.sin(angle)];
  };
  const triangles: Triangle[] = [];
  const isPoint = (t: number) => !(share(t) > 1e-9);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [from, to] = [places[j]!, places[j + 1]!];
      const [a, b, c, d] = [ring(from, i), ring(from, i + 1), ring(to, i + 1), ring(to, i)];
      if (!isPoint(from)) triangles.push([a, b, c]);
      if (!isPoint(to)) triangles.push([a, c, d]);
    }
    if (!isPoint(0)) triangles.push([ring(0, i + 1), ring(0, i), [0, 0, 0]]);
    if (!isPoint(1)) triangles.push([ring(1, i), ring(1, i + 1), [long, 0, 0]]);
  }
  return triangles;
}
