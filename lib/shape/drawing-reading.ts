/** From the views of a drawing to the slices of a bait. Lengths m. */
import { InputError, type Problem } from "../units/problem.ts";
import { type DrawnLine, readDrawing } from "./drawing.ts";
import type { Point } from "./outline.ts";
import { outlineFault } from "./outline-fault.ts";
import { extentOf, measuresOf } from "./polygon.ts";
import type { SectionForm } from "./section-form.ts";
import { unitOutline } from "./section-form.ts";
import { cutsAlong, type Finding, type Reading, type Slice } from "./slice.ts";
import { stationArea, stationThickness } from "./station-outline.ts";

/** What a drawing itself may not say: its size, and the form of its sections. */
export interface DrawingOptions {
  /** Length of what is marked `mark` in the drawing, m. */
  readonly mark?: number;
  /** Length of the bait, m. */
  readonly length?: number;
  /** How sections are taken between width and height; left out: round. */
  readonly form?: SectionForm;
  /** On which side the nose lies; left out: where the body is thicker. */
  readonly nose?: "left" | "right";
}

/** The two views may differ by this share in length: drawn by hand. */
const VIEWS_AGREE = 0.06;

/**
 * Reads a bait from an SVG drawing of its side, and of its top where that is drawn.
 *
 * @throws InputError as `readDrawing`; `drawing_roles`, `drawing_scale`, `drawing_open`, `outline_crosses`,
 * `outline_without_area`, `views_differ`, `bait_too_long`, `bait_too_short`
 * @example readViews('<svg><ellipse id="side" cx="50" cy="10" rx="50" ry="10"/></svg>', { length: 0.1 }).length // 0.1
 */
export function readViews(text: string, options: DrawingOptions): Reading {
  const { lines, unit } = readDrawing(text);
  const { side, top } = viewsOf(lines);
  for (const view of top ? [side, top] : [side]) refuseFaulty(view);
  const sideBox = extentOf(side.points);
  const drawnLong = sideBox.right - sideBox.left;
  const scale = scaleOf(lines, options, unit, drawnLong);
  const length = drawnLong * scale;
  if (length > 1 || length < 0.01)
    throw new InputError([
      {
        code: length > 1 ? "bait_too_long" : "bait_too_short",
        path: side.name,
        given: `${Number((length * 1000).toPrecision(3))} mm`,
        least: "10 mm",
        most: "1000 mm",
      },
    ]);
  const found: Finding[] = [];
  const topBox = top && extentOf(top.points);
  if (topBox) {
    const other = (topBox.right - topBox.left) * scale;
    if (Math.abs(other / length - 1) > VIEWS_AGREE)
      throw new InputError([
        {
          code: "views_differ",
          path: top.name,
          given: `${Number((other * 1000).toPrecision(3))} mm`,
          possible: [`${Number((length * 1000).toPrecision(3))} mm`],
        },
      ]);
  } else found.push({ finding: "width_from_height" });
  const form = options.form ?? "round";
  const heights = stretchesOf(side.points);
  const widths = top ? stretchesOf(top.points) : null;
  const middleUp = (-(sideBox.bottom + sideBox.top) / 2) * scale;
  const slices = cutsAlong(0, 1).map((share): Slice => {
    const up = heights(share);
    const across = widths ? widths(share) : up;
    if (up.pieces > 1 && found.every(({ finding }) => finding !== "several_pieces"))
      found.push({ finding: "several_pieces" });
    const [width, height] = [across.sum * scale, up.sum * scale];
    const section = {
      width,
      height,
      form: form === "flat" ? ("flat" as const) : ("round" as const),
      ...(form === "lens" && { outline: unitOutline("lens", height / Math.max(width, 1e-12)) }),
    };
    const there = width > 0 && height > 0;
    return {
      at: share * length,
      width,
      height,
      form,
      // y runs down in a drawing
      rise: -up.middle * scale - middleUp,
      area: there ? stationArea(section) : 0,
      thickness: there ? stationThickness(section) : 0,
    };
  });
  return oriented({ length, slices, findings: found }, options.nose);
}

