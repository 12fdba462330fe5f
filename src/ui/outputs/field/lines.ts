/** Lines over a temperature field: isotherms and the outlines of its parts, as paths in a box 1000 wide. */
import { contours } from "d3-contour";
import type { FieldFrame, FieldLine, FieldOutput } from "../../../notebook/outputs/output.ts";
import { type Extent, evenly } from "./grid.ts";

export const BOX = 1000;

export interface Isotherm {
  readonly temperature: number;
  /** In the box, y downward. */
  readonly path: string;
  /** Where its figure may stand, in shares of the plate. */
  readonly label?: readonly [number, number];
}

/** Along the longer side. */
const SAMPLES = 240;

type Point = readonly [number, number];

/**
 * Isotherms of the field between the middles of its cells. On a coarse grid a level follows the cells in small waves:
 * each line is evened over the width of a cell, which moves it by far less than that.
 */
export function isotherms(
  frame: FieldFrame,
  { width, height }: Extent,
  temperatures: readonly number[],
): Isotherm[] {
  const pitch = Math.max(width, height) / SAMPLES;
  const columns = Math.max(2, Math.round(width / pitch));
  const rows = Math.max(2, Math.round(height / pitch));
  const even = Array.from(evenly(frame, columns, rows));
  const wave = (1.25 * Math.max(spacing(frame.x), spacing(frame.y))) / pitch;
  const draw = contours().size([columns, rows]).smooth(true);
  const inside = (p: Point) =>
    p[0] > 0.6 && p[1] > 0.6 && p[0] < columns - 0.6 && p[1] < rows - 0.6;
  return temperatures.map((temperature) => {
    const rings = draw.contour(even, temperature).coordinates.flat() as unknown as Point[][];
    const lines = rings.flatMap((ring) => withoutEdges(ring, inside)).map((l) => evened(l, wave));
    const path = lines
      .map(({ points, closed }) => pathOf(points, closed, BOX / columns, (y) => y))
      .join("");
    const longest = lines.toSorted((a, b) => b.points.length - a.points.length)[0];
    const top = longest?.points.reduce((best, p) => (p[1] < best[1] ? p : best));
    const label: Point | undefined = top && [top[0] / columns, top[1] / rows];
    return { temperature, path, ...(label && { label }) };
  });
}

/** Middle size of the cells. */
function spacing(faces: Float32Array): number {
  const sizes = Array.from(faces.slice(1), (at, i) => at - faces[i]!).sort((a, b) => a - b);
  return sizes[sizes.length >> 1] ?? 0;
}

interface Line {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** A ring without the parts that run along the edge of the plate, which are no isotherm. */
function withoutEdges(ring: readonly Point[], inside: (p: Point) => boolean): Line[] {
  const points = ring.slice(0, -1);
  const out = points.findIndex((p) => !inside(p));
  if (out < 0) return points.length > 2 ? [{ points, closed: true }] : [];
  const lines: Line[] = [];
  let line: Point[] = [];
  for (const p of [...points.slice(out), ...points.slice(0, out + 1)]) {
    if (inside(p)) line.push(p);
    else {
      if (line.length > 1) lines.push({ points: line, closed: false });
      line = [];
    }
  }
  return lines;
}

/** Points at even steps along the line, each the mean over `wave` before and behind it. The ends stay. */
function evened({ points, closed }: Line, wave: number): Line {
  const fine = atEvenSteps(closed ? [...points, points[0]!] : points, 0.5);
  const reach = Math.round(wave / 0.5);
  const n = fine.length - (closed ? 1 : 0);
  if (reach < 1 || n < 4) return { points, closed };
  const once = (from: readonly Point[]): Point[] =>
    from.map((_, i) => {
      const r = closed ? Math.min(reach, (n - 1) >> 1) : Math.min(reach, i, n - 1 - i);
      let x = 0;
      let y = 0;
      for (let k = -r; k <= r; k++) {
        const p = from[(i + k + n) % n]!;
        x += p[0];
        y += p[1];
      }
      return [x / (2 * r + 1), y / (2 * r + 1)];
    });
  // evening draws a round line in: what the second time takes off more is what the first took off, and is given back
  const even = once(once(fine.slice(0, n)));
  const twice = once(once(even));
  return { points: even.map(([x, y], i) => [2 * x - twice[i]![0], 2 * y - twice[i]![1]]), closed };
}

function atEvenSteps(points: readonly Point[], step: number): Point[] {
  const all: Point[] = [points[0]!];
  let left = step;
  for (let i = 1; i < points.length; i++) {
    let [x, y] = points[i - 1]!;
    const [u, v] = points[i]!;
    let rest = Math.hypot(u - x, v - y);
    while (rest >= left) {
      x += ((u - x) * left) / rest;
      y += ((v - y) * left) / rest;
      rest -= left;
      left = step;
      all.push([x, y]);
    }
    left -= rest;
  }
  return all;
}

function pathOf(
  points: readonly Point[],
  closed: boolean,
  scale: number,
  down: (y: number) => number,
): string {
  const at = ([x, y]: Point) => `${(x * scale).toFixed(1)} ${(down(y) * scale).toFixed(1)}`;
  return `M${points.map(at).join("L")}${closed ? "Z" : ""}`;
}

export type Part = FieldLine["part"] | "outline";

/** One path for all lines of a kind, in the order in which they are drawn. */
export function partPaths(field: FieldOutput, extent: Extent): { part: Part; path: string }[] {
  const kinds: Part[] = ["edge", "insert", "parting", "outline", "master", "bait"];
  const lines = [
    ...(field.lines ?? []),
    ...field.outline.map((points) => ({ part: "outline" as const, points })),
  ];
  const scale = BOX / extent.width;
  return kinds.flatMap((part) => {
    const own = lines.filter((l) => l.part === part);
    const path = own
      .map(({ points }) =>
        pathOf(
          points.map(([x, y]): Point => [x - extent.x0, y - extent.y0]),
          part !== "parting",
          scale,
          (y) => extent.height - y,
        ),
      )
      .join("");
    return path === "" ? [] : [{ part, path }];
  });
}
