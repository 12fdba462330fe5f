import type { Ring } from "./outline.ts";

/** What a straight line meets on its way: stretches of one region each, in order. */
export interface Scan {
  /** Ends of the stretches, m; one more than there are regions. */
  readonly at: readonly number[];
  /** Region of each stretch: 0 is the block, s + 1 the shape s. */
  readonly region: readonly number[];
  /** Share of the outline's normal that lies along the line, at each inner end: 1 = met head-on. */
  readonly normal: readonly number[];
}

/**
 * Scans the line x (axis 0, at height `level`) or y (axis 1, at distance `level`) through shapes; a later shape
 * covers an earlier one.
 */
export function scanLine(
  shapes: readonly (readonly Ring[])[],
  axis: 0 | 1,
  level: number,
  from: number,
  to: number,
): Scan {
  const events: { at: number; shape: number; normal: number }[] = [];
  const other = axis === 0 ? 1 : 0;
  shapes.forEach((rings, shape) => {
    for (const ring of rings)
      for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
        const a = ring[j + other];
        const b = ring[i + other];
        if (a > level === b > level) continue; // half-open: a corner on the line counts once
        const along = ring[i + axis] - ring[j + axis];
        const at = ring[j + axis] + ((level - a) / (b - a)) * along;
        events.push({ at, shape, normal: Math.abs(b - a) / Math.hypot(b - a, along) });
      }
  });
  events.sort((p, q) => p.at - q.at || p.shape - q.shape);
  const inside = new Uint8Array(shapes.length);
  const top = () => {
    for (let s = shapes.length - 1; s >= 0; s--) if (inside[s] === 1) return s + 1;
    return 0;
  };
  const near = (to - from) * 1e-9;
  const at = [from];
  const region: number[] = [];
  const normal: number[] = [];
  let k = 0;
  for (; k < events.length && events[k].at <= from + near; k++) inside[events[k].shape] ^= 1;
  let current = top();
  while (k < events.length && events[k].at < to - near) {
    const place = events[k].at;
    let across = 0;
    // shapes that share an edge change at the same place
    for (; k < events.length && events[k].at <= place + near; k++) {
      inside[events[k].shape] ^= 1;
      across = Math.max(across, events[k].normal);
    }
    const next = top();
    if (next === current) continue;
    region.push(current);
    at.push(place);
    normal.push(across);
    current = next;
  }
  region.push(current);
  at.push(to);
  return { at, region, normal };
}
