/** Closed outlines in a plane, lengths in m. */

export type Point = readonly [number, number];

/** A closed line in a section, m. */
export type Outline =
  | { readonly kind: "ellipse"; readonly axes: Point; readonly center: Point } // full axes
  | { readonly kind: "rectangle"; readonly size: Point; readonly center: Point }
  | {
      readonly kind: "polygon";
      readonly points: readonly Point[];
      readonly holes?: readonly (readonly Point[])[];
    };

/** Corners, x and y in turn; the last is joined to the first. Outer rings run counterclockwise, holes clockwise. */
export type Ring = Float64Array;

/** Edges of an ellipse: their chords miss the true outline by less than 1e-4 of the axes. */
const ELLIPSE_EDGES = 256;

/** Signed area of a ring, m2: positive when it runs counterclockwise. */
export function ringArea(ring: Ring): number {
  let twice = 0;
  const n = ring.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2)
    twice += ring[j] * ring[i + 1] - ring[i] * ring[j + 1];
  return twice / 2;
}

function turned(points: readonly Point[], counterclockwise: boolean): Ring {
  const ring = Float64Array.from(points.flat());
  if (ringArea(ring) > 0 === counterclockwise) return ring;
  return Float64Array.from([...points].reverse().flat());
}

/** The rings of an outline. An ellipse becomes a polygon of the same area. */
export function ringsOf(outline: Outline): Ring[] {
  if (outline.kind === "polygon")
    return [
      turned(outline.points, true),
      ...(outline.holes ?? []).map((hole) => turned(hole, false)),
    ];
  const [cx, cy] = outline.center;
  if (outline.kind === "rectangle") {
    const [w, h] = [outline.size[0] / 2, outline.size[1] / 2];
    return [Float64Array.of(cx - w, cy - h, cx + w, cy - h, cx + w, cy + h, cx - w, cy + h)];
  }
  const n = ELLIPSE_EDGES;
  // a polygon with corners on the ellipse would be too small: let the areas agree
  const grow = Math.sqrt((2 * Math.PI) / n / Math.sin((2 * Math.PI) / n));
  const ring = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const angle = (2 * Math.PI * (i + 0.5)) / n;
    ring[2 * i] = cx + grow * 0.5 * outline.axes[0] * Math.cos(angle);
    ring[2 * i + 1] = cy + grow * 0.5 * outline.axes[1] * Math.sin(angle);
  }
  return [ring];
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

export function boxOf(rings: readonly Ring[]): Box {
  let [left, right, bottom, top] = [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const ring of rings)
    for (let i = 0; i < ring.length; i += 2) {
      left = Math.min(left, ring[i]);
      right = Math.max(right, ring[i]);
      bottom = Math.min(bottom, ring[i + 1]);
      top = Math.max(top, ring[i + 1]);
    }
  return { left, right, bottom, top };
}
