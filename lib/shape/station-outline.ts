/** The outline of a section of given width and height, drawn or not. Lengths m. */
import type { Outline, Point } from "./outline.ts";
import { extentOf, largestCircle, measuresOf } from "./polygon.ts";

/** What a section's outline follows from. */
interface SectionSize {
  readonly width: number;
  readonly height: number;
  readonly form: "round" | "flat";
  /** Stretched to width and height; left out: an ellipse, or a rectangle where `flat`. */
  readonly outline?: readonly Point[];
}

/** The section with its middle at `center`. */
export function stationOutline(
  { width, height, form, outline }: SectionSize,
  center: Point,
): Outline {
  if (outline) {
    const { left, right, bottom, top } = extentOf(outline);
    const [across, up] = [width / (right - left), height / (top - bottom)];
    return {
      kind: "polygon",
      points: outline.map(
        ([x, y]): Point => [
          center[0] + (x - (left + right) / 2) * across,
          center[1] + (y - (bottom + top) / 2) * up,
        ],
      ),
    };
  }
  return form === "flat"
    ? { kind: "rectangle", size: [width, height], center }
    : { kind: "ellipse", axes: [width, height], center };
}

/** Diameter of the largest circle that fits in, m. */
export function stationThickness(section: SectionSize): number {
  const drawn = stationOutline(section, [0, 0]);
  if (drawn.kind !== "polygon") return Math.min(section.width, section.height);
  return 2 * largestCircle(drawn.points).radius;
}

/** Area of the section, m2. */
export function stationArea(section: SectionSize): number {
  const drawn = stationOutline(section, [0, 0]);
  if (drawn.kind === "polygon") return measuresOf(drawn.points).area;
  return (section.form === "flat" ? 1 : Math.PI / 4) * section.width * section.height;
}

/** True where the outline is its own image in both axes through its middle. */
export function isSymmetric({ outline }: SectionSize): boolean {
  if (!outline) return true;
  const { left, right, bottom, top } = extentOf(outline);
  const near = 1e-6 * Math.max(right - left, top - bottom);
  const points = outline.map(([x, y]): Point => [x - (left + right) / 2, y - (bottom + top) / 2]);
  const has = (x: number, y: number) =>
    points.some(([u, v]) => Math.abs(u - x) < near && Math.abs(v - y) < near);
  return points.every(([x, y]) => has(-x, y) && has(x, -y));
}
