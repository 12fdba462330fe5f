/** Whether triangles close to a body: corners welded, edges counted. Coordinates in the unit of the file. */
import type { Triangles } from "./stl.ts";

/** A mesh whose corners are known to be the same where they meet. */
export interface Mesh {
  readonly corners: Float32Array;
  readonly count: number;
  /** Three for each triangle: which corner it is. */
  readonly corner: Int32Array;
  readonly cornerCount: number;
}

/** What is the matter with a mesh. Counts of edges; places are the middle of the first one. */
export interface MeshFaults {
  /** Triangles without area, left out. */
  readonly flat: number;
  /** Edges with one triangle only. */
  readonly open: number;
  readonly openAt: readonly number[] | null;
  /** Edges that three or more triangles share. */
  readonly shared: number;
  readonly sharedAt: readonly number[] | null;
  /** Edges whose two triangles face opposite ways. */
  readonly turned: number;
  readonly turnedAt: readonly number[] | null;
}

/**
 * Whether every edge is run through as often one way as the other: true for a whole mesh, and for hardly any other.
 *
 * A sum over hashes of the edges, with a sign for the direction: it needs no memory, so that two million triangles are
 * known to be whole before the next breath; what is wrong with the others is found by `meshFaults`.
 */
export function isWhole({ corners, count }: Triangles): boolean {
  const bits = bitsOf(corners);
  let sum = 0;
  for (let t = 0; t < 9 * count; t += 9) {
    const a = hashAt(bits, t);
    const b = hashAt(bits, t + 3);
    const c = hashAt(bits, t + 6);
    sum = (sum + directed(a, b) + directed(b, c) + directed(c, a)) | 0;
  }
  return sum === 0;
}

/** Of two corners: the same size either way, with the sign of the way. */
function directed(a: number, b: number): number {
  return mixed(Math.imul(a, 0x9e3779b1) ^ b) - mixed(Math.imul(b, 0x9e3779b1) ^ a);
}

function mixed(h: number): number {
  const once = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
  return Math.imul(once ^ (once >>> 12), 0x297a2d39);
}

/** Of the three coordinates from this place on. */
function hashAt(bits: Int32Array, v: number): number {
  const h =
    Math.imul(bits[v], 0x9e3779b1) ^
    Math.imul(bits[v + 1], 0x85ebca6b) ^
    Math.imul(bits[v + 2], 0xc2b2ae35);
  return mixed(h);
}

/** The bits of a number, in which -0 and 0 are one. */
function bitsOf(corners: Float32Array): Int32Array {
  const bits = new Int32Array(corners.buffer, corners.byteOffset, corners.length);
  for (let i = 0; i < bits.length; i++) if (bits[i] === -0x80000000) bits[i] = 0;
  return bits;
}

/** Corners that are the same to the last bit become one. */
export function weld({ corners, count }: Triangles): Mesh {
  const bits = bitsOf(corners);
  const corner = new Int32Array(3 * count);
  let size = 1 << Math.max(4, Math.ceil(Math.log2(2 * count + 16)));
  let table = new Int32Array(size).fill(-1);
  let first = new Int32Array(Math.max(16, count));
  let n = 0;
  for (let v = 0; v < 3 * count; v++) {
    const mask = size - 1;
    const from = 3 * v;
    let slot = hashAt(bits, from) & mask;
    for (;;) {
      const known = table[slot];
      if (known < 0) {
        table[slot] = n;
        if (n === first.length) first = grown(first);
        first[n] = from;
        corner[v] = n++;
        break;
      }
      const at = first[known];
      if (
        bits[at] === bits[from] &&
        bits[at + 1] === bits[from + 1] &&
        bits[at + 2] === bits[from + 2]
      ) {
        corner[v] = known;
        break;
      }
      slot = (slot + 1) & mask;
    }
    if (2 * n > size) {
      size *= 2;
      table = new Int32Array(size).fill(-1);
      for (let k = 0; k < n; k++) {
        let free = hashAt(bits, first[k]) & (size - 1);
        while (table[free] >= 0) free = (free + 1) & (size - 1);
        table[free] = k;
      }
    }
  }
  return { corners, count, corner, cornerCount: n };
}

function grown(list: Int32Array): Int32Array<ArrayBuffer> {
  const more = new Int32Array(2 * list.length);
  more.set(list);
  return more;
}

/** Counts of the two directions in which an edge is run through, four bits each. */
const DOWN = 16;

