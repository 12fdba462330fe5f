/**
 * Where a probe reads: a place, a region or a face turned into cells with weights and interfaces of links.
 */

import { integersOf } from "../numerics/typed-lists.ts";
import { cureEntry } from "./grid-content.ts";
import type { Link } from "./grid-links.ts";
import type { Grid } from "./grid-type.ts";
import { ALONE, type Stencil, stencilAt } from "./point-stencil.ts";
import type { Probe, Side } from "./problem.ts";

/** A fixed weighted sum of cells; their cure is that of one region. */
export interface Weighted {
  readonly cells: Int32Array;
  readonly weights: Float64Array;
  /** Entries of the cure of the region read, one for each cell. */
  readonly entries: Int32Array;
}

/** The same with the entries of the region's cure; where a cell holds none of it, the cell's own. */
function weighted(
  grid: Grid,
  region: number,
  cells: readonly number[],
  weights: readonly number[],
): Weighted {
  return {
    cells: new Int32Array(cells),
    weights: new Float64Array(weights),
    entries: integersOf(cells, (cell) => {
      const entry = cureEntry(grid, cell, region);
      return entry < 0 ? cell : entry;
    }),
  };
}

export type Reading =
  /** The mean over a region. */
  | ({ readonly kind: "sum"; readonly region: number } & Weighted)
  /** A place in a region: its cells row by row, the stencil in each row and that along the rows. */
  | ({
      readonly kind: "point";
      readonly region: number;
      readonly rows: readonly Stencil[];
      readonly along: Stencil;
    } & Weighted)
  | {
      readonly kind: "peak";
      readonly region: number;
      readonly cells: Int32Array;
      readonly sign: 1 | -1;
      /** By cell: the faces of the region that its links meet, for an extreme at the edge. */
      readonly edges: ReadonlyMap<number, readonly FaceSide[]>;
    }
  | {
      readonly kind: "faces";
      readonly of: "hottest" | "coldest" | "mean";
      readonly sides: readonly FaceSide[];
    };

/** One reading of a face: through the conductances of a link, or extrapolated from cells of one side. */
export type FaceSide = LinkSide | CellsSide;

/** A face beside cells that an outline cuts: from the two nearest full ones of its side, on a line. */
export interface CellsSide extends Weighted {
  readonly kind: "cells";
  readonly link: Link;
  readonly weight: number;
  readonly meet: Meeting;
  readonly axis: 0 | 1;
}

/** The regions before and after an interface, and on which side it is read; after an outer face there is none. */
export interface Meeting {
  readonly before: number;
  readonly after: number | undefined;
  readonly side: "before" | "after" | "both";
}

/** An interface of a link, read on one side (or as the mean of both), or the outer end of a face. */
export interface LinkSide {
  readonly kind: "link";
  readonly link: Link;
  /** Last part that lies before the interface. */
  readonly before: number;
  readonly side: "before" | "after" | "both";
  readonly weight: number;
  /** Cells of that side from which its cure is extrapolated to the face. */
  readonly nearby: Weighted;
}

export function placesOf(grid: Grid, probe: Probe): Reading {
  if (probe.kind === "point") return compilePoint(grid, probe.x, probe.y, probe.side);
  if (probe.kind === "face") {
    const a = grid.regions.indexOf(probe.region);
    const b = grid.regions.indexOf(probe.neighbor);
    return { kind: "faces", of: probe.of, sides: interfacesBetween(grid, a, b) };
  }
  const region = grid.regions.indexOf(probe.region);
  const cells: number[] = [];
  const weights: number[] = [];
  for (let at = 0; at < grid.nx * grid.ny; at++) {
    const share = shareOf(grid, at, region);
    if (share === 0) continue;
    if (probe.kind !== "mean" && grid.center[at] !== region) continue;
    cells.push(at);
    weights.push(share * grid.vx[at % grid.nx] * grid.ly[Math.floor(at / grid.nx)]);
  }
  if (probe.kind !== "mean")
    return {
      kind: "peak",
      region,
      cells: new Int32Array(cells),
      sign: probe.kind === "hottest" ? 1 : -1,
      edges: edgesOf(grid, region),
    };
  const total = weights.reduce((a, b) => a + b, 0);
  return {
    kind: "sum",
    region,
    ...weighted(
      grid,
      region,
      cells,
      weights.map((w) => w / total),
    ),
  };
}

