/** Cuts through a mesh at right angles to one axis. Coordinates in the unit of the file. */
import type { Mesh } from "./mesh-check.ts";
import type { Point } from "./outline.ts";

/** What a plane cuts out of a mesh. */
export interface Cut {
  readonly at: number;
  /** Closed loops; where the mesh is open, the gap is bridged straight. */
  readonly loops: readonly (readonly Point[])[];
  /** Gaps that were bridged. */
  readonly bridged: number;
}

/** Which coordinates lie along the cuts' axis, across it, and up. */
export interface Axes {
  readonly along: 0 | 1 | 2;
  readonly across: 0 | 1 | 2;
  readonly up: 0 | 1 | 2;
}

/**
 * Loops of a mesh at evenly spread planes.
 *
 * A corner on a plane counts as above it, so that every triangle is crossed in no edge or in two, and loops follow from
 * edge to edge without comparing coordinates.
 *
 * @param planes rising, one step apart
 */
export function meshCuts(mesh: Mesh, axes: Axes, planes: readonly number[]): Cut[] {
  const { corners, corner, count, cornerCount } = mesh;
  const chains = planes.map(() => new Chains());
  for (let t = 0; t < count; t++) {
    const at = 9 * t + axes.along;
    const [from, to] = crossedPlanes(corners[at], corners[at + 3], corners[at + 6], planes);
    for (let k = from; k <= to; k++) {
      const plane = planes[k];
      let before = -1;
      for (let i = 0; i < 3; i++) {
        const j = i === 2 ? 0 : i + 1;
        const p = corners[at + 3 * i];
        const q = corners[at + 3 * j];
        if (p >= plane === q >= plane) continue;
        const m = corner[3 * t + i];
        const n = corner[3 * t + j];
        const key = m < n ? m * cornerCount + n : n * cornerCount + m;
        let id = chains[k].idOf(key);
        if (id < 0) {
          const s = (plane - p) / (q - p);
          const u = 9 * t + 3 * i;
          const v = 9 * t + 3 * j;
          id = chains[k].add(
            key,
            corners[u + axes.across] + s * (corners[v + axes.across] - corners[u + axes.across]),
            corners[u + axes.up] + s * (corners[v + axes.up] - corners[u + axes.up]),
          );
        }
        if (before < 0) before = id;
        else chains[k].link(before, id);
      }
    }
  }
  return planes.map((at, k) => ({ at, ...chains[k].loops() }));
}

/** First and last of the planes between three coordinates; the first comes after the last where there is none. */
export function crossedPlanes(
  a: number,
  b: number,
  c: number,
  planes: readonly number[],
): readonly [number, number] {
  const first = planes[0];
  const step = planes.length > 1 ? planes[1] - first : 1;
  return [
    Math.max(0, Math.ceil((Math.min(a, b, c) - first) / step - 1e-9)),
    Math.min(planes.length - 1, Math.floor((Math.max(a, b, c) - first) / step + 1e-9)),
  ];
}

/** Points on edges, each linked to the next ones by the triangles between them. */
class Chains {
  private readonly ids = new Map<number, number>();
  private readonly points: Point[] = [];
  /** Two for each point; -1: none. */
  private readonly links: number[] = [];

  idOf(key: number): number {
    return this.ids.get(key) ?? -1;
  }

  add(key: number, x: number, y: number): number {
    const id = this.points.length;
    this.ids.set(key, id);
    this.points.push([x, y]);
    this.links.push(-1, -1);
    return id;
  }

  /** A third link, where more than two triangles share an edge, is left out. */
  link(a: number, b: number): void {
    this.put(a, b);
    this.put(b, a);
  }

  private put(from: number, to: number): void {
    const at = 2 * from;
    if (this.links[at] < 0) this.links[at] = to;
    else if (this.links[at + 1] < 0) this.links[at + 1] = to;
  }

  loops(): { loops: Point[][]; bridged: number } {
    const used = new Uint8Array(this.points.length);
    const follow = (start: number) => {
      const ring: Point[] = [];
      let here = start;
      while (here >= 0 && used[here] === 0) {
        used[here] = 1;
        ring.push(this.points[here]);
        const [a, b] = [this.links[2 * here], this.links[2 * here + 1]];
        here = a >= 0 && used[a] === 0 ? a : b >= 0 && used[b] === 0 ? b : -1;
      }
      return ring;
    };
    const open: Point[][] = [];
    const closed: Point[][] = [];
    // chains with ends first, so that they are followed from end to end
    for (let id = 0; id < used.length; id++)
      if (used[id] === 0 && this.links[2 * id + 1] < 0) open.push(follow(id));
    for (let id = 0; id < used.length; id++) if (used[id] === 0) closed.push(follow(id));
    return {
      loops: [...closed, ...bridged(open)].filter((ring) => ring.length > 2),
      bridged: open.length,
    };
  }
}

/** Open chains joined by their nearest ends until each is closed. */
function bridged(chains: Point[][]): Point[][] {
  const done: Point[][] = [];
  const rest = [...chains];
  const gap = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]);
  while (rest.length > 0) {
    let chain = rest.pop()!;
    for (;;) {
      const end = chain[chain.length - 1];
      let best = { distance: gap(end, chain[0]), k: -1, flip: false };
      rest.forEach((other, k) => {
        const head = gap(end, other[0]);
        const tail = gap(end, other[other.length - 1]);
        if (Math.min(head, tail) < best.distance)
          best = { distance: Math.min(head, tail), k, flip: tail < head };
      });
      if (best.k < 0) break;
      const [other] = rest.splice(best.k, 1);
      chain = [...chain, ...(best.flip ? [...other].reverse() : other)];
    }
    done.push(chain);
  }
  return done;
}
