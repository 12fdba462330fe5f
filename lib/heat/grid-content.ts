/** What each cell of a grid holds: one region, or shares of several. */

import polygonClipping from "polygon-clipping";
import { integers } from "../numerics/typed-lists.ts";
import { type CoveredShare, coveredAreas } from "../shape/clip.ts";
import { type Box, boxOf, type Ring } from "../shape/outline.ts";
import type { Scan } from "../shape/scan.ts";
import type { Grid } from "./grid-type.ts";

/**
 * Place of a region's cure among those of all cells: the first region of a cell stands at the cell's own number, further
 * regions of cut cells after all cells. -1 where the cell holds nothing of the region.
 */
export function cureEntry(grid: Grid, cell: number, region: number): number {
  const content = grid.content[cell];
  if (content >= 0) return content === region ? cell : -1;
  const m = -1 - content;
  for (let k = grid.mixStart[m]; k < grid.mixStart[m + 1]; k++)
    if (grid.mixRegion[k] === region)
      return k === grid.mixStart[m] ? cell : grid.content.length + k - m - 1;
  return -1;
}

/** How many regions all cells hold together. */
export const cureEntries = (grid: Grid): number =>
  grid.content.length + grid.mixRegion.length - grid.mixCell.length;

type Content = Pick<Grid, "content" | "center" | "mixStart" | "mixCell" | "mixRegion" | "mixShare">;

/** Smaller shares of a cell are left out. */
const LEAST_SHARE = 1e-7;

/** Which share of each cell every region fills, by true area (round: by true volume). */
export function contentOf(
  grid: Pick<Grid, "frame" | "nx" | "ny" | "x" | "y" | "xc">,
  regionCount: number,
  shapes: readonly (readonly Ring[])[],
  rows: readonly Scan[],
): Content {
  const { nx, ny, x, y, xc, frame } = grid;
  const n = nx * ny;
  const content = integers(n);
  const center = new Int16Array(n);
  for (let j = 0; j < ny; j++) {
    const scan = rows[j];
    for (let i = 0, k = 0; i < nx; i++) {
      while (k < scan.region.length - 1 && scan.at[k + 1] < xc[i]) k++;
      center[j * nx + i] = scan.region[k];
    }
  }
  content.set(center);
  let mixes = noMixes();
  if (shapes.length > 0) {
    const shares = visibleAreas(shapes, x, y).map(({ area, moment }) =>
      area.map((a, at) => {
        const whole = cellArea(at, x, y);
        return frame === "round" ? moment[at] / (whole * xc[at % nx]) : a / whole;
      }),
    );
    mixes = mixesOf(shares, content, center);
  } else if (regionCount === 0) content.fill(0);
  return {
    content,
    center,
    mixStart: new Int32Array(mixes.start),
    mixCell: new Int32Array(mixes.cell),
    mixRegion: new Int32Array(mixes.region),
    mixShare: new Float64Array(mixes.share),
  };
}

const noMixes = () => ({
  start: [0],
  cell: [] as number[],
  region: [] as number[],
  share: [] as number[],
});

/** Sets what holds one region alone, and notes the others, from the shares that each shape has of every cell. */
function mixesOf(shares: readonly Float64Array[], content: Int32Array, center: Int16Array) {
  const mixes = noMixes();
  for (let at = 0; at < content.length; at++) {
    let covered = 0;
    let count = 0;
    let only = 0;
    for (let s = 0; s < shares.length; s++) {
      const share = shares[s][at];
      if (!(share > LEAST_SHARE)) continue;
      count++;
      only = s + 1;
      covered += share;
    }
    const open = covered < 1 - LEAST_SHARE;
    if (count === 0 || (count === 1 && !open)) {
      content[at] = only;
      center[at] = only;
      continue;
    }
    content[at] = -mixes.start.length;
    if (open) {
      mixes.region.push(0);
      mixes.share.push(1 - covered);
    }
    const total = open ? 1 : covered;
    for (let s = 0; s < shares.length; s++)
      if (shares[s][at] > LEAST_SHARE) {
        mixes.region.push(s + 1);
        mixes.share.push(shares[s][at] / total);
      }
    mixes.cell.push(at);
    mixes.start.push(mixes.region.length);
  }
  return mixes;
}

