/** Outlines that enclose no area, or cross themselves: found before anything is cut from them. */
import type { Point } from "./outline.ts";
import { extentOf, measuresOf } from "./polygon.ts";

interface OutlineFault {
  readonly code: "outline_without_area" | "outline_crosses";
  /** Where two edges meet; of an outline without area, its first point. */
  readonly at: Point;
  /** The edges, counted from 0 by their first corners. */
  readonly edges: readonly number[];
}

/** Smaller than this share of its own box an outline is a line that was drawn back and forth. */
const LEAST_AREA = 1e-6;

/** The outline without corners that repeat the one before them. */
function withoutRepeats(points: readonly Point[]): Point[] {
  return points.filter(([x, y], i) => {
    const [u, v] = points[(i + points.length - 1) % points.length];
    return points.length === 1 || x !== u || y !== v;
  });
}

/**
 * What is wrong with an outline; null when nothing is.
 *
 * @param points corners in order, m; the last is joined to the first
 * @example outlineFault([[0, 0], [1, 1], [1, 0], [0, 1]])?.code // "outline_crosses"
 * @example outlineFault([[0, 0], [1, 0], [0, 1]]) // null
 */
export function outlineFault(points: readonly Point[]): OutlineFault | null {
  const clean = withoutRepeats(points);
  const { left, right, bottom, top } = extentOf(points);
  const long = Math.max(right - left, top - bottom);
  if (clean.length < 3 || !(Math.min(right - left, top - bottom) > LEAST_AREA * long))
    return { code: "outline_without_area", at: points[0], edges: [] };
  const crossing = firstCrossing(points);
  if (crossing) return crossing;
  return measuresOf(clean).area > LEAST_AREA * long * long
    ? null
    : { code: "outline_without_area", at: points[0], edges: [] };
}

/** Edges from left to right, so that only those that overlap along x are compared. */
function firstCrossing(points: readonly Point[]): OutlineFault | null {
  const n = points.length;
  const edges = points
    .map((a, i) => {
      const b = points[(i + 1) % n];
      return { a, b, i, from: Math.min(a[0], b[0]), to: Math.max(a[0], b[0]) };
    })
    .filter(({ a, b }) => a[0] !== b[0] || a[1] !== b[1]);
  const order = edges.map((edge, k) => ({ ...edge, k })).sort((p, q) => p.from - q.from);
  for (let p = 0; p < order.length; p++)
    for (let q = p + 1; q < order.length && order[q].from <= order[p].to; q++) {
      const apart = Math.abs(order[p].k - order[q].k);
      const neighbors = apart === 1 || apart === edges.length - 1;
      const at = neighbors ? foldedBack(order[p], order[q]) : meeting(order[p], order[q]);
      if (at) return { code: "outline_crosses", at, edges: [order[p].i, order[q].i].sort(numeric) };
    }
  return null;
}

const numeric = (a: number, b: number) => a - b;

interface Edge {
  readonly a: Point;
  readonly b: Point;
}

/** Twice the area of the triangle a, b, c. */
function turn(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** Where two edges that are no neighbors touch or cross. */
function meeting(p: Edge, q: Edge): Point | null {
  const [c, d] = [turn(p.a, p.b, q.a), turn(p.a, p.b, q.b)];
  const [e, f] = [turn(q.a, q.b, p.a), turn(q.a, q.b, p.b)];
  if (c * d > 0 || e * f > 0) return null;
  if (c === 0 && d === 0) {
    // on one line: they share a stretch, or none
    const onto = (point: Point) =>
      Math.min(p.a[0], p.b[0]) <= point[0] &&
      point[0] <= Math.max(p.a[0], p.b[0]) &&
      Math.min(p.a[1], p.b[1]) <= point[1] &&
      point[1] <= Math.max(p.a[1], p.b[1]);
    return onto(q.a) ? q.a : onto(q.b) ? q.b : null;
  }
  const s = c / (c - d);
  return [q.a[0] + s * (q.b[0] - q.a[0]), q.a[1] + s * (q.b[1] - q.a[1])];
}

/** Neighbors meet in their corner always; they share more when the second runs back over the first. */
function foldedBack(p: Edge, q: Edge): Point | null {
  const [first, second] = p.b[0] === q.a[0] && p.b[1] === q.a[1] ? [p, q] : [q, p];
  if (turn(first.a, first.b, second.b) !== 0) return null;
  const along =
    (first.b[0] - first.a[0]) * (second.b[0] - second.a[0]) +
    (first.b[1] - first.a[1]) * (second.b[1] - second.a[1]);
  return along < 0 ? first.b : null;
}
