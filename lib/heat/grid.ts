/**
 * The grid that every frame is solved on: rows and columns of boxes. A 1-D frame is a grid with one row.
 *
 * Along x a face has the area ax[i] ly[j], along y the area vx[i]; a box has the volume vx[i] ly[j]:
 * slab and section 1, dx, dy; cylinder 2 pi r per m of length; sphere 4 pi r2; round 2 pi r.
 *
 * Regions are numbered: layers in order, or the block 0 and shape s as s + 1.
 */

import polygonClipping from "polygon-clipping";
import { kept } from "../numerics/memoized.ts";
import { coveredAreas } from "../shape/clip.ts";
import { halved } from "../shape/lines.ts";
import { type Ring, ringsOf } from "../shape/outline.ts";
import { type Scan, scanLine } from "../shape/scan.ts";
import { meshLines, steepSides } from "./mesh.ts";
import type { Frame, HeatProblem, Side } from "./problem.ts";

/** A stretch between two box centers (or a center and an outer face) that lies in one region. */
export interface Part {
  readonly region: number;
  /** Integral of dx / face area, 1/m: over k it is the resistance in K/W. */
  readonly shape: number;
  /** Box whose temperature its conductivity is taken at: 0 the first, 1 the second. */
  readonly end: 0 | 1;
}

/** The way from one box to the next (or to the outer face, `b` = -1) when it isn't plain. */
export interface Link {
  readonly a: number;
  readonly b: number;
  readonly axis: 0 | 1;
  readonly side?: Side;
  readonly parts: readonly Part[];
  /** Between part i and i + 1: true area of the interface for this link, m2; 0 where the region stays. */
  readonly joints: readonly number[];
  /** Where along the axis part i ends and i + 1 begins, m. */
  readonly places: readonly number[];
  /** Area of the face, m2. */
  readonly area: number;
}

export interface Grid {
  readonly frame: Frame;
  readonly nx: number;
  readonly ny: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly xc: Float64Array;
  readonly yc: Float64Array;
  readonly ax: Float64Array;
  readonly vx: Float64Array;
  readonly ly: Float64Array;
  /** Half resistances along x over k and times ly: center to the right face, left face to center. */
  readonly toRight: Float64Array;
  readonly toLeft: Float64Array;
  readonly regions: readonly string[];
  /** The field goes on evenly beyond the left or bottom face (a mirror, or the axis of a round body). */
  readonly evenX: boolean;
  readonly evenY: boolean;
  /** Region of the box, or -1 - m for mixture m. */
  readonly content: Int32Array;
  /** Region of the box's center. */
  readonly center: Int16Array;
  readonly mixStart: Int32Array;
  readonly mixBox: Int32Array;
  readonly mixRegion: Int32Array;
  readonly mixShare: Float64Array;
  readonly links: readonly Link[];
  readonly faces: readonly Link[];
}

const TAU = 2 * Math.PI;

/** Integral of dx over the face area along x, from p to q. */
function shapeAlongX(frame: Frame, p: number, q: number): number {
  if (frame === "slab" || frame === "section") return q - p;
  if (frame === "sphere") return (1 / p - 1 / q) / (2 * TAU);
  return Math.log(q / p) / TAU;
}

function faceArea(frame: Frame, x: number): number {
  if (frame === "slab" || frame === "section") return 1;
  return frame === "sphere" ? 2 * TAU * x * x : TAU * x;
}

function boxVolume(frame: Frame, p: number, q: number): number {
  if (frame === "slab" || frame === "section") return q - p;
  if (frame === "sphere") return ((2 * TAU) / 3) * (q ** 3 - p ** 3);
  return (TAU / 2) * (q * q - p * p);
}

interface Laid {
  readonly lines: { readonly x: Float64Array; readonly y: Float64Array };
  /** How often the boxes of the lines were halved. */
  readonly halvings: Map<number, Grid>;
}

/** Grids by all that they depend on: nothing writes into one, and a range asks for the same one in most corners. */
const laid = new Map<string, Laid>();
const MOST_LAID = 16;
const MOST_BOXES_KEPT = 6000;

/** The coarse grid of a problem and, with `finer`, the same with every box cut in four (1-D: in two). */
export function makeGrid(problem: HeatProblem, finer: number): Grid {
  const { frame, resolution, mirrors, block, layers, shapes } = problem;
  const key = JSON.stringify([
    frame,
    resolution,
    mirrors,
    steepSides(problem),
    block && [block.width, block.height],
    layers?.map(({ name, thickness }) => [name, thickness]),
    shapes?.map(({ name, outline }) => [name, outline]),
  ]);
  const { lines, halvings } = kept(laid, key, MOST_LAID, () => ({
    lines: meshLines(problem),
    halvings: new Map<number, Grid>(),
  }));
  const known = halvings.get(finer);
  if (known !== undefined) return known;
  let { x, y } = lines;
  for (let k = 0; k < finer; k++) {
    x = halved(x);
    if (problem.block) y = halved(y);
  }
  const made = cut(problem, x, y);
  if (made.nx * made.ny <= MOST_BOXES_KEPT) halvings.set(finer, made);
  return made;
}

