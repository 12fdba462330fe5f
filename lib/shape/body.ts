/**
 * A body from its sections: what lies between two of them is their smooth passage into one another. Lengths m, the nose
 * at 0, x across, y up.
 *
 * Squares of width and height are joined, not the sides themselves: an ellipsoid's are a parabola, so that a round nose
 * comes out round. Joined straight, the sides run from section to section and to the tips.
 */
import { linearAt } from "../numerics/linear.ts";
import { monotoneCubic } from "../numerics/monotone.ts";
import type { Point } from "./outline.ts";
import { largestCircle, measuresOf, perimeterOf } from "./polygon.ts";
import { type SectionForm, unitOutline, unitOutlineOf } from "./section-form.ts";

/** A section where it was measured. */
export interface BodySection {
  /** From the nose, m. */
  readonly at: number;
  readonly width: number; // m, across
  readonly height: number; // m, up
  readonly form: SectionForm;
  /** Its own outline, stretched to width and height; left out: by `form`. */
  readonly outline?: readonly Point[];
  /** How far its middle lies above the body's axis, m; left out: 0. */
  readonly rise?: number;
}

/** A bait as sections along its length, joined smoothly. m. */
export interface Body {
  readonly length: number;
  readonly sections: readonly BodySection[];
  /** Corners of the section at a place, m, around the body's axis. */
  outlineAt(at: number): Point[];
  /** Area of that outline, m2, without its corners. */
  areaAt(at: number): number;
  /** Width, height and the middle of the section at a place, m. */
  sizeAt(at: number): { readonly width: number; readonly height: number; readonly rise: number };
}

/**
 * The body through its sections, closed at nose and tail: to a tip where no section stands at the end itself.
 *
 * @param sections in order from the nose, each between 0 and `length`
 * @param joined how their sides run between them
 * @example bodyOf(0.1, [{ at: 0.05, width: 0.02, height: 0.02, form: "round" }]).sizeAt(0.05).width // 0.02
 */
export function bodyOf(
  length: number,
  sections: readonly BodySection[],
  joined: "smoothly" | "straight" = "smoothly",
): Body {
  const tip = (at: number, like: BodySection): BodySection => ({
    ...like,
    at,
    width: 0,
    height: 0,
  });
  const first = sections[0];
  const last = sections[sections.length - 1];
  const near = length * 1e-9;
  const all = [
    ...(first.at > near ? [tip(0, first)] : []),
    ...sections,
    ...(last.at < length - near ? [tip(length, last)] : []),
  ];
  const at = all.map((s) => s.at);
  const smooth = (value: (s: BodySection) => number) => monotoneCubic(at, all.map(value));
  const sideOf = (side: (s: BodySection) => number) => {
    if (joined === "straight") return (x: number) => linearAt(at, all.map(side), x);
    const square = smooth((s) => side(s) ** 2);
    return (x: number) => Math.sqrt(Math.max(0, square(x)));
  };
  const width = sideOf((s) => s.width);
  const height = sideOf((s) => s.height);
  const rise = smooth((s) => s.rise ?? 0);
  const units = all.map((s) =>
    s.outline
      ? unitOutlineOf(s.outline)
      : unitOutline(s.form, s.width > 0 ? s.height / s.width : 1),
  );
  // a tip takes over the form of the section beside it
  if (all[0].width === 0) units[0] = units[1];
  if (all[all.length - 1].width === 0) units[all.length - 1] = units[all.length - 2];
  const sizeAt = (x: number) => ({
    width: width(x),
    height: height(x),
    rise: rise(x),
  });
  /** The section before a place, and the share of the way to the next. */
  const between = (x: number) => {
    let i = 0;
    while (i < all.length - 2 && at[i + 1] <= x) i++;
    return { i, share: Math.min(1, Math.max(0, (x - at[i]) / (at[i + 1] - at[i]))) };
  };
  const unitAreas = all.map((): readonly number[] | undefined => undefined);
  return {
    length,
    sections,
    sizeAt,
    areaAt(x) {
      const { i, share } = between(x);
      unitAreas[i] ??= passingAreas(units[i], units[i + 1]);
      const [from, half, to] = unitAreas[i];
      const bend = 2 * (from + to - 2 * half);
      return width(x) * height(x) * (from + share * (to - from) - share * (1 - share) * bend);
    },
    outlineAt(x) {
      const { i, share } = between(x);
      const { width, height, rise } = sizeAt(x);
      const [a, b] = [units[i], units[i + 1]];
      return a.map(
        ([u, v], k): Point => [
          width * (u + share * (b[k][0] - u)),
          rise + height * (v + share * (b[k][1] - v)),
        ],
      );
    },
  };
}

