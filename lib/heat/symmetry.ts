/**
 * A section that is its own mirror image needs to be solved only on one side of the mirror: half the cells for one
 * mirror, a quarter for two. Names, results and pictures stay those of the whole section.
 */
import type { Outline, Point } from "../shape/outline.ts";
import type { Boundary, HeatProblem, Probe, Side, Snapshot } from "./problem.ts";

interface Folded {
  readonly problem: HeatProblem;
  /** The whole picture from that of the part that was solved. */
  unfold(snapshot: Snapshot): Snapshot;
}

type Axis = 0 | 1;
const PAIRS: readonly (readonly [Side, Side])[] = [
  ["left", "right"],
  ["bottom", "top"],
];

/** The part of a problem that has to be solved; the problem itself where it has no mirror. */
export function foldSymmetric(problem: HeatProblem): Folded {
  let folded = problem;
  const axes: Axis[] = [];
  if (problem.useSymmetry !== false && problem.block)
    for (const axis of [0, 1] as const)
      if (isMirrored(problem, axis)) {
        folded = halfOf(folded, axis);
        axes.push(axis);
      }
  return {
    problem: folded,
    unfold: (snapshot) => axes.reduce(unfoldAlong, snapshot),
  };
}

function isMirrored(problem: HeatProblem, axis: Axis): boolean {
  // the axis of a round body is no mirror: r runs outwards only
  if (problem.frame !== "section" && !(problem.frame === "round" && axis === 1)) return false;
  const { block, shapes = [] } = problem;
  if (!block) return false;
  const [low, high] = PAIRS[axis];
  if (!alike(problem.boundary[low], problem.boundary[high])) return false;
  if (!problem.stages.every((s) => alike(s.boundary?.[low], s.boundary?.[high]))) return false;
  const middle = (axis === 0 ? block.width : block.height) / 2;
  return shapes.every((s) => isOwnImage(s.outline, axis, middle));
}

function alike(a: Boundary | undefined, b: Boundary | undefined): boolean {
  if (a === b) return true;
  if (a === undefined || b === undefined || a.kind !== b.kind) return false;
  const [p, q] = [Object.entries(a), new Map(Object.entries(b))];
  return p.length === q.size && p.every(([key, value]) => sameLaw(value, q.get(key)));
}

function sameLaw(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  return typeof a === "object" && typeof b === "object" && JSON.stringify(a) === JSON.stringify(b);
}

function isOwnImage(outline: Outline, axis: Axis, middle: number): boolean {
  const near = middle * 1e-9;
  if (outline.kind !== "polygon") return Math.abs(outline.center[axis] - middle) < near;
  const other = axis === 0 ? 1 : 0;
  const meets = (p: Point, q: Point) =>
    Math.abs(q[axis] - (2 * middle - p[axis])) < near && Math.abs(q[other] - p[other]) < near;
  // the corners and the edges between them: the image runs through the same ring the other way round
  const mirrored = (ring: readonly Point[]) => {
    const n = ring.length;
    return ring.some((_, start) => ring.every((p, k) => meets(p, ring[(start - k + 2 * n) % n])));
  };
  return [outline.points, ...(outline.holes ?? [])].every(mirrored);
}

/** The half above the middle, moved to start at 0; its lower side is the mirror. */
function halfOf(problem: HeatProblem, axis: Axis): HeatProblem {
  const { block } = problem;
  if (!block) return problem;
  const whole = axis === 0 ? block.width : block.height;
  const middle = whole / 2;
  const [low] = PAIRS[axis];
  const moved = (p: Point): Point => (axis === 0 ? [p[0] - middle, p[1]] : [p[0], p[1] - middle]);
  const shift = (o: Outline): Outline =>
    o.kind === "polygon"
      ? {
          ...o,
          points: o.points.map(moved),
          ...(o.holes ? { holes: o.holes.map((h) => h.map(moved)) } : {}),
        }
      : { ...o, center: moved(o.center) };
  const fold = (p: Probe): Probe => {
    if (p.kind !== "point") return p;
    const at = axis === 0 ? p.x : (p.y ?? middle);
    const flipped = at < middle;
    const place = (flipped ? whole - at : at) - middle;
    const side = p.side === undefined || !flipped ? p.side : p.side === "left" ? "right" : "left";
    return {
      kind: "point",
      x: axis === 0 ? place : p.x,
      y: axis === 0 ? (p.y ?? 0) : place,
      ...(side ? { side } : {}),
    };
  };
  return {
    ...problem,
    block: { ...block, ...(axis === 0 ? { width: middle } : { height: middle }) },
    ...(problem.shapes
      ? { shapes: problem.shapes.map((s) => ({ ...s, outline: shift(s.outline) })) }
      : {}),
    boundary: { ...problem.boundary, [low]: { kind: "insulated" } },
    stages: problem.stages.map((s) => {
      if (!s.boundary) return s;
      const { [low]: _mirror, ...others } = s.boundary;
      return { ...s, boundary: others };
    }),
    probes: Object.fromEntries(Object.entries(problem.probes).map(([k, p]) => [k, fold(p)])),
    mirrors: [...(problem.mirrors ?? []), low],
  };
}

/** A snapshot with its mirror image beyond its left (axis 0) or lower side (axis 1); it starts at 0 again. */
export function unfoldAlong(s: Snapshot, axis: 0 | 1): Snapshot {
  const lines = axis === 0 ? s.x : s.y;
  const n = lines.length - 1;
  const end = lines[n];
  const whole = new Float32Array(2 * n + 1);
  for (let i = 0; i <= n; i++) {
    whole[n + i] = end + lines[i];
    whole[n - i] = end - lines[i];
  }
  const nx = s.x.length - 1;
  const ny = s.y.length - 1;
  const spread = (field: Float32Array) =>
    axis === 0 ? leftMirrored(field, nx, ny) : belowMirrored(field, nx, ny);
  return {
    time: s.time,
    x: axis === 0 ? whole : s.x,
    y: axis === 1 ? whole : s.y,
    temperature: spread(s.temperature),
    ...(s.cure ? { cure: spread(s.cure) } : {}),
  };
}

/** Rows of `nx` with the image of each before it. */
function leftMirrored(field: Float32Array, nx: number, ny: number): Float32Array {
  const out = new Float32Array(2 * nx * ny);
  for (let j = 0; j < ny; j++) {
    const [row, middle] = [j * nx, (2 * j + 1) * nx];
    for (let i = 0; i < nx; i++) {
      out[middle + i] = field[row + i];
      out[middle - 1 - i] = field[row + i];
    }
  }
  return out;
}

/** `ny` rows with their image below them. */
function belowMirrored(field: Float32Array, nx: number, ny: number): Float32Array {
  const out = new Float32Array(2 * nx * ny);
  for (let j = 0; j < ny; j++) {
    const row = field.subarray(j * nx, (j + 1) * nx);
    out.set(row, (ny + j) * nx);
    out.set(row, (ny - 1 - j) * nx);
  }
  return out;
}
