/** The section of a bait in its block as a picture: the whole of it, though only a part was solved, and its lines. */

import polygonClipping from "polygon-clipping";
import type { HeatProblem, Side, Snapshot } from "../../heat/problem.ts";
import { unfoldAlong } from "../../heat/symmetry.ts";
import type { Outline, Point } from "../../shape/outline.ts";
import { polygonOf } from "../../shape/parts.ts";

/** A line of the drawing. Closed unless it is a parting line; m, from the lower left corner of the block. */
export interface SectionLine {
  readonly part: "bait" | "insert" | "parting" | "master" | "edge";
  readonly points: readonly Point[];
}

/** What is drawn: each snapshot over the whole section, row by row from the bottom, and the lines over it. */
export interface SectionPicture {
  readonly fields: readonly Snapshot[];
  readonly lines: readonly SectionLine[];
  /** Extent of the block, m. */
  readonly width: number;
  readonly height: number;
}

export type Polygon = [number, number][][];
type Axis = 0 | 1;

const AXES: readonly (readonly [Side, Axis])[] = [
  ["left", 0],
  ["bottom", 1],
];

/**
 * The whole section from a problem that was solved up to its mirrors.
 *
 * @param problem of `sectionModel`, with a block
 * @param snapshots of its history, K
 */
export function sectionPicture(
  problem: Pick<HeatProblem, "block" | "shapes" | "mirrors">,
  snapshots: readonly Snapshot[],
): SectionPicture {
  const { block, shapes = [], mirrors = [] } = problem;
  if (!block) throw new Error("a section has a block");
  const axes = AXES.flatMap(([side, axis]) => (mirrors.includes(side) ? [axis] : []));
  const size: [number, number] = [block.width, block.height];
  for (const axis of axes) size[axis] *= 2;
  const [width, height] = size;
  const whole = (outline: Outline) => wholeRings(outline, [block.width, block.height], axes);
  const baits = shapes.filter((s) => s.material === "plastic").flatMap((s) => whole(s.outline));
  const inserts = shapes
    .filter((s) => s.material !== "plastic" && s.material !== "mold")
    .flatMap((s) => whole(s.outline));
  return {
    fields: snapshots.map((s) => drawable(axes.reduce(unfoldAlong, s))),
    lines: [
      ...inserts.map((points) => ({ part: "insert" as const, points })),
      ...besides(baits, width, height / 2).map((points) => ({ part: "parting" as const, points })),
      ...baits.map((points) => ({ part: "bait" as const, points })),
    ],
    width,
    height,
  };
}

/** Cells of one picture: more than a screen shows, and few enough for thirty of them to be handed on. */
const MOST_CELLS = 40_000;

/** Cells are joined by fours until they are few enough. */
export function drawable(s: Snapshot): Snapshot {
  if ((s.x.length - 1) * (s.y.length - 1) <= MOST_CELLS) return s;
  const x = everySecond(s.x);
  const y = everySecond(s.y);
  const [across, up] = [x.length - 1, y.length - 1];
  const temperature = new Float32Array(across * up);
  const { x: fx, y: fy } = s;
  const was = fx.length - 1;
  for (let j = 0; j < up; j++)
    for (let i = 0; i < across; i++) {
      let sum = 0;
      for (let q = 2 * j; q < Math.min(2 * j + 2, fy.length - 1); q++)
        for (let p = 2 * i; p < Math.min(2 * i + 2, was); p++)
          sum += s.temperature[q * was + p] * (fx[p + 1] - fx[p]) * (fy[q + 1] - fy[q]);
      temperature[j * across + i] = sum / ((x[i + 1] - x[i]) * (y[j + 1] - y[j]));
    }
  return drawable({ time: s.time, x, y, temperature });
}

/** Every second face, and the last one. */
function everySecond(faces: Float32Array): Float32Array {
  const last = faces.length - 1;
  const kept = faces.filter((_, i) => i % 2 === 0 && i !== last);
  return Float32Array.of(...kept, faces[last]);
}

/** The rings of an outline within the block, with their mirror images grown onto them. */
function wholeRings(outline: Outline, solved: Point, axes: readonly Axis[]): Point[][] {
  const [w, h] = solved;
  const box: Polygon = [
    [
      [0, 0],
      [w, 0],
      [w, h],
      [0, h],
    ],
  ];
  let pieces = polygonClipping.intersection([polygonOf(outline)], [box]);
  for (const axis of axes) {
    const shift = solved[axis];
    const moved = (sign: 1 | -1) =>
      pieces.map((polygon) =>
        polygon.map((ring) =>
          ring.map(([x, y]): [number, number] =>
            axis === 0 ? [shift + sign * x, y] : [x, shift + sign * y],
          ),
        ),
      );
    pieces = polygonClipping.union(moved(1), moved(-1));
  }
  return pieces.flatMap((polygon) => polygon.map((ring): Point[] => ring.slice(0, -1)));
}

/** The level line from side to side, left out where a ring lies across it. */
function besides(rings: readonly (readonly Point[])[], width: number, level: number): Point[][] {
  const cuts = rings.flatMap((ring) => crossings(ring, level)).sort((a, b) => a - b);
  const ends = [0, ...cuts, width];
  const pieces: Point[][] = [];
  for (let i = 0; i + 1 < ends.length; i += 2)
    if (ends[i + 1] - ends[i] > 1e-6)
      pieces.push([
        [ends[i], level],
        [ends[i + 1], level],
      ]);
  return pieces;
}

/** Where a ring goes through a level. A corner on the level counts with the edge below it. */
function crossings(ring: readonly Point[], level: number): number[] {
  return ring.flatMap(([x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length];
    return y < level !== v < level ? [x + ((level - y) / (v - y)) * (u - x)] : [];
  });
}