/** Areas of one outline that passes straight into another, corner by corner: at the start, halfway, at the end. A parabola. */
function passingAreas(a: readonly Point[], b: readonly Point[]): number[] {
  const half = a.map(([u, v], k): Point => [(u + b[k][0]) / 2, (v + b[k][1]) / 2]);
  return [a, half, b].map((points) => measuresOf(points).area);
}

/** Volume, surface and where they lie. */
export interface BodyMeasures {
  readonly length: number; // m
  readonly volume: number; // m3
  readonly surface: number; // m2
  /** Along from the nose, across and up from the axis, m. */
  readonly centroid: { readonly along: number; readonly across: number; readonly up: number };
  /** Second moments of the volume about its centroid, m5: integral of the square of each distance. */
  readonly second: { readonly along: number; readonly across: number; readonly up: number };
}

/** Places between two sections; nearer to each other at both ends, where tips are round. */
const BETWEEN = 48;

/** Places along the body, and the weight of each for an integral. */
function placesAlong({ length, sections }: Body): { readonly x: number; readonly dx: number }[] {
  const stops = [...new Set([0, ...sections.map(({ at }) => at), length])].sort((a, b) => a - b);
  return stops.slice(1).flatMap((to, i) => {
    const from = stops[i];
    return Array.from({ length: BETWEEN }, (_, k) => {
      const [a, b] = [k, k + 1].map((j) => (1 - Math.cos((Math.PI * j) / BETWEEN)) / 2);
      return { x: from + ((a + b) / 2) * (to - from), dx: (b - a) * (to - from) };
    });
  });
}

/** The volume alone, m3, in a hundredth of the time of all measures. */
export function bodyVolume(body: Body): number {
  return placesAlong(body).reduce((total, { x, dx }) => total + body.areaAt(x) * dx, 0);
}

/**
 * Measures of a body.
 *
 * @example bodyMeasures(bodyOf(0.1, [{ at: 0.05, width: 0.02, height: 0.02, form: "round" }])).volume // 2.1e-5
 */
export function bodyMeasures(body: Body): BodyMeasures {
  const slices = placesAlong(body).map(({ x, dx }) => {
    const outline = body.outlineAt(x);
    return { x, dx, around: perimeterOf(outline), ...measuresOf(outline) };
  });
  const sum = (of: (slice: (typeof slices)[number]) => number) =>
    slices.reduce((total, slice) => total + of(slice) * slice.dx, 0);
  const volume = sum(({ area }) => area);
  const along = sum(({ x, area }) => x * area) / volume;
  const across = sum(({ centroid, area }) => centroid[0] * area) / volume;
  const up = sum(({ centroid, area }) => centroid[1] * area) / volume;
  return {
    length: body.length,
    volume,
    surface: surfaceOf(body),
    centroid: { along, across, up },
    second: {
      along: sum(({ x, area }) => (x - along) ** 2 * area),
      across: sum(({ centroid, alongX, area }) => alongX + (centroid[0] - across) ** 2 * area),
      up: sum(({ centroid, alongY, area }) => alongY + (centroid[1] - up) ** 2 * area),
    },
  };
}