function cut(problem: HeatProblem, x: Float64Array, y: Float64Array): Grid {
  const { frame } = problem;
  const nx = x.length - 1;
  const ny = y.length - 1;
  const centers = (f: Float64Array) => {
    const middle = new Float64Array(f.length - 1);
    for (let i = 0; i < middle.length; i++) middle[i] = 0.5 * (f[i] + f[i + 1]);
    return middle;
  };
  const xc = centers(x);
  const yc = centers(y);
  const ax = x.map((v) => faceArea(frame, v));
  const vx = xc.map((_, i) => boxVolume(frame, x[i], x[i + 1]));
  const ly = yc.map((_, j) => y[j + 1] - y[j]);
  const toRight = xc.map((c, i) => shapeAlongX(frame, c, x[i + 1]));
  const toLeft = xc.map((c, i) => (x[i] > 0 || ax[i] === 1 ? shapeAlongX(frame, x[i], c) : 0));
  const shapes = (problem.shapes ?? []).map((s) => ringsOf(s.outline));
  const rows: Scan[] = [];
  const columns: Scan[] = [];
  if (problem.block) {
    for (let j = 0; j < ny; j++) rows.push(scanLine(shapes, 0, yc[j], x[0], x[nx]));
    for (let i = 0; i < nx; i++) columns.push(scanLine(shapes, 1, xc[i], y[0], y[ny]));
  } else rows.push(layerScan(problem));
  const grid = { frame, nx, ny, x, y, xc, yc, ax, vx, ly, toRight, toLeft };
  const regions = problem.block
    ? ["block", ...(problem.shapes ?? []).map((s) => s.name)]
    : (problem.layers ?? []).map((l) => l.name);
  const content = contentOf(grid, regions.length, shapes, rows);
  const links: Link[] = [];
  const faces: Link[] = [];
  const lineX = {
    n: nx,
    faces: x,
    centers: xc,
    shape: (p: number, q: number, j: number) => shapeAlongX(frame, p, q) / ly[j],
    area: (p: number, j: number) => faceArea(frame, p) * ly[j],
  };
  for (let j = 0; j < ny; j++)
    walk(rows[j], lineX, j, 0, (i) => j * nx + i, content.content, links, faces);
  if (problem.block) {
    const lineY = {
      n: ny,
      faces: y,
      centers: yc,
      shape: (p: number, q: number, i: number) => (q - p) / vx[i],
      area: (_: number, i: number) => vx[i],
    };
    for (let i = 0; i < nx; i++)
      walk(columns[i], lineY, i, 1, (j) => j * nx + i, content.content, links, faces);
  }
  const evenX = ax[0] === 0 || problem.mirrors?.includes("left") === true;
  const evenY = problem.mirrors?.includes("bottom") === true;
  return { ...grid, regions, evenX, evenY, ...content, links, faces };
}

function layerScan(problem: HeatProblem): Scan {
  const layers = problem.layers ?? [];
  const at = [0];
  for (const layer of layers) at.push(at[at.length - 1] + layer.thickness);
  return { at, region: layers.map((_, i) => i), normal: layers.slice(1).map(() => 1) };
}

interface Line {
  readonly n: number;
  readonly faces: Float64Array;
  readonly centers: Float64Array;
  shape(p: number, q: number, across: number): number;
  area(p: number, across: number): number;
}

/** Follows one row or column from face to face and notes every way that isn't through a single region. */
function walk(
  scan: Scan,
  line: Line,
  across: number,
  axis: 0 | 1,
  box: (k: number) => number,
  content: Int32Array,
  links: Link[],
  faces: Link[],
): void {
  const { n } = line;
  let first = 0; // stretch that holds the start of the current way
  const way = (from: number, to: number, split: number): [Part[], number[], number[]] => {
    const parts: Part[] = [];
    const joints: number[] = [];
    const places: number[] = [];
    while (first < scan.region.length - 1 && scan.at[first + 1] <= from) first++;
    let p = from;
    for (let k = first; k < scan.region.length && p < to; k++) {
      const end = Math.min(scan.at[k + 1], to);
      const region = scan.region[k];
      if (p < split && end > split) {
        parts.push({ region, shape: line.shape(p, split, across), end: 0 });
        joints.push(0);
        places.push(split);
        parts.push({ region, shape: line.shape(split, end, across), end: 1 });
      } else parts.push({ region, shape: line.shape(p, end, across), end: end <= split ? 0 : 1 });
      if (end < to) {
        joints.push(line.area(end, across) * scan.normal[k]);
        places.push(end);
      }
      p = end;
    }
    return [parts, joints, places];
  };
  const side = (last: boolean): Side =>
    axis === 0 ? (last ? "right" : "left") : last ? "top" : "bottom";
  const atStart = line.area(line.faces[0], across);
  if (atStart > 0) {
    const [parts, joints, places] = way(line.faces[0], line.centers[0], line.centers[0]);
    parts.reverse();
    joints.reverse();
    places.reverse();
    const flipped = parts.map((p): Part => ({ ...p, end: 0 }));
    faces.push({
      a: box(0),
      b: -1,
      axis,
      side: side(false),
      parts: flipped,
      joints,
      places,
      area: atStart,
    });
  }
  for (let k = 0; k + 1 < n; k++) {
    const a = box(k);
    const b = box(k + 1);
    if (content[a] >= 0 && content[a] === content[b]) continue;
    const face = line.faces[k + 1];
    const [parts, joints, places] = way(line.centers[k], line.centers[k + 1], face);
    links.push({ a, b, axis, parts, joints, places, area: line.area(face, across) });
  }
  const [parts, joints, places] = way(line.centers[n - 1], line.faces[n], line.faces[n]);
  const area = line.area(line.faces[n], across);
  faces.push({ a: box(n - 1), b: -1, axis, side: side(true), parts, joints, places, area });
}