/** Closed lines by their role; a single one is the side. */
function viewsOf(lines: readonly DrawnLine[]): { side: DrawnLine; top: DrawnLine | null } {
  const area = ({ points }: DrawnLine) => (points.length < 3 ? 0 : measuresOf(points).area);
  const largest = (list: readonly DrawnLine[]) =>
    list.reduce<DrawnLine | null>((a, b) => (a && area(a) >= area(b) ? a : b), null);
  const side = largest(lines.filter(({ role }) => role === "side"));
  const top = largest(lines.filter(({ role }) => role === "top"));
  if (side) return { side, top };
  const rest = lines.filter(({ role, points }) => role === null && points.length > 2);
  if (rest.length === 1) return { side: rest[0], top };
  throw new InputError([
    {
      code: "drawing_roles",
      path: "",
      given: rest.length,
      possible: rest.slice(0, 6).map(({ name }) => name),
    },
  ]);
}

function refuseFaulty({ points, closed, name }: DrawnLine): void {
  const at = ([x, y]: Point) => `(${Number(x.toPrecision(4))}, ${Number(y.toPrecision(4))})`;
  if (!closed)
    throw new InputError([
      {
        code: "drawing_open",
        path: name,
        given: at(points[points.length - 1]),
        possible: [at(points[0])],
      },
    ]);
  const fault = outlineFault(points);
  if (fault) throw new InputError([{ code: fault.code, path: name, given: at(fault.at) }]);
}

function scaleOf(
  lines: readonly DrawnLine[],
  { mark, length }: DrawingOptions,
  unit: number | null,
  drawnLong: number,
): number {
  if (length !== undefined) return length / drawnLong;
  const marks = lines.filter(({ role }) => role === "mark");
  if (mark !== undefined && marks.length > 0) {
    const sizes = marks.map(({ points }) => {
      const { left, right, bottom, top } = extentOf(points);
      return Math.hypot(right - left, top - bottom);
    });
    return mark / Math.max(...sizes);
  }
  if (mark === undefined && marks.length === 0 && unit !== null) return unit;
  const problem: Problem = { code: "drawing_scale", path: mark === undefined ? "mark" : "drawing" };
  throw new InputError([problem]);
}

/** Lengths of an outline along the vertical at a share of its width: their sum, and the middle of the longest. */
function stretchesOf(points: readonly Point[]) {
  const { left, right } = extentOf(points);
  return (share: number) => {
    const x = left + share * (right - left);
    const met: number[] = [];
    for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
      const [[ax, ay], [bx, by]] = [points[j], points[i]];
      if (ax > x !== bx > x) met.push(ay + ((x - ax) / (bx - ax)) * (by - ay));
    }
    met.sort((a, b) => a - b);
    let [sum, longest, middle] = [0, 0, 0];
    for (let k = 0; k + 1 < met.length; k += 2) {
      const long = met[k + 1] - met[k];
      sum += long;
      if (long > longest) [longest, middle] = [long, (met[k] + met[k + 1]) / 2];
    }
    return { sum, middle, pieces: met.length / 2 };
  };
}

function oriented(reading: Reading, nose: DrawingOptions["nose"]): Reading {
  const { length, slices } = reading;
  const area = slices.reduce((sum, s) => sum + s.area, 0);
  const along = slices.reduce((sum, s) => sum + s.area * s.at, 0) / area;
  const axis = slices.reduce((a, b) => (b.thickness > a.thickness ? b : a)).rise;
  const level = slices.map((s): Slice => ({ ...s, rise: s.rise - axis }));
  if (nose === "left" || (nose === undefined && along <= length / 2))
    return { ...reading, slices: level };
  return { ...reading, slices: level.map((s): Slice => ({ ...s, at: length - s.at })).reverse() };
}