/** Share of a cell that a region fills. */
function shareOf(grid: Grid, cell: number, region: number): number {
  const content = grid.content[cell];
  if (content >= 0) return content === region ? 1 : 0;
  for (let k = grid.mixStart[-1 - content]; k < grid.mixStart[-content]; k++)
    if (grid.mixRegion[k] === region) return grid.mixShare[k];
  return 0;
}

/** The faces of a region by the cells of it that they belong to: where it meets others, and the sides of the body. */
function edgesOf(grid: Grid, region: number): Map<number, FaceSide[]> {
  const found = new Map<number, FaceSide[]>();
  const add = (cell: number, side: FaceSide) => {
    if (grid.center[cell] !== region) return;
    const known = found.get(cell);
    if (known) known.push(side);
    else found.set(cell, [side]);
  };
  for (const link of grid.links)
    for (let k = 0; k + 1 < link.parts.length; k++) {
      const p = link.parts[k].region;
      const q = link.parts[k + 1].region;
      // where the region stays there is no interface: its area is 0
      if (link.interfaces[k] < HEAD_ON * link.area) continue;
      if (p === region) add(link.a, sideOf(grid, link, k, "before"));
      if (q === region) add(link.b, sideOf(grid, link, k, "after"));
    }
  for (const link of grid.faces)
    if (link.parts.length === 1 && link.parts[0].region === region)
      add(link.a, {
        kind: "link",
        link,
        before: 0,
        side: "both",
        weight: 1,
        nearby: weighted(grid, region, [link.a], [1]),
      });
  return found;
}

/** Axis along which a side of a face is read. */
export const axisOf = (side: FaceSide): 0 | 1 =>
  side.kind === "link" ? side.link.axis : side.axis;

/** Every interface where `region` meets `neighbor`, read on the side of `region`. */
function interfacesBetween(grid: Grid, region: number, neighbor: number): FaceSide[] {
  const sides: FaceSide[] = [];
  for (const link of grid.links)
    for (let k = 0; k + 1 < link.parts.length; k++) {
      const p = link.parts[k].region;
      const q = link.parts[k + 1].region;
      // a grazing link says little about the face: it meets it far from the cells it joins
      if (link.interfaces[k] < HEAD_ON * link.area) continue;
      if (p === region && q === neighbor) sides.push(sideOf(grid, link, k, "before"));
      else if (q === region && p === neighbor) sides.push(sideOf(grid, link, k, "after"));
    }
  return sides;
}

/** Least share of the normal along a link for which the face is read through it. */
const HEAD_ON = 0.6;

/**
 * An interface read on one side. Where both cells are full of one region the conductances say it exactly; beside cells
 * that the outline cuts, the line through the two nearest full cells of that side says it better.
 */
function sideOf(grid: Grid, link: Link, k: number, side: "before" | "after" | "both"): FaceSide {
  const weight = link.interfaces[k];
  const pair = nearestPair(grid, link, k, side === "after" ? "after" : "before");
  const whole = grid.content[link.a] >= 0 && grid.content[link.b] >= 0;
  const meet = { before: link.parts[k].region, after: link.parts[k + 1].region, side };
  if (!whole && side !== "both" && pair)
    return { kind: "cells", link, weight, meet, axis: link.axis, ...pair };
  const [own, cell] = side === "after" ? [meet.after, link.b] : [meet.before, link.a];
  const nearby = pair ?? weighted(grid, own, [cell], [1]);
  return { kind: "link", link, before: k, side, weight, nearby };
}

/** The two cells full of the region on one side of an interface that lie next to it, with the weights of a line. */
function nearestPair(
  grid: Grid,
  link: Link,
  k: number,
  side: "before" | "after",
): Weighted | undefined {
  const outer = link.b < 0;
  const forward = link.axis === 0 ? 1 : grid.nx;
  const outward = link.side === "right" || link.side === "top" ? 1 : -1;
  const stride = forward * (outer ? -outward : side === "before" ? -1 : 1);
  const region = link.parts[side === "before" ? k : k + 1].region;
  let cell = side === "before" ? link.a : link.b;
  for (let tries = 0; tries < 3 && grid.content[cell] !== region; tries++) cell += stride;
  const next = cell + stride;
  const faces = link.axis === 0 ? grid.x : grid.y;
  const centers = link.axis === 0 ? grid.xc : grid.yc;
  const at = (b: number) => centers[link.axis === 0 ? b % grid.nx : Math.floor(b / grid.nx)];
  if (grid.content[cell] !== region || grid.content[next] !== region) return undefined;
  const place = outer ? faces[outward > 0 ? faces.length - 1 : 0] : link.places[k];
  const w = (place - at(next)) / (at(cell) - at(next));
  if (!(w > 0 && w < 4)) return undefined;
  return weighted(grid, region, [cell, next], [w, 1 - w]);
}