/** Between neighboring outlines: strips of triangles, and the flat ends where the body does not close to a tip. */
function surfaceOf(body: Body): number {
  const places = placesAlong(body);
  const stops = [0, ...places.map(({ x, dx }) => x + dx / 2)];
  let surface = 0;
  let before = body.outlineAt(0);
  surface += measuresOf(before).area;
  for (let k = 1; k < stops.length; k++) {
    const at = Math.min(stops[k], body.length);
    const now = body.outlineAt(at);
    const dx = at - stops[k - 1];
    for (let i = 0, j = now.length - 1; i < now.length; j = i++)
      surface +=
        triangle(before[j], before[i], now[i], dx) + triangle(now[i], now[j], before[j], -dx);
    before = now;
  }
  return surface + measuresOf(before).area;
}

/** Area of the triangle whose third corner lies `dx` farther along than the other two. */
function triangle(a: Point, b: Point, c: Point, dx: number): number {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  const [vx, vy] = [c[0] - a[0], c[1] - a[1]];
  return Math.hypot(ux * vy - uy * vx, ux * dx, uy * dx) / 2;
}

/** A place along the body and how thick it is there: the diameter of the largest circle in its section. */
export interface Thickness {
  readonly at: number; // m
  readonly thickness: number; // m
}

/** How thick a body is at evenly spread places. */
function thicknessAlong(body: Body, places = 120): Thickness[] {
  return Array.from({ length: places }, (_, k) =>
    thicknessAt(body, ((k + 0.5) * body.length) / places),
  );
}

function thicknessAt(body: Body, at: number): Thickness {
  const outline = body.outlineAt(at);
  const { width, height } = body.sizeAt(at);
  if (!(Math.min(width, height) > 1e-9 * body.length)) return { at, thickness: 0 };
  return { at, thickness: 2 * largestCircle(outline).radius };
}

/** Nearer to a tip than this share of the length, a body is thin because it ends there. */
const ENDS = 0.03;

/**
 * The thickest spot, and the thinnest between two thicker ones or, where there is none, of all but the tips. An end that is
 * as thick as its own section is none.
 *
 * @example thickestAndThinnest(bodyOf(0.1, [{ at: 0.05, width: 0.02, height: 0.02, form: "round" }]))
 * .thickest.thickness // 0.020
 */
export function thickestAndThinnest(body: Body): { thickest: Thickness; thinnest: Thickness } {
  const along = thicknessAlong(body);
  const best = along.reduce((a, b) => (b.thickness > a.thickness ? b : a));
  const step = body.length / along.length;
  const thickest = refined(body, best, step, 1);
  const [nose, tail] = [0, body.length].map((at) => thicknessAt(body, at));
  const [from, to] = [nose, tail].map(({ thickness }) => (thickness > 0 ? 0 : ENDS * body.length));
  const inner = along.filter(({ at }) => at > from && at < body.length - to);
  const waists = inner.filter(
    ({ thickness }, i) =>
      i > 0 &&
      i < inner.length - 1 &&
      thickness < inner[i - 1].thickness * (1 - 1e-4) &&
      thickness <= inner[i + 1].thickness,
  );
  const ends = [nose, tail].filter(({ thickness }) => thickness > 0);
  const pool = waists.length > 0 ? waists : [...inner, ...ends];
  const least = pool.reduce((a, b) => (b.thickness < a.thickness ? b : a));
  return { thickest, thinnest: waists.length > 0 ? refined(body, least, step, -1) : least };
}

/** A high or low between its neighbors, found by thirds. */
function refined(body: Body, { at }: Thickness, step: number, want: 1 | -1): Thickness {
  let [low, high] = [Math.max(0, at - step), Math.min(body.length, at + step)];
  for (let turn = 0; turn < 12; turn++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3].map((x) =>
      thicknessAt(body, x),
    );
    if (want * (a.thickness - b.thickness) >= 0) high = b.at;
    else low = a.at;
  }
  return thicknessAt(body, (low + high) / 2);
}
