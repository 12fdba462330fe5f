/** What a window in one dimension is of that in the section, where its joint is judged. */
import type { Layering, Station } from "../../job/types.ts";
import { boxOf, type Outline, type Ring, ringsOf } from "../../shape/outline.ts";
import { partBelow } from "../../shape/parts.ts";
import { distanceToEdge } from "../../shape/polygon.ts";
import { scanLine } from "../../shape/scan.ts";
import { stationOutline, stationThickness } from "../../shape/station-outline.ts";
import { JUDGED_UP_TO, onLevel } from "./section.ts";

/**
 * What of the shares below is taken, and the least: the later end for the opening, the sooner for the close (measured on 45 jobs:
 * the section opens after 0.65 to 1.03 times as long, closes after 0.90 to 2.0).
 */
const OF_CLOSE = 0.85;
const LEAST_CLOSE = 0.25;
const OF_OPENING = 1.1;

/** Shares of the times in one dimension. */
interface SectionShares {
  readonly opening: number;
  readonly closing: number;
}

/** The edges of the first color along the mold, each as a ring of two corners: not the one on its level. */
function wallsOf(lower: Outline | undefined, level: number): Ring[] {
  const walls: Ring[] = [];
  for (const ring of lower ? ringsOf(lower) : [])
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [a, b] = [ring[j + 1], ring[i + 1]];
      const isTop = Math.abs(a - level) < 1e-9 && Math.abs(b - level) < 1e-9;
      if (!isTop) walls.push(Float64Array.of(ring[j], a, ring[i], b));
    }
  return walls;
}

/** How far the outline is below a place, m. */
function depthBelow(rings: readonly Ring[], { x, y }: { readonly x: number; readonly y: number }) {
  const { bottom, top } = boxOf(rings);
  const { at, region } = scanLine([rings], 1, x, bottom - (top - bottom), y);
  const from = region.indexOf(1);
  return from < 0 ? 0 : y - at[from];
}

/**
 * The first color gives its heat to the mold beside it, too: it sets sooner the deeper it is against the half of its width. And at
 * the edge of what is judged it is not as deep as in its middle: times go with the square of the distance to the mold. A lining is
 * as deep all around, but has less within it than a flat one.
 */
export function sharesInSection(station: Station, { form, depth }: Layering): SectionShares {
  if (form === "skin")
    return {
      opening: 1,
      closing: Math.max(LEAST_CLOSE, 1 - depth / (stationThickness(station) / 2)),
    };
  const outline = stationOutline(station, [0, 0]);
  const rings = ringsOf(outline);
  const lower = partBelow(outline, boxOf(rings).bottom + depth);
  const placeAt = onLevel(outline, lower, depth);
  const [middle, edge, end] = [0, JUDGED_UP_TO, 1].map(placeAt);
  // the color there is as deep as it is straight below, and as near to the mold as its nearest wall: something between
  const near = distanceToEdge(wallsOf(lower, edge.y), [edge.x, edge.y]);
  const square = (near * depthBelow(rings, edge)) / depth ** 2;
  return {
    opening: Math.min(1, OF_OPENING / Math.hypot(1, depth / (end.x - middle.x))),
    closing: Math.max(LEAST_CLOSE, OF_CLOSE * Math.min(1, square)),
  };
}
