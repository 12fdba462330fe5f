/**
 * The grid that every frame is solved on: rows and columns of cells. A 1-D frame is a grid with one row.
 *
 * Along x a face has the area ax[i] ly[j], along y the area vx[i]; a cell has the volume vx[i] ly[j]:
 * slab and section 1, dx, dy; cylinder 2 pi r per m of length; sphere 4 pi r2; round 2 pi r.
 *
 * Regions are numbered: layers in order, or the block 0 and shape s as s + 1.
 */

import { memoized } from "../numerics/memoized.ts";
import { doubles, vectorsOf } from "../numerics/typed-lists.ts";
import { halved, TooManyLines } from "../shape/lines.ts";
import { type Ring, ringsOf } from "../shape/outline.ts";
import { type Scan, scanLine } from "../shape/scan.ts";
import { allowCells } from "./budget.ts";
import { contentOf } from "./grid-content.ts";
import { facesOf, type Line, type Link, linksAlong } from "./grid-links.ts";
import type { Grid } from "./grid-type.ts";
import { activeShapes, evenParts, meshLines, steepSides } from "./mesh.ts";
import type { Frame, HeatProblem } from "./problem.ts";

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

function cellVolume(frame: Frame, p: number, q: number): number {
  if (frame === "slab" || frame === "section") return q - p;
  if (frame === "sphere") return ((2 * TAU) / 3) * (q ** 3 - p ** 3);
  return (TAU / 2) * (q * q - p * p);
}

interface Laid {
  /** Of each shape's outline. */
  readonly rings: readonly (readonly Ring[])[];
  readonly lines: { readonly x: Float64Array; readonly y: Float64Array };
  /** How often the cells of the lines were halved. */
  readonly halvings: Map<number, Grid>;
}

/**
 * Grids by all that they depend on: nothing writes into one, and a range asks for the same one in most corners. Sections by
 * themselves: the layers of a search, each of another thickness, would crowd them out.
 */
const laid = { rows: new Map<string, Laid>(), sections: new Map<string, Laid>() };
const MOST_LAID = 16;
const MOST_CELLS_KEPT = 6000;

/**
 * The coarse grid of a problem and, with `finer`, the same with every cell cut in four (1-D: in two), so many times.
 *
 * @throws InputError when the finer of the first two has more cells than the problem allows
 */
export function makeGrids(problem: HeatProblem): (finer: number) => Grid {
  const { frame, resolution, mirrors, block, layers, shapes } = problem;
  const key = JSON.stringify([
    frame,
    resolution,
    mirrors,
    steepSides(problem),
    activeShapes(problem),
    evenParts(problem),
    block && [block.width, block.height],
    layers?.map(({ name, thickness }) => [name, thickness]),
    shapes?.map(({ name, outline }) => [name, outline]),
  ]);
  const { rings, lines, halvings } = memoized(
    block ? laid.sections : laid.rows,
    key,
    MOST_LAID,
    () => layOut(problem),
  );
  const cells = (lines.x.length - 1) * (lines.y.length - 1);
  allowCells(problem, cells * (block ? 4 : 2));
  return (finer) => {
    const known = halvings.get(finer);
    if (known !== undefined) return known;
    let { x, y } = lines;
    for (let k = 0; k < finer; k++) {
      x = halved(x);
      if (block) y = halved(y);
    }
    const made = cut(problem, rings, x, y);
    if (made.nx * made.ny <= MOST_CELLS_KEPT) halvings.set(finer, made);
    return made;
  };
}

function layOut(problem: HeatProblem): Laid {
  const rings = (problem.shapes ?? []).map(({ outline }) => ringsOf(outline));
  return { rings, lines: linesOf(problem, rings), halvings: new Map() };
}

function linesOf(problem: HeatProblem, rings: Laid["rings"]): Laid["lines"] {
  try {
    return meshLines(problem, rings);
  } catch (error) {
    // so many lines along one axis alone
    if (error instanceof TooManyLines) allowCells({ ...problem, mostCells: 0 }, error.count);
    throw error;
  }
}