function compilePoint(grid: Grid, x: number, y = 0.5, side?: "left" | "right"): Reading {
  const near = (grid.x[grid.nx] - grid.x[0]) * 1e-9;
  const nearY = (grid.y[grid.ny] - grid.y[0]) * 1e-9;
  const oneRow = grid.frame !== "section" && grid.frame !== "round";
  const row = oneRow ? 0 : rowOf(grid.y, y);
  const column = rowOf(grid.x, x);
  if (x <= grid.x[0] + near && !grid.evenX) return acrossFaces(grid, "left", y);
  if (x >= grid.x[grid.nx] - near) return acrossFaces(grid, "right", y);
  if (!oneRow && y <= grid.y[0] + nearY && !grid.evenY) return acrossFaces(grid, "bottom", x);
  if (!oneRow && y >= grid.y[grid.ny] - nearY) return acrossFaces(grid, "top", x);
  const meets = oneRow || isOnOutline(grid, x, y);
  const face = meets ? interfaceAt(grid, x, y, oneRow, side) : undefined;
  if (face) return face;
  return interior(grid, x, y, oneRow, row * grid.nx + column);
}

/**
 * Outer face at a place between two cell centers: linear between the faces of both cells where one region fills them. Beside
 * another region the line goes on from the own side; where two regions end at the place, as the mean of both lines.
 */
function acrossFaces(grid: Grid, side: Side, along: number): Reading {
  const horizontal = side === "top" || side === "bottom";
  const centers = horizontal ? grid.xc : grid.yc;
  const lines = horizontal ? grid.x : grid.y;
  const count = centers.length;
  const cellAt = (k: number) => {
    if (horizontal) return (side === "top" ? (grid.ny - 1) * grid.nx : 0) + k;
    return k * grid.nx + (side === "right" ? grid.nx - 1 : 0);
  };
  const asOne = (weights: readonly (readonly [k: number, weight: number])[]): Reading => ({
    kind: "faces",
    of: "mean",
    sides: weights.map(([k, weight]) => outerSide(grid, cellAt(k), side, weight)),
  });
  const isSame = (k: number, l: number) =>
    l >= 0 && l < count && grid.content[cellAt(k)] === grid.content[cellAt(l)];
  /** A line through cell k and the next one that way, or cell k alone where that is another region. */
  const lineFrom = (k: number, way: 1 | -1, share: number): [number, number][] => {
    if (!isSame(k, k + way)) return [[k, share]];
    const s = (along - centers[k]) / (centers[k + way] - centers[k]);
    return [
      [k, share * (1 - s)],
      [k + way, share * s],
    ];
  };
  const own = rowOf(lines, along);
  const near = (lines[count] - lines[0]) * 1e-9;
  const meets = own + 1 < count && Math.abs(along - lines[own + 1]) <= near;
  if (meets && !isSame(own, own + 1))
    return asOne([...lineFrom(own, -1, 0.5), ...lineFrom(own + 1, 1, 0.5)]);
  // in a corner the line goes on beyond the last center
  const toward = along < centers[own] ? -1 : 1;
  return asOne(lineFrom(own, isSame(own, own + toward) ? toward : toward === 1 ? -1 : 1, 1));
}

/** The outer face of a cell on one side of the body. */
function outerSide(grid: Grid, cell: number, side: Side, weight: number): LinkSide {
  const link = grid.faces.find((f) => f.a === cell && f.side === side) as Link;
  const nearby =
    nearestPair(grid, link, 0, "before") ?? weighted(grid, link.parts[0].region, [cell], [1]);
  return { kind: "link", link, before: 0, side: "both", weight, nearby };
}

function rowOf(faces: Float64Array, at: number): number {
  let k = 0;
  while (k < faces.length - 2 && faces[k + 1] < at) k++;
  return k;
}

