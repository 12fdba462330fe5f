/** The paths between cell centers that cross interfaces, and those from the outer cells to the outer faces. */
import type { Scan } from "../shape/scan.ts";
import type { Side } from "./problem.ts";

/** A stretch between two cell centers (or a center and an outer face) that lies in one region. */
interface Part {
  readonly region: number;
  /** Integral of dx / face area, 1/m: over k it is the resistance in K/W. */
  readonly shape: number;
  /** Cell whose temperature its conductivity is taken at: 0 the first, 1 the second. */
  readonly end: 0 | 1;
}

/** The path from one cell center to the next (or to the outer face, `b` = -1) where it isn't within one region. */
export interface Link {
  readonly a: number;
  readonly b: number;
  readonly axis: 0 | 1;
  readonly side?: Side;
  readonly parts: readonly Part[];
  /** Between part i and i + 1: true area of the interface for this link, m2; 0 where the region stays. */
  readonly interfaces: readonly number[];
  /** Where along the axis part i ends and i + 1 begins, m. */
  readonly places: readonly number[];
  /** Area of the face, m2. */
  readonly area: number;
}

/** One row or column of the grid. */
export interface Line {
  readonly scan: Scan;
  readonly axis: 0 | 1;
  readonly n: number;
  readonly faces: Float64Array;
  readonly centers: Float64Array;
  /** Its first cell, and from each of its cells to the next. */
  readonly first: number;
  readonly stride: number;
  /** Integral of dx over the face area from p to q, 1/m. */
  shape(p: number, q: number): number;
  /** Area of a face across the line, m2. */
  area(p: number): number;
}

type Path = Pick<Link, "parts" | "interfaces" | "places">;

const NOTHING: readonly number[] = [];

/** What lies between two places of a line; the parts after `split` belong to the second cell. */
function pathBetween(line: Line, from: number, to: number, split: number): Path {
  const { scan } = line;
  let k = stretchAt(scan, from);
  // in one region and one cell, like nearly all at the sides
  if (to <= scan.at[k + 1] && (from >= split || to <= split)) {
    const end = to <= split ? 0 : 1;
    const part: Part = { region: scan.region[k], shape: line.shape(from, to), end };
    return { parts: [part], interfaces: NOTHING, places: NOTHING };
  }
  const parts: Part[] = [];
  const interfaces: number[] = [];
  const places: number[] = [];
  for (let p = from; k < scan.region.length && p < to; k++) {
    const end = Math.min(scan.at[k + 1], to);
    const region = scan.region[k];
    if (p < split && end > split) {
      parts.push({ region, shape: line.shape(p, split), end: 0 });
      interfaces.push(0);
      places.push(split);
      parts.push({ region, shape: line.shape(split, end), end: 1 });
    } else parts.push({ region, shape: line.shape(p, end), end: end <= split ? 0 : 1 });
    if (end < to) {
      interfaces.push(line.area(end) * scan.normal[k]);
      places.push(end);
    }
    p = end;
  }
  return { parts, interfaces, places };
}

/** The stretch of a scan that holds a place, or begins there. */
function stretchAt({ at, region }: Scan, place: number): number {
  let low = 0;
  let high = region.length - 1;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (at[mid + 1] <= place) low = mid + 1;
    else high = mid;
  }
  return low;
}

/** Adds the links of a line: from cell to cell wherever the two aren't full of one region. */
export function linksAlong(line: Line, content: Int32Array, links: Link[]): void {
  const { n, centers, axis, first, stride } = line;
  for (let k = 0, a = first; k + 1 < n; k++, a += stride) {
    const b = a + stride;
    if (content[a] >= 0 && content[a] === content[b]) continue;
    const face = line.faces[k + 1];
    const { parts, interfaces, places } = pathBetween(line, centers[k], centers[k + 1], face);
    links.push({ a, b, axis, parts, interfaces, places, area: line.area(face) });
  }
}

/** Adds what leads from the outer cells of a line to its two outer faces; an axis is none. */
export function facesOf(line: Line, found: Link[]): void {
  const { n, faces, centers, axis, first, stride } = line;
  const atStart = line.area(faces[0]);
  if (atStart > 0) {
    const { parts, interfaces, places } = pathBetween(line, faces[0], centers[0], centers[0]);
    found.push({
      a: first,
      b: -1,
      axis,
      side: axis === 0 ? "left" : "bottom",
      parts: parts.length > 1 ? [...parts].reverse() : parts,
      interfaces: parts.length > 1 ? [...interfaces].reverse() : interfaces,
      places: parts.length > 1 ? [...places].reverse() : places,
      area: atStart,
    });
  }
  const { parts, interfaces, places } = pathBetween(line, centers[n - 1], faces[n], faces[n]);
  found.push({
    a: first + (n - 1) * stride,
    b: -1,
    axis,
    side: axis === 0 ? "right" : "top",
    parts,
    interfaces,
    places,
    area: line.area(faces[n]),
  });
}
