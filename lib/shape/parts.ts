/** Parts of an outline: what lies below a level, and a lining of even depth. Lengths m. */
import polygonClipping from "polygon-clipping";
import { boxOf, type Outline, type Point, ringsOf } from "./outline.ts";

type Ring2 = [number, number][];
type Polygon = Ring2[];

/** An outline as rings of points, the outer one first. */
export function polygonOf(outline: Outline): Polygon {
  return ringsOf(outline).map((ring) =>
    Array.from({ length: ring.length / 2 }, (_, i): [number, number] => [
      ring[2 * i],
      ring[2 * i + 1],
    ]),
  );
}

/** The largest piece as an outline; undefined when nothing is left. */
function largest(pieces: readonly Polygon[]): Outline | undefined {
  const area = ([outer]: Polygon) =>
    Math.abs(
      outer.reduce((sum, [x, y], i) => {
        const [u, v] = outer[(i + 1) % outer.length];
        return sum + x * v - u * y;
      }, 0),
    );
  const [piece] = [...pieces].sort((a, b) => area(b) - area(a));
  if (!piece) return undefined;
  const open = piece.map((ring): Point[] => ring.slice(0, -1));
  return { kind: "polygon", points: open[0], ...(open.length > 1 && { holes: open.slice(1) }) };
}

/**
 * What of an outline lies below a level, with the outline's own edge so that no sliver is left between them.
 *
 * @param level y, m
 * @returns undefined when all of it lies above
 */
export function partBelow(outline: Outline, level: number): Outline | undefined {
  const { left, right, bottom } = boxOf(ringsOf(outline));
  if (!(level > bottom)) return undefined;
  const wide = right - left;
  const half: Polygon = [
    [
      [left - wide, bottom - wide],
      [right + wide, bottom - wide],
      [right + wide, level],
      [left - wide, level],
    ],
  ];
  return largest(polygonClipping.intersection([polygonOf(outline)], [half]));
}

/** The outline shrunk around its middle so that it stays `depth` inside at its four extreme points. */
export function inset(outline: Outline, depth: number): Outline {
  const { left, right, bottom, top } = boxOf(ringsOf(outline));
  const [x, y] = [(left + right) / 2, (bottom + top) / 2];
  const across = 1 - (2 * depth) / (right - left);
  const up = 1 - (2 * depth) / (top - bottom);
  const moved = ([px, py]: Point): Point => [x + (px - x) * across, y + (py - y) * up];
  if (outline.kind !== "polygon")
    return outline.kind === "ellipse"
      ? { ...outline, axes: [outline.axes[0] * across, outline.axes[1] * up] }
      : { ...outline, size: [outline.size[0] * across, outline.size[1] * up] };
  return {
    ...outline,
    points: outline.points.map(moved),
    ...(outline.holes && { holes: outline.holes.map((h) => h.map(moved)) }),
  };
}

/** A lining of even depth of the part below a level. */
export function liningBelow(outline: Outline, level: number, depth: number): Outline | undefined {
  const below = partBelow(outline, level);
  if (!below) return undefined;
  return largest(
    polygonClipping.difference([polygonOf(below)], [polygonOf(inset(outline, depth))]),
  );
}