/** A place this near to an outline is on it, as a share of the smaller side: places and outlines are typed with few digits. */
const ON_OUTLINE = 5e-4;

/** Whether regions meet at a place of a section; told by the outlines, so that grids of all sizes agree. */
function isOnOutline({ x: xs, y: ys, nx, ny, regionAt }: Grid, x: number, y: number): boolean {
  const reach = ON_OUTLINE * Math.min(xs[nx] - xs[0], ys[ny] - ys[0]);
  const own = regionAt(x, y);
  return [
    [x - reach, y],
    [x + reach, y],
    [x, y - reach],
    [x, y + reach],
  ].some(([p, q]) => regionAt(p, q) !== own);
}

/**
 * A place on an outline: read through the two links beside it that cross the outline there, on a line between (or, in a
 * corner, beyond) the two.
 */
function interfaceAt(
  grid: Grid,
  x: number,
  y: number,
  oneRow: boolean,
  side?: "left" | "right",
): Reading | undefined {
  const near = (grid.x[grid.nx] - grid.x[0]) * 1e-9;
  const found: { link: Link; k: number; off: number; across: number }[] = [];
  for (const link of grid.links) {
    const column = link.a % grid.nx;
    const row = (link.a - column) / grid.nx;
    const across = link.axis === 0 ? grid.yc[row] - y : grid.xc[column] - x;
    const width = link.axis === 0 ? grid.ly[row] : grid.x[column + 1] - grid.x[column];
    if (!oneRow && Math.abs(across) > 1.6 * width) continue;
    const length =
      link.axis === 0 ? grid.xc[column + 1] - grid.xc[column] : grid.yc[row + 1] - grid.yc[row];
    for (let k = 0; k + 1 < link.parts.length; k++) {
      if (link.interfaces[k] < HEAD_ON * link.area) continue;
      const off = Math.abs((link.axis === 0 ? x : y) - link.places[k]);
      // in a section the outline bends between the middle of the row and the place
      if (off > (oneRow ? near : 0.1 * length)) continue;
      found.push({ link, k, off, across: oneRow ? 0 : across });
    }
  }
  found.sort((p, q) => p.off + Math.abs(p.across) - q.off - Math.abs(q.across));
  const [best] = found;
  if (best === undefined) return undefined;
  const read = ({ link, k }: { link: Link; k: number }) =>
    sideOf(grid, link, k, side === "left" ? "before" : side === "right" ? "after" : "both");
  const between = ({ link, k }: { link: Link; k: number }) =>
    `${link.axis} ${link.parts[k].region} ${link.parts[k + 1].region}`;
  const other = found.find((f) => between(f) === between(best) && f.across !== best.across);
  if (other === undefined || best.across === 0)
    return { kind: "faces", of: "mean", sides: [read(best)] };
  const s = best.across / (best.across - other.across);
  return {
    kind: "faces",
    of: "mean",
    sides: [
      { ...read(best), weight: 1 - s },
      { ...read(other), weight: s },
    ],
  };
}

/** Inside a region: a cubic through the four nearest centers of the same region along each axis. */
function interior(grid: Grid, x: number, y: number, oneRow: boolean, cell: number): Reading {
  const column = cell % grid.nx;
  const row = (cell - column) / grid.nx;
  const region = grid.center[cell];
  const alongX = (j: number) =>
    stencilAt(
      { centers: grid.xc, even: grid.evenX, same: (i) => grid.content[j * grid.nx + i] === region },
      column,
      x,
    );
  const along = oneRow
    ? ALONE
    : stencilAt(
        {
          centers: grid.yc,
          even: grid.evenY,
          same: (j) => grid.content[j * grid.nx + column] === region,
        },
        row,
        y,
      );
  const cells: number[] = [];
  const weights: number[] = [];
  const rows = along.at.map((j, k) => {
    const inRow = alongX(oneRow ? row : j);
    inRow.at.forEach((i, q) => {
      cells.push((oneRow ? row : j) * grid.nx + i);
      weights.push(along.weights[k] * inRow.weights[q]);
    });
    return inRow;
  });
  return {
    kind: "point",
    region: oneRow ? region : grid.regionAt(x, y),
    rows,
    along,
    ...weighted(grid, region, cells, weights),
  };
}
