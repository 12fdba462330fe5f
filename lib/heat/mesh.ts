/**
 * Where the coarse grid puts its lines: fine at the places where temperatures change steeply (interfaces, outlines,
 * strongly cooled faces), growing with the distance from them. The finer grid halves every cell.
 */

import { placeLines } from "../shape/lines.ts";
import { boxOf, type Outline, type Ring } from "../shape/outline.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import type { Boundary, HeatProblem, Shape, Side } from "./problem.ts";
import { lawAt } from "./properties.ts";
import { SIDES } from "./setting.ts";

/** Cells across the thinner of two layers at their interface, coarse grid, if they were all alike. */
const ACROSS_LAYER = 11;
/** Growth of the cell size per length away from an interface. */
const GROWTH_1D = 0.34;
/** Cells across the smaller side of a shape, coarse grid. */
const ACROSS_SHAPE = 8;
/**
 * A curved shape that ends level changes steeply toward that edge, and little along it: there a cell is so many times as long.
 * Of two colors in a mold a window opens 0.1 % sooner for it and closes where it did, each within 0.5 %, with two thirds of the
 * cells (measured: 22 jobs).
 */
const ALONG_LEVEL = 2;
const GROWTH_2D = 0.34;
/** No cell wider than this share of its layer or block. */
const WIDEST = 1 / 4;
const WIDEST_2D = 1 / 10;
/** From this ratio of its sides on a shape with straight edges is a sheet: fine across, its long sides fine at their ends. */
const SHEET = 4;
/**
 * What only conducts, so many times as well as the block, is nearly even in itself: its longer side is fine at its ends
 * alone, whatever the ratio, and across it takes as many cells as a thin sheet. A plate of metal behind a cavity.
 */
const EVENS_OUT = 20;
/** A sheet that only conducts is crossed by a nearly straight profile from this ratio on. */
const THIN = 8;
/** Cells across such a sheet, coarse grid. */
const ACROSS_THIN = 2;
/** Cells across the thinnest place between two outlines one within the other, coarse grid. */
const ACROSS_SHELL = 2;

interface Spot {
  readonly from: number;
  readonly to: number;
  readonly size: number;
}

function sizeNear(spots: readonly Spot[], growth: number, widest: number): (x: number) => number {
  return (x) => {
    let size = widest;
    for (const s of spots) {
      const away = Math.max(s.from - x, x - s.to, 0);
      size = Math.min(size, s.size + growth * away);
    }
    return size;
  };
}

/** A face that is held or washed cools steeply; one in air doesn't. */
function steep(problem: HeatProblem, side: Side): boolean {
  const all = [problem.boundary[side], ...problem.stages.map((s) => s.boundary?.[side])];
  return all.some((b?: Boundary) => {
    if (b === undefined || b.kind === "insulated") return false;
    return b.kind !== "exchange" || typeof b.h !== "number" || b.h > 40;
  });
}

/** Which faces the lines crowd toward. */
export const steepSides = (problem: HeatProblem): readonly boolean[] =>
  SIDES.map((side) => steep(problem, side));

/** @param rings of each shape's outline */
export function meshLines(
  problem: HeatProblem,
  rings: readonly (readonly Ring[])[],
): { x: Float64Array; y: Float64Array } {
  const finer = problem.resolution ?? 1;
  if (problem.block) return sectionLines(problem, rings, finer);
  const layers = problem.layers ?? [];
  const even = evenParts(problem);
  const lines: number[] = [0];
  let start = 0;
  layers.forEach((layer, i) => {
    const L = layer.thickness;
    const end = start + L;
    const spots: Spot[] = [];
    const spot = (at: number, other: number) => {
      spots.push({ from: at, to: at, size: Math.min(L, other) / ACROSS_LAYER / finer });
    };
    const meet = (at: number, k: number) => {
      if (even[k]) spots.push({ from: at, to: at, size: L / ACROSS_SHAPE / finer });
      else spot(at, layers[k].thickness);
    };
    if (even[i]) spots.push({ from: start, to: end, size: L / ACROSS_THIN / finer });
    else {
      if (i > 0) meet(start, i - 1);
      else if (problem.frame === "slab" && steep(problem, "left")) spot(start, L);
      if (i + 1 < layers.length) meet(end, i + 1);
      else if (steep(problem, "right")) spot(end, L);
    }
    const size = sizeNear(spots, GROWTH_1D / finer ** 0.5, (L * (even[i] ? 1 : WIDEST)) / finer);
    const placed = placeLines(start, end, [], size);
    for (let k = 1; k < placed.length; k++) lines.push(placed[k]);
    start = end;
  });
  return { x: new Float64Array(lines), y: Float64Array.of(0, 1) };
}

