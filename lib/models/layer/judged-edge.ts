/** What a window in one dimension is of that in the section, where its joint is judged. */
import type { Layering, Station } from "../../job/types.ts";
import { boxOf, type Outline, type Ring, ringsOf } from "../../shape/outline.ts";
import { partBelow } from "../../shape/parts.ts";
import { distanceToEdge } from "../../shape/polygon.ts";
import { scanLine } from "../../shape/scan.ts";
import { stationOutline, stationThickness } from "../../shape/station-outline.ts";
import { JUDGED_UP_TO, onLevel } from "./section.ts";

/**
 * What of the shares below is taken, and the least: the later end for the opening, the sooner for the close (measured on 45 jobs
 * up to the middle of a bait: the section opens after 0.65 to 1.03 times as long, closes after 0.90 to 2.0; on 45 past it, to nine
 * tenths of the height: 0.87 to 1.00, and 0.89 to 1.41). A color deeper than half of the bait stands out of its half of the mold, and
 * opens by so much later for each half that it is deeper.
 */
const OF_CLOSE = 0.85;
const LEAST_CLOSE = 0.25;
const OF_OPENING = 1.1;
const OF_OPENING_DEEPER = 0.1;

/** Shares of the times in one dimension. */
interface SectionShares {
  readonly opening: number;
  readonly closing: number;
}

/**
 * The edges of the first color along its half of the mold, each as a ring of two corners: not the one on its level, nor what stands
 * out above the parting line.
 */
function wallsOf(lower: Outline | undefined, level: number, parting: number): Ring[] {
  const walls: Ring[] = [];
  for (const ring of lower ? ringsOf(lower) : [])
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [a, b] = [ring[j + 1], ring[i + 1]];
      const isTop = Math.abs(a - level) < 1e-9 && Math.abs(b - level) < 1e-9;
      if (isTop || Math.min(a, b) >= parting - 1e-9) continue;
      const [from, to] = [
        [ring[j], a],
        [ring[i], b],
      ];
      walls.push(Float64Array.of(...upTo(parting, from, to), ...upTo(parting, to, from)));
    }
  return walls;
}

/** The end of a line, or where it crosses a level that it must not go above. */
function upTo(level: number, [x, y]: number[], [otherX, otherY]: number[]): number[] {
  if (y <= level) return [x, y];
  const share = (level - otherY) / (y - otherY);
  return [otherX + share * (x - otherX), level];
}

/** How far the outline is below a place, m. */
function depthBelow(rings: readonly Ring[], { x, y }: { readonly x: number; readonly y: number }) {
  const { bottom, top } = boxOf(rings);
  const { at, region } = scanLine([rings], 1, x, bottom - (top - bottom), y);
  const from = region.indexOf(1);
  return from < 0 ? 0 : y - at[from];
}

/** Of a color so deep: half of its width where it is widest, and at the edge of what is judged its square against that of a flat one. */
function filledTo(
  outline: Outline,
  depth: number,
): { readonly half: number; readonly square: number } {
  const rings = ringsOf(outline);
  const { left, right, bottom, top } = boxOf(rings);
  const lower = partBelow(outline, bottom + depth);
  const edge = onLevel(outline, lower, depth)(JUDGED_UP_TO);
  // the color there is as deep as it is straight below, and as near to the mold as its nearest wall: something between
  const near = distanceToEdge(wallsOf(lower, edge.y, (bottom + top) / 2), [edge.x, edge.y]);
  const widest = lower ? boxOf(ringsOf(lower)).right : right;
  return {
    half: widest - (left + right) / 2,
    square: (near * depthBelow(rings, edge)) / depth ** 2,
  };
}

/**
 * The first color gives its heat to the mold beside it, too: it sets sooner the deeper it is against the half of its width. And at
 * the edge of what is judged it is not as deep as in its middle: times go with the square of the distance to the mold, past the
 * middle of the bait no better than there. A lining is as deep all around, but has less within it than a flat one.
 */
export function sharesInSection(station: Station, { form, depth }: Layering): SectionShares {
  if (form === "skin")
    return {
      opening: 1,
      closing: Math.max(LEAST_CLOSE, 1 - depth / (stationThickness(station) / 2)),
    };
  const outline = stationOutline(station, [0, 0]);
  const { bottom, top } = boxOf(ringsOf(outline));
  const parting = (top - bottom) / 2;
  const filled = filledTo(outline, depth);
  const deeper = Math.max(0, depth / parting - 1);
  const square =
    deeper > 0 ? Math.min(filled.square, filledTo(outline, parting).square) : filled.square;
  return {
    opening: Math.min(
      1,
      (OF_OPENING + OF_OPENING_DEEPER * deeper) / Math.hypot(1, depth / filled.half),
    ),
    closing: Math.max(LEAST_CLOSE, OF_CLOSE * Math.min(1, square)),
  };
}