type Shape = readonly Ring[];

function cellArea(at: number, x: Float64Array, y: Float64Array): number {
  const nx = x.length - 1;
  const i = at % nx;
  const j = (at - i) / nx;
  return (x[i + 1] - x[i]) * (y[j + 1] - y[j]);
}

/** What each shape covers of every cell where no later one covers it. */
function visibleAreas(shapes: readonly Shape[], x: Float64Array, y: Float64Array): CoveredShare[] {
  const found: CoveredShare[] = [];
  const boxes = shapes.map((rings) => boxOf(rings));
  for (let s = shapes.length - 1; s >= 0; s--) {
    const later = boxes.flatMap((box, l) => (l > s && meet(box, boxes[s]) ? [l] : []));
    if (later.length === 0) found[s] = coveredAreas(shapes[s], x, y);
    else if (isOnLines(boxes[s], x, y) && isBox(shapes[s])) {
      // of a box of whole cells only areas are wanted; polygons would cost ten times as much
      const { area, moment } = coveredAreas(shapes[s], x, y);
      const within = area.map((a, at) => (a > 0.5 * cellArea(at, x, y) ? 1 : 0));
      for (const l of later)
        for (let at = 0; at < area.length; at++) {
          area[at] -= within[at] * found[l].area[at];
          moment[at] -= within[at] * found[l].moment[at];
        }
      found[s] = { area, moment };
    } else {
      const others = later.map((l) => shapes[l]);
      found[s] = coveredAreas(difference(shapes[s], others), x, y);
    }
  }
  return found;
}

const meet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.bottom < b.top && b.bottom < a.top;

/** Sides so near to a line, as a share of the whole, lie on it: shapes that touch were rounded each by itself. */
const SAME_LINE = 1e-12;

/** Whether a box cuts no cell: each of its sides is a line of the grid, or outside of it. */
function isOnLines({ left, right, bottom, top }: Box, x: Float64Array, y: Float64Array): boolean {
  const isLine = (at: number, lines: Float64Array) => {
    const last = lines[lines.length - 1];
    const near = (line: number) => Math.abs(line - at) < SAME_LINE * (last - lines[0]);
    return at < lines[0] || at > last || lines.some(near);
  };
  return isLine(left, x) && isLine(right, x) && isLine(bottom, y) && isLine(top, y);
}

/** Whether a shape is the whole of its box: four sides, each along an axis. */
function isBox(rings: Shape): boolean {
  const [ring] = rings;
  if (rings.length !== 1 || ring.length !== 8) return false;
  for (let i = 0; i < 8; i += 2) {
    const next = (i + 2) % 8;
    if ((ring[i] === ring[next]) === (ring[i + 1] === ring[next + 1])) return false;
  }
  return true;
}

/** A shape without others, outer rings counterclockwise, holes clockwise. */
function difference(shape: Shape, others: readonly Shape[]): Ring[] {
  const polygon = (rings: Shape) =>
    rings.map((ring) =>
      Array.from({ length: ring.length / 2 }, (_, i): [number, number] => [
        ring[2 * i],
        ring[2 * i + 1],
      ]),
    );
  const left = polygonClipping.difference(
    [polygon(shape)],
    ...others.map((other) => [polygon(other)]),
  );
  return left.flatMap((rings) =>
    rings.map((ring, hole) => {
      const points = ring.slice(0, -1);
      const turned = Float64Array.from(points.flat());
      // the library promises outer rings counterclockwise; make sure
      const positive = signed(turned) > 0;
      return positive === (hole === 0) ? turned : Float64Array.from(points.reverse().flat());
    }),
  );
}

function signed(ring: Ring): number {
  let sum = 0;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
    sum += ring[j] * ring[i + 1] - ring[i] * ring[j + 1];
  return sum;
}