/** Corners whose edge runs along a grid line are hit by one. */
function straightEdges(outline: Outline, rings: readonly Ring[], axis: 0 | 1): number[] {
  if (outline.kind === "ellipse") return [];
  const at: number[] = [];
  const other = axis === 0 ? 1 : 0;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const along = Math.abs(ring[i + axis] - ring[j + axis]);
      if (along <= 1e-9 * Math.abs(ring[i + other] - ring[j + other])) at.push(ring[i + axis]);
    }
  return at;
}

/** Whether an edge along a grid line is as long as most of the shape. */
function endsLevel(rings: readonly Ring[], axis: 0 | 1, along: number): boolean {
  const other = axis === 0 ? 1 : 0;
  return rings.some((ring) =>
    ring.some((_, k) => {
      if (k % 2 === 1) return false;
      const next = (k + 2) % ring.length;
      const long = Math.abs(ring[next + axis] - ring[k + axis]);
      return long > along / 2 && Math.abs(ring[next + other] - ring[k + other]) <= 1e-9 * long;
    }),
  );
}

/** A shape that lines are laid for. */
interface Laying {
  readonly outline: Outline;
  readonly rings: readonly Ring[];
  /** Has heat of its own to give, or comes and goes. */
  readonly active: boolean;
  /** Only conducts, and evens out what it does. */
  readonly even: boolean;
}

/** What a shape asks of the lines along one axis: sizes, and places that a line must hit. */
interface Wish {
  readonly spots: readonly Spot[];
  readonly snaps: readonly number[];
}

type Part = Pick<Shape, "name" | "material" | "initial">;

/** Whether a shape or layer has heat of its own to give; one that hasn't conducts what its neighbors, at `around` K, give it. */
function givesHeat(
  { materials, stages }: HeatProblem,
  { name, material, initial }: Part,
  around: number | undefined,
): boolean {
  const { cure, source = 0 } = materials[material] ?? {};
  return (
    initial !== around ||
    cure !== undefined ||
    source !== 0 ||
    stages.some(({ refill }) => refill?.some((fill) => fill.name === name))
  );
}

const isAway = ({ stages }: HeatProblem, shape: Shape): boolean =>
  stages.some(({ absent }) => absent?.includes(shape.name));

/** Which shapes have heat of their own, or come and go: the others need fewer lines. */
export const activeShapes = (problem: HeatProblem): readonly boolean[] =>
  (problem.shapes ?? []).map(
    (shape) => givesHeat(problem, shape, problem.block?.initial) || isAway(problem, shape),
  );

/** Of a material, W/(m K). */
function conductivityOf({ materials }: HeatProblem, name: string | undefined): number {
  const material = name === undefined ? undefined : materials[name];
  return material ? lawAt(material.conductivity, ZERO_CELSIUS + 50) : 0;
}

/** The same with and without the stages in which it is away: both go on from one another's cells. */
function evensOut(problem: HeatProblem, shape: Shape): boolean {
  const { block } = problem;
  const around = conductivityOf(problem, block?.material);
  return (
    conductivityOf(problem, shape.material) > EVENS_OUT * around &&
    !givesHeat(problem, shape, block?.initial)
  );
}

/** The same of a layer, between others that only conduct, too: beside what gives heat a metal is fine. */
function evensOutLayer(problem: HeatProblem, i: number): boolean {
  const { layers = [] } = problem;
  const own = layers[i];
  const beside = [layers[i - 1], layers[i + 1]].filter((layer) => layer !== undefined);
  const least = conductivityOf(problem, own.material) / EVENS_OUT;
  return (
    beside.length > 0 &&
    beside.every(({ material }) => conductivityOf(problem, material) < least) &&
    ![own, ...beside].some((part) => givesHeat(problem, part, own.initial))
  );
}

/** Which shapes, or layers, take fewer lines because they even out what they conduct. */
export const evenParts = (problem: HeatProblem): readonly boolean[] =>
  problem.block
    ? (problem.shapes ?? []).map((shape) => evensOut(problem, shape))
    : (problem.layers ?? []).map((_, i) => evensOutLayer(problem, i));