type Content = Pick<Grid, "content" | "center" | "mixStart" | "mixBox" | "mixRegion" | "mixShare">;

/** Which share of each box every region fills, by true area (round: by true volume). */
function contentOf(
  grid: Pick<Grid, "frame" | "nx" | "ny" | "x" | "y" | "xc">,
  regionCount: number,
  shapes: readonly (readonly Ring[])[],
  rows: readonly Scan[],
): Content {
  const { nx, ny, x, y, xc, frame } = grid;
  const n = nx * ny;
  const content = new Int32Array(n);
  const center = new Int16Array(n);
  for (let j = 0; j < ny; j++) {
    const scan = rows[j];
    for (let i = 0, k = 0; i < nx; i++) {
      while (k < scan.region.length - 1 && scan.at[k + 1] < xc[i]) k++;
      center[j * nx + i] = scan.region[k];
    }
  }
  content.set(center);
  const mixStart = [0];
  const mixBox: number[] = [];
  const mixRegion: number[] = [];
  const mixShare: number[] = [];
  if (shapes.length > 0) {
    const shares = visible(shapes).map((rings) => {
      const { area, moment } = coveredAreas(rings, x, y);
      return area.map((a, at) => {
        const i = at % nx;
        const j = (at - i) / nx;
        const whole = (x[i + 1] - x[i]) * (y[j + 1] - y[j]);
        return frame === "round" ? moment[at] / (whole * xc[i]) : a / whole;
      });
    });
    for (let at = 0; at < n; at++) {
      const here: [number, number][] = [];
      let covered = 0;
      for (let s = 0; s < shares.length; s++) {
        const share = shares[s][at];
        if (share > 1e-7) {
          here.push([s + 1, share]);
          covered += share;
        }
      }
      if (covered < 1 - 1e-7) here.unshift([0, 1 - covered]);
      if (here.length === 1) {
        content[at] = here[0][0];
        center[at] = here[0][0];
        continue;
      }
      const total = here.reduce((sum, [, share]) => sum + share, 0);
      content[at] = -mixStart.length;
      for (const [region, share] of here) {
        mixRegion.push(region);
        mixShare.push(share / total);
      }
      mixBox.push(at);
      mixStart.push(mixRegion.length);
    }
  } else if (regionCount === 0) content.fill(0);
  return {
    content,
    center,
    mixStart: Int32Array.from(mixStart),
    mixBox: Int32Array.from(mixBox),
    mixRegion: Int32Array.from(mixRegion),
    mixShare: Float64Array.from(mixShare),
  };
}

/** What of each shape isn't covered by a later one. */
function visible(shapes: readonly (readonly Ring[])[]): readonly (readonly Ring[])[] {
  if (shapes.length < 2) return shapes;
  const pairs = (ring: Ring) =>
    Array.from({ length: ring.length / 2 }, (_, i): [number, number] => [
      ring[2 * i],
      ring[2 * i + 1],
    ]);
  const polygons = shapes.map((rings): [number, number][][] => rings.map(pairs));
  return shapes.map((rings, s) => {
    const later = polygons.slice(s + 1);
    if (later.length === 0) return rings;
    const left = polygonClipping.difference([polygons[s]], ...later.map((p) => [p]));
    return left.flatMap((polygon) =>
      polygon.map((ring, hole) => {
        const points = ring.slice(0, -1);
        const turned = Float64Array.from(points.flat());
        // the library promises outer rings counterclockwise; make sure
        const positive = signed(turned) > 0;
        return positive === (hole === 0) ? turned : Float64Array.from(points.reverse().flat());
      }),
    );
  });
}

function signed(ring: Ring): number {
  let sum = 0;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
    sum += ring[j] * ring[i + 1] - ring[i] * ring[j + 1];
  return sum;
}