/** Every edge of the mesh, and how often triangles run through it either way. */
export function meshFaults({ corners, corner, count }: Mesh): MeshFaults {
  const edges = makeEdges(corner, count);
  let flat = 0;
  for (let t = 0; t < count; t++) {
    const at = 3 * t;
    if (isFlat(corner, at)) flat++;
    else for (let i = 0; i < 3; i++) edges.run(at + i);
  }
  const { open, shared, turned } = edges.faults();
  const middle = (place: number) => {
    if (place < 0) return null;
    const next = nextCorner(place);
    return [0, 1, 2].map((axis) => (corners[3 * place + axis] + corners[3 * next + axis]) / 2);
  };
  return {
    flat,
    open: open.count,
    openAt: middle(open.first),
    shared: shared.count,
    sharedAt: middle(shared.first),
    turned: turned.count,
    turnedAt: middle(turned.first),
  };
}

/** Place of the corner after this one, around its triangle. */
function nextCorner(place: number): number {
  return place % 3 === 2 ? place - 2 : place + 1;
}

/** Faults of a kind: how many edges have it, and where the first one begins in the list of corners, -1: none. */
interface EdgeFault {
  count: number;
  first: number;
}

/** A hash table of edges, each remembered by the place of its first corner in `corner`. */
function makeEdges(corner: Int32Array, triangles: number) {
  const size = 1 << Math.ceil(Math.log2(4 * triangles + 16));
  const mask = size - 1;
  const table = new Int32Array(size).fill(-1);
  const runs = new Uint8Array(size);
  /** The slot of the edge between two corners; taken by `place` when the edge is new. */
  const slotOf = (low: number, high: number, place: number) => {
    let h = Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca6b);
    h ^= h >>> 15;
    let slot = h & mask;
    for (let known = table[slot]; known >= 0; known = table[slot]) {
      const c = corner[known];
      const d = corner[nextCorner(known)];
      if ((c === low && d === high) || (c === high && d === low)) return slot;
      slot = (slot + 1) & mask;
    }
    table[slot] = place;
    return slot;
  };
  return {
    /** A triangle runs along the edge that begins at this place. */
    run(place: number) {
      const a = corner[place];
      const b = corner[nextCorner(place)];
      const slot = a < b ? slotOf(a, b, place) : slotOf(b, a, place);
      const step = a < b ? 1 : DOWN;
      if (((runs[slot] / step) & 15) < 15) runs[slot] += step;
    },
    /** Edges of one triangle only, of more than two, and of two that run the same way. */
    faults() {
      const none = (): EdgeFault => ({ count: 0, first: -1 });
      const [open, shared, turned] = [none(), none(), none()];
      for (let slot = 0; slot < size; slot++) {
        if (table[slot] < 0) continue;
        const up = runs[slot] & 15;
        const down = runs[slot] >> 4;
        if (up === 1 && down === 1) continue;
        const fault = up + down === 2 ? turned : up + down === 1 ? open : shared;
        fault.count++;
        if (fault.first < 0) fault.first = table[slot];
      }
      return { open, shared, turned };
    },
  };
}

/** Two corners in one place: a triangle that has lost its area. */
function isFlat(corner: Int32Array, at: number): boolean {
  return (
    corner[at] === corner[at + 1] ||
    corner[at + 1] === corner[at + 2] ||
    corner[at] === corner[at + 2]
  );
}

/** Corners that lie within a hundred-thousandth of the size become one: text files round them. */
export function weldNearby({ corners, count, written }: Triangles): Mesh {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < corners.length; i++) {
    if (corners[i] < low) low = corners[i];
    if (corners[i] > high) high = corners[i];
  }
  const step = (high - low) * 2e-5;
  const inCellsFrom = (shift: number) =>
    weld({ corners: corners.map((x) => Math.floor((x - low) / step + shift)), count, written });
  // neighbors that a border of the first cells parts lie in one of the second
  const [a, b] = [inCellsFrom(0.25), inCellsFrom(0.75)];
  const parent = Int32Array.from({ length: a.cornerCount }, (_, i) => i);
  const rootOf = (i: number) => {
    let root = i;
    while (parent[root] !== root) root = parent[root] = parent[parent[root]];
    return root;
  };
  const firstIn = new Int32Array(b.cornerCount).fill(-1);
  for (let v = 0; v < 3 * count; v++) {
    const cell = b.corner[v];
    const one = rootOf(a.corner[v]);
    if (firstIn[cell] < 0) firstIn[cell] = one;
    else parent[one] = rootOf(firstIn[cell]);
  }
  const place = new Int32Array(a.cornerCount).fill(-1);
  const corner = a.corner.map(rootOf);
  const moved = corners.slice();
  for (let v = 0; v < 3 * count; v++) {
    if (place[corner[v]] < 0) place[corner[v]] = v;
    for (let i = 0; i < 3; i++) moved[3 * v + i] = corners[3 * place[corner[v]] + i];
  }
  return { corners: moved, count, corner, cornerCount: a.cornerCount };
}