/** Everywhere between its ends for a curved or slanted outline; across a sheet, and at the ends of its long sides. */
function wishOf({ outline, rings, active, even }: Laying, axis: 0 | 1, finer: number): Wish {
  const b = boxOf(rings);
  const [from, to] = axis === 0 ? [b.left, b.right] : [b.bottom, b.top];
  const along = to - from;
  const across = axis === 0 ? b.top - b.bottom : b.right - b.left;
  const snaps = straightEdges(outline, rings, axis);
  const thinner = Math.min(along, across);
  const thin = !active && Math.max(along, across) > THIN * thinner;
  const size = thinner / (thin ? ACROSS_THIN : ACROSS_SHAPE) / finer;
  const straight = isRectangular(outline, rings);
  if (straight && along > (even ? 1 : SHEET) * across) {
    const ends = snaps.map((at) => ({ from: at, to: at, size }));
    return { spots: ends, snaps };
  }
  if (!straight && along > across && endsLevel(rings, axis, along)) {
    const longer = Math.min(ALONG_LEVEL * size, along / ACROSS_SHAPE / finer);
    return { spots: [{ from, to, size: longer }], snaps };
  }
  const cells = straight && (thin || even) ? ACROSS_THIN : ACROSS_SHAPE;
  return { spots: [{ from, to, size: thinner / cells / finer }], snaps };
}

/** Every edge runs along a grid line. */
const isRectangular = (outline: Outline, rings: readonly Ring[]): boolean =>
  outline.kind === "rectangle" ||
  (outline.kind === "polygon" &&
    rings.every((ring) =>
      ring.every((_, k) => {
        if (k % 2 === 1) return true;
        const next = (k + 2) % ring.length;
        const wide = Math.abs(ring[next] - ring[k]);
        const high = Math.abs(ring[next + 1] - ring[k + 1]);
        return Math.min(wide, high) <= 1e-9 * Math.max(wide, high);
      }),
    ));

/** Cells small enough for what lies between two curved outlines, one within the other. */
function shellSpots(shapes: readonly Laying[], axis: 0 | 1, finer: number): Spot[] {
  const curved = shapes
    .filter(({ outline, rings }) => !isRectangular(outline, rings))
    .map(({ rings }) => boxOf(rings));
  const spots: Spot[] = [];
  for (const outer of curved)
    for (const inner of curved) {
      const gaps = [
        inner.left - outer.left,
        outer.right - inner.right,
        inner.bottom - outer.bottom,
        outer.top - inner.top,
      ];
      const least = Math.min(...gaps);
      const smaller = Math.min(inner.right - inner.left, inner.top - inner.bottom);
      if (outer === inner || !(least > 1e-3 * smaller)) continue;
      const [from, to] = axis === 0 ? [outer.left, outer.right] : [outer.bottom, outer.top];
      spots.push({ from, to, size: least / ACROSS_SHELL / finer });
    }
  return spots;
}

function sectionLines(
  problem: HeatProblem,
  rings: readonly (readonly Ring[])[],
  finer: number,
): { x: Float64Array; y: Float64Array } {
  const { block } = problem;
  if (!block) throw new Error("a section needs a block");
  const active = activeShapes(problem);
  const even = evenParts(problem);
  const shapes = (problem.shapes ?? []).map(
    (shape, s): Laying => ({
      outline: shape.outline,
      rings: rings[s],
      active: active[s],
      even: even[s],
    }),
  );
  const along = (axis: 0 | 1): Float64Array => {
    const length = axis === 0 ? block.width : block.height;
    const wishes = shapes.map((shape) => wishOf(shape, axis, finer));
    const snaps = wishes.flatMap((wish) => wish.snaps);
    const near = length * 1e-9;
    const spots = [
      ...wishes.flatMap((wish) => wish.spots),
      ...shellSpots(shapes, axis, finer),
    ].filter(
      // what lies on a side of the block or beyond it ends nowhere inside
      (spot) => spot.to > near && spot.from < length - near,
    );
    const smallest = Math.min(block.width, block.height);
    const [low, high]: [Side, Side] = axis === 0 ? ["left", "right"] : ["bottom", "top"];
    const round = problem.frame === "round" && axis === 0;
    if (steep(problem, low) && !round) spots.push({ from: 0, to: 0, size: smallest / 16 / finer });
    if (steep(problem, high)) spots.push({ from: length, to: length, size: smallest / 16 / finer });
    // half of a mirrored section is meshed as the whole would be
    const whole = problem.mirrors?.includes(low) === true ? 2 * length : length;
    const size = sizeNear(spots, GROWTH_2D / finer ** 0.5, (whole * WIDEST_2D) / finer);
    return placeLines(0, length, snaps, size);
  };
  return { x: along(0), y: along(1) };
}
