/** What can be measured of one closed outline of straight edges. Lengths m; the last point is joined to the first. */
import polylabel from "polylabel";
import type { Point, Ring } from "./outline.ts";

/** Area and its moments about the centroid. */
interface Measures {
  /** m2, whichever way the outline runs. */
  readonly area: number;
  readonly centroid: Point;
  /** Integral of (x - centroid)^2, m4. */
  readonly alongX: number;
  /** Integral of (y - centroid)^2, m4. */
  readonly alongY: number;
}

/**
 * Area, centroid and second moments of a polygon.
 *
 * @param points at least three, m
 * @example measuresOf([[0, 0], [2, 0], [2, 1], [0, 1]]).alongX // 0.6667
 * @source Steger, On the calculation of arbitrary moments of polygons, TU Munich FGBV-96-05, 1996
 */
export function measuresOf(points: readonly Point[]): Measures {
  const [x0, y0] = points[0];
  let [area, mx, my, xx, yy] = [0, 0, 0, 0, 0];
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [ax, ay] = [points[j][0] - x0, points[j][1] - y0];
    const [bx, by] = [points[i][0] - x0, points[i][1] - y0];
    const cross = ax * by - bx * ay;
    area += cross / 2;
    mx += (cross * (ax + bx)) / 6;
    my += (cross * (ay + by)) / 6;
    xx += (cross * (ax * ax + ax * bx + bx * bx)) / 12;
    yy += (cross * (ay * ay + ay * by + by * by)) / 12;
  }
  const [cx, cy] = area === 0 ? [0, 0] : [mx / area, my / area];
  return {
    area: Math.abs(area),
    centroid: [x0 + cx, y0 + cy],
    alongX: Math.abs(xx - area * cx * cx),
    alongY: Math.abs(yy - area * cy * cy),
  };
}

/** Length of the edge, m. */
export function perimeterOf(points: readonly Point[]): number {
  let sum = 0;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++)
    sum += Math.hypot(points[i][0] - points[j][0], points[i][1] - points[j][1]);
  return sum;
}

/** Left, right, bottom and top of a polygon. */
export function extentOf(points: readonly Point[]) {
  let [left, right, bottom, top] = [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const [x, y] of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    bottom = Math.min(bottom, y);
    top = Math.max(top, y);
  }
  return { left, right, bottom, top };
}

/**
 * The largest circle that fits into an outline: its diameter is how thick the body is there.
 *
 * @returns center and radius, m, the radius to a thousandth of the thinner side
 * @example largestCircle([[0, 0], [4, 0], [4, 1], [0, 1]]).radius // 0.500
 */
export function largestCircle(
  points: readonly Point[],
  holes: readonly (readonly Point[])[] = [],
): { readonly center: Point; readonly radius: number } {
  const { left, right, bottom, top } = extentOf(points);
  const scale = Math.max(right - left, top - bottom);
  // in shares of the size, so that no length is too small to be told apart
  const ring = (outline: readonly Point[]) =>
    outline.map(([x, y]): [number, number] => [(x - left) / scale, (y - bottom) / scale]);
  const thin = Math.min(right - left, top - bottom) / scale;
  const pole = polylabel([ring(points), ...holes.map(ring)], Math.max(thin * 5e-4, 1e-7));
  return {
    center: [left + pole[0] * scale, bottom + pole[1] * scale],
    radius: pole.distance * scale,
  };
}

/** The outline with this many corners, evenly spread along its edge from its rightmost point on, counterclockwise. */
export function evenlySpread(points: readonly Point[], count: number): Point[] {
  let twice = 0;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++)
    twice += points[j][0] * points[i][1] - points[i][0] * points[j][1];
  const ring = twice < 0 ? [...points].reverse() : [...points];
  const first = ring.reduce((best, p, i) => (p[0] > ring[best][0] ? i : best), 0);
  const turned = [...ring.slice(first), ...ring.slice(0, first), ring[first]];
  const step = perimeterOf(points) / count;
  const spread: Point[] = [];
  let [done, edge] = [0, 0];
  for (let k = 0; k < count; k++) {
    const want = k * step;
    let long = lengthOf(turned[edge], turned[edge + 1]);
    while (done + long < want && edge < turned.length - 2) {
      done += long;
      edge++;
      long = lengthOf(turned[edge], turned[edge + 1]);
    }
    const s = long > 0 ? Math.min(1, (want - done) / long) : 0;
    const [a, b] = [turned[edge], turned[edge + 1]];
    spread.push([a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1])]);
  }
  return spread;
}

function lengthOf(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** How far a place is from the nearest edge, m: of any of some rings of corners x0, y0, x1, y1 ... */
export function distanceToEdge(rings: readonly Ring[], [x, y]: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [ax, ay] = [ring[j], ring[j + 1]];
      const [bx, by] = [ring[i] - ax, ring[i + 1] - ay];
      const long = bx * bx + by * by;
      const along = long > 0 ? ((x - ax) * bx + (y - ay) * by) / long : 0;
      const on = Math.min(1, Math.max(0, along));
      least = Math.min(least, Math.hypot(x - ax - on * bx, y - ay - on * by));
    }
  return least;
}
