/** Outlines of sections that calipers give by width and height alone. */
import type { Point } from "./outline.ts";
import { evenlySpread, extentOf } from "./polygon.ts";

/** How a section between its width and height is taken: an ellipse, a rectangle, or two arcs that meet in edges. */
export type SectionForm = "round" | "flat" | "lens";

/** Corners of a section; every section of a body has as many, so that one passes into the next. */
const SECTION_CORNERS = 128;

const ELLIPSE = ellipse();
const RECTANGLE = evenlySpread(
  [
    [0.5, -0.5],
    [0.5, 0.5],
    [-0.5, 0.5],
    [-0.5, -0.5],
  ],
  SECTION_CORNERS,
);

/**
 * The outline of a form, in a box of 1 by 1 around the origin.
 *
 * @param flatness height over width: two arcs that meet at right angles differ from two that meet in a knife edge
 */
export function unitOutline(form: SectionForm, flatness: number): readonly Point[] {
  if (form === "lens") return lens(flatness);
  return form === "round" ? ELLIPSE : RECTANGLE;
}

/** A drawn outline moved and stretched into a box of 1 by 1 around the origin. */
export function unitOutlineOf(points: readonly Point[]): readonly Point[] {
  const { left, right, bottom, top } = extentOf(points);
  const [x, y] = [(left + right) / 2, (bottom + top) / 2];
  const unit = points.map(
    ([px, py]): Point => [(px - x) / (right - left), (py - y) / (top - bottom)],
  );
  return evenlySpread(unit, SECTION_CORNERS);
}

/** Corners a little outside the circle, so that the areas agree. */
function ellipse(): Point[] {
  const n = SECTION_CORNERS;
  const radius = 0.5 * Math.sqrt((2 * Math.PI) / n / Math.sin((2 * Math.PI) / n));
  return Array.from({ length: n }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / n;
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  });
}

/** Two equal arcs of a circle; their edges lie at the ends of the longer side. */
function lens(flatness: number): Point[] {
  if (flatness > 1) return lens(1 / flatness).map(([x, y]): Point => [-y, x]);
  const n = SECTION_CORNERS / 2;
  const radius = (1 + flatness * flatness) / (4 * flatness);
  // half the angle that an arc spans as seen from its center
  const half = Math.PI - 2 * Math.atan2(1, flatness);
  const arc = Array.from({ length: n }, (_, i): Point => {
    const angle = half * (1 - (2 * i) / n);
    return [radius * Math.sin(angle), (radius * (Math.cos(angle) - 1)) / flatness + 0.5];
  });
  return [...arc, ...arc.map(([x, y]): Point => [-x, -y])];
}