function cut(problem: HeatProblem, shapes: Laid["rings"], x: Float64Array, y: Float64Array): Grid {
  const { frame } = problem;
  const nx = x.length - 1;
  const ny = y.length - 1;
  const [xc, vx, toRight, toLeft] = vectorsOf(4, nx);
  const [yc, ly] = vectorsOf(2, ny);
  const ax = doubles(nx + 1);
  for (let i = 0; i <= nx; i++) ax[i] = faceArea(frame, x[i]);
  for (let i = 0; i < nx; i++) {
    const center = 0.5 * (x[i] + x[i + 1]);
    xc[i] = center;
    vx[i] = cellVolume(frame, x[i], x[i + 1]);
    toRight[i] = shapeAlongX(frame, center, x[i + 1]);
    toLeft[i] = x[i] > 0 || ax[i] === 1 ? shapeAlongX(frame, x[i], center) : 0;
  }
  for (let j = 0; j < ny; j++) {
    yc[j] = 0.5 * (y[j] + y[j + 1]);
    ly[j] = y[j + 1] - y[j];
  }
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
  const { links, faces } = connected(grid, content.content, rows, columns);
  const evenX = ax[0] === 0 || problem.mirrors?.includes("left") === true;
  const evenY = problem.mirrors?.includes("bottom") === true;
  const regionAt = (px: number, py: number) => {
    const { at, region } = problem.block ? scanLine(shapes, 0, py, x[0], x[nx]) : rows[0];
    let k = 0;
    while (k < region.length - 1 && at[k + 1] < px) k++;
    return region[k];
  };
  const { center, mixStart, mixCell, mixRegion, mixShare } = content;
  // one by one: of a grid of one row, spreading both objects would take as long as all the rest
  return {
    frame,
    nx,
    ny,
    x,
    y,
    xc,
    yc,
    ax,
    vx,
    ly,
    toRight,
    toLeft,
    regions,
    evenX,
    evenY,
    content: content.content,
    center,
    mixStart,
    mixCell,
    mixRegion,
    mixShare,
    regionAt,
    links,
    faces,
  };
}

/** What grids have before their cells are connected. */
type Cells = Pick<Grid, "frame" | "nx" | "ny" | "x" | "y" | "xc" | "yc" | "vx" | "ly">;

/** The links that cross interfaces, and the faces toward the surroundings, row by row and column by column. */
function connected(
  { frame, nx, ny, x, y, xc, yc, vx, ly }: Cells,
  content: Int32Array,
  rows: readonly Scan[],
  columns: readonly Scan[],
): { links: Link[]; faces: Link[] } {
  const links: Link[] = [];
  const faces: Link[] = [];
  for (let j = 0; j < ny; j++) {
    const line: Line = {
      scan: rows[j],
      axis: 0,
      n: nx,
      faces: x,
      centers: xc,
      first: j * nx,
      stride: 1,
      shape: (p, q) => shapeAlongX(frame, p, q) / ly[j],
      area: (p) => faceArea(frame, p) * ly[j],
    };
    linksAlong(line, content, links);
    facesOf(line, faces);
  }
  for (let i = 0; i < columns.length; i++) {
    const line: Line = {
      scan: columns[i],
      axis: 1,
      n: ny,
      faces: y,
      centers: yc,
      first: i,
      stride: nx,
      shape: (p, q) => (q - p) / vx[i],
      area: () => vx[i],
    };
    linksAlong(line, content, links);
    facesOf(line, faces);
  }
  return { links, faces };
}

function layerScan(problem: HeatProblem): Scan {
  const layers = problem.layers ?? [];
  const at = [0];
  for (const layer of layers) at.push(at[at.length - 1] + layer.thickness);
  return { at, region: layers.map((_, i) => i), normal: layers.slice(1).map(() => 1) };
}
