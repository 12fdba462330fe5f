/**
 * Direct solution of A x = b on a grid of nx by ny cells where each is joined to its four neighbors:
 *
 *     (A x)_i = d_i x_i + sum over neighbors j of g_ij (x_i - x_j),    A symmetric and positive definite
 *
 * Cholesky factors by nested dissection, front by front: the grid is cut in two by a line of cells, each half again,
 * and what a part leaves on its rim is one small dense matrix. Fill n log n, work n^1.5 for n cells, whatever the
 * contrast of the g. The order and all memory are made once; `factor` and `solve` allocate nothing.
 *
 * @source George, Nested dissection of a regular finite element mesh, SIAM J. Numer. Anal. 10 (1973) 345; Duff & Reid,
 * The multifrontal solution of indefinite sparse symmetric linear systems, ACM Trans. Math. Softw. 9 (1983) 302
 */

/** Parts of at most so many cells are not cut further (measured on 2 000 to 40 000 cells). */
const LEAF = 12;

export interface GridCholesky {
  /** Numbers kept of the factors. */
  readonly entries: number;
  /**
   * @param d own coefficient of each cell, > 0 in sum over each joined part
   * @param gx coupling of cell i to i + 1 of its row; that of the last of a row isn't read
   * @param gy coupling of cell i to i + nx
   * @returns false when the matrix is not positive definite
   */
  factor(d: Float64Array, gx: Float64Array, gy: Float64Array): boolean;
  /** Replaces x by A^-1 x, with the last factors; entries of x beyond nx ny are not touched. */
  solve(x: Float64Array): void;
}

/**
 * What factors of a grid cost, counted without making them: numbers kept, and multiply-adds to make them.
 *
 * @example gridCholeskyCost(3, 1).entries // 9
 */
export function gridCholeskyCost(nx: number, ny: number): { entries: number; work: number } {
  let entries = 0;
  let work = 0;
  dissect(nx, ny, ({ own, rim }) => {
    const s = own.length;
    const r = rim.length;
    entries += (s + r) * s;
    // columns of its own, of the rim, and what is left on the rim with its way to the next front
    work += (s * s * s) / 6 + (r * s * s) / 2 + (r * r * s) / 2 + r * r;
  });
  return { entries, work };
}

interface Front {
  /** Cells that are eliminated here. */
  readonly own: number[];
  /** Cells around the part, eliminated later. */
  readonly rim: number[];
  /** How many of the fronts before it hand their remainders to this one. */
  readonly children: number;
}

/** Cells [i0, i1) x [j0, j1) of a grid. */
interface Part {
  readonly i0: number;
  readonly i1: number;
  readonly j0: number;
  readonly j1: number;
}

/** Cells around a part, by their numbers in a grid of nx x ny. */
function rimOf({ i0, i1, j0, j1 }: Part, nx: number, ny: number): number[] {
  const row = j0 > 0 ? cellsOf({ i0, i1, j0: j0 - 1, j1: j0 }, nx) : [];
  const left = i0 > 0 ? cellsOf({ i0: i0 - 1, i1: i0, j0, j1 }, nx) : [];
  const right = i1 < nx ? cellsOf({ i0: i1, i1: i1 + 1, j0, j1 }, nx) : [];
  const last = j1 < ny ? cellsOf({ i0, i1, j0: j1, j1: j1 + 1 }, nx) : [];
  return [...row, ...left, ...right, ...last];
}

function cellsOf({ i0, i1, j0, j1 }: Part, nx: number): number[] {
  const cells: number[] = [];
  for (let j = j0; j < j1; j++) for (let i = i0; i < i1; i++) cells.push(j * nx + i);
  return cells;
}

/** Visits the parts of the grid in the order of elimination: halves first, then the line that parts them. */
function dissect(nx: number, ny: number, visit: (front: Front) => void, joined?: Uint8Array): void {
  const only = (cells: number[]) => (joined ? cells.filter((cell) => joined[cell] === 1) : cells);
  /** Visits a front, if there is anything in it. @returns 1 where it hands something on */
  const hand = (front: Front): number => {
    const { own, rim, children } = front;
    if (own.length + children === 0) return 0;
    visit(front);
    return rim.length > 0 ? 1 : 0;
  };
  const go = (part: Part): number => {
    const { i0, i1, j0, j1 } = part;
    const wide = i1 - i0;
    const high = j1 - j0;
    const rim = only(rimOf(part, nx, ny));
    if (wide * high <= LEAF) {
      return hand({ own: only(cellsOf(part, nx)), rim, children: 0 });
    }
    const across = wide >= high;
    const cut = across ? (i0 + i1) >> 1 : (j0 + j1) >> 1;
    const line = across ? { ...part, i0: cut, i1: cut + 1 } : { ...part, j0: cut, j1: cut + 1 };
    const halves = across
      ? [
          { ...part, i1: cut },
          { ...part, i0: cut + 1 },
        ]
      : [
          { ...part, j1: cut },
          { ...part, j0: cut + 1 },
        ];
    const children = halves
      .filter((half) => half.i1 > half.i0 && half.j1 > half.j0)
      .reduce((sum, half) => sum + go(half), 0);
    return hand({ own: only(cellsOf(line, nx)), rim, children });
  };
  go({ i0: 0, i1: nx, j0: 0, j1: ny });
}

/**
 * @param nx,ny cells along either axis, >= 1
 * @param joined 0 for a cell that no neighbor is coupled to: it takes no room and hardly any work; left out: all may be
 * @example makeGridCholesky(3, 1).entries // 9
 */
export function makeGridCholesky(nx: number, ny: number, joined?: Uint8Array): GridCholesky {
  return new FrontalCholesky(nx, ny, joined);
}

/** A class, whose methods are the same for every grid: closures of each grid's own are compiled anew for every one. */
class FrontalCholesky implements GridCholesky {
  private readonly nx: number;
  private readonly n: number;
  private readonly alone: Int32Array;
  private readonly inverse: Float64Array;
  private readonly count: number;
  // front f: variables cells[first[f]...], owns[f] of them eliminated, then the rim; its factor rows from panel[f]
  private readonly owns: Int32Array;
  private readonly rims: Int32Array;
  private readonly first: Int32Array;
  private readonly panel: Int32Array;
  private readonly cells: Int32Array;
  private readonly children: Int32Array;
  private readonly L: Float64Array;
  private readonly stack: Float64Array;
  private readonly heightOf: Int32Array; // where each waiting remainder begins
  private readonly frontOf: Int32Array;
  private readonly place: Int32Array; // of a cell in the front at work
  private readonly mapped: Int32Array;
  private readonly some: Float64Array;
  private readonly rest: Float64Array;

  constructor(nx: number, ny: number, joined: Uint8Array | undefined) {
    const n = nx * ny;
    this.nx = nx;
    this.n = n;
    const fronts: Front[] = [];
    dissect(nx, ny, (front) => fronts.push(front), joined);
    this.alone = Int32Array.from(
      Array.from(joined ?? []).flatMap((yes, cell) => (yes === 0 ? [cell] : [])),
    );
    this.inverse = new Float64Array(this.alone.length);
    const count = fronts.length;
    this.count = count;
    const owns = Int32Array.from(fronts, (f) => f.own.length);
    const rims = Int32Array.from(fronts, (f) => f.rim.length);
    const first = new Int32Array(count + 1);
    const panel = new Int32Array(count + 1);
    for (let f = 0; f < count; f++) {
      first[f + 1] = first[f] + owns[f] + rims[f];
      panel[f + 1] = panel[f] + (owns[f] + rims[f]) * owns[f];
    }
    const cells = new Int32Array(first[count]);
    for (let f = 0; f < count; f++) {
      cells.set(fronts[f].own, first[f]);
      cells.set(fronts[f].rim, first[f] + owns[f]);
    }
    this.owns = owns;
    this.rims = rims;
    this.first = first;
    this.panel = panel;
    this.cells = cells;
    this.children = Int32Array.from(fronts, (f) => f.children);
    const deepest = stackNeeded(fronts);
    this.L = new Float64Array(panel[count]);
    this.stack = new Float64Array(deepest.numbers);
    this.heightOf = new Int32Array(deepest.fronts + 1);
    this.frontOf = new Int32Array(deepest.fronts + 1);
    this.place = new Int32Array(n);
    this.mapped = new Int32Array(Math.max(...rims, 1));
    const widest = fronts.reduce((most, f) => Math.max(most, f.own.length + f.rim.length), 0);
    this.some = new Float64Array(widest);
    this.rest = new Float64Array(deepest.largest);
  }

  get entries(): number {
    return this.L.length;
  }

  factor(d: Float64Array, gx: Float64Array, gy: Float64Array): boolean {
    const { L, rest, stack, alone, inverse, owns, rims, place, cells } = this;
    L.fill(0);
    for (let k = 0; k < alone.length; k++) inverse[k] = 1 / d[alone[k]];
    let waiting = 0;
    let top = 0;
    for (let f = 0; f < this.count; f++) {
      const s = owns[f];
      const r = rims[f];
      const at = this.first[f];
      const base = this.panel[f];
      for (let k = 0; k < s + r; k++) place[cells[at + k]] = k;
      rest.fill(0, 0, r * r);
      this.assemble(f, d, gx, gy);
      for (let c = 0; c < this.children[f]; c++) {
        waiting--;
        top = this.heightOf[waiting];
        this.addRemainder(this.frontOf[waiting], top, base, s, r);
      }
      if (!eliminate(L, base, s, s + r)) return false;
      if (r > 0) {
        subtractSquare(L, base + s * s, s, r, rest);
        stack.set(r * r === rest.length ? rest : rest.subarray(0, r * r), top);
        this.heightOf[waiting] = top;
        this.frontOf[waiting] = f;
        waiting++;
        top += r * r;
      }
    }
    return true;
  }

  /** The matrix's own entries of the cells that front f eliminates. */
  private assemble(f: number, d: Float64Array, gx: Float64Array, gy: Float64Array): void {
    const { L, cells, nx, n } = this;
    const s = this.owns[f];
    const at = this.first[f];
    const base = this.panel[f];
    for (let k = 0; k < s; k++) {
      const cell = cells[at + k];
      const i = cell % nx;
      const east = i + 1 < nx ? gx[cell] : 0;
      const west = i > 0 ? gx[cell - 1] : 0;
      const north = cell + nx < n ? gy[cell] : 0;
      const south = cell >= nx ? gy[cell - nx] : 0;
      L[base + k * s + k] += d[cell] + east + west + north + south;
      if (i + 1 < nx) this.join(f, k, cell + 1, east);
      if (i > 0) this.join(f, k, cell - 1, west);
      if (cell + nx < n) this.join(f, k, cell + nx, north);
      if (cell >= nx) this.join(f, k, cell - nx, south);
    }
  }

  /** Couples the kth cell of front f to another one that comes after it there. */
  private join(f: number, k: number, other: number, g: number): void {
    const { cells } = this;
    const at = this.first[f];
    const s = this.owns[f];
    const to = this.place[other];
    if (to > k && to < s + this.rims[f] && cells[at + to] === other)
      this.L[this.panel[f] + to * s + k] -= g;
  }

  /** Adds what front `from` left on its rim, lower half by rows, to the front at work. */
  private addRemainder(from: number, begin: number, base: number, s: number, r: number): void {
    const { L, rest, stack, mapped, place, cells } = this;
    const m = this.rims[from];
    const at = this.first[from] + this.owns[from];
    for (let k = 0; k < m; k++) mapped[k] = place[cells[at + k]];
    for (let k = 0; k < m; k++) {
      const row = begin + k * m;
      const a = mapped[k];
      for (let l = 0; l <= k; l++) {
        const b = mapped[l];
        const high = a > b ? a : b;
        const low = a > b ? b : a;
        if (low < s) L[base + high * s + low] += stack[row + l];
        else rest[(high - s) * r + low - s] += stack[row + l];
      }
    }
  }

  solve(x: Float64Array): void {
    const { alone, inverse, count } = this;
    for (let k = 0; k < alone.length; k++) x[alone[k]] *= inverse[k];
    for (let f = 0; f < count; f++) this.forward(f, x);
    for (let f = count - 1; f >= 0; f--) this.backward(f, x);
  }

  private forward(f: number, x: Float64Array): void {
    const { L, owns, rims, first, panel, cells, some: y } = this;
    const s = owns[f];
    const at = first[f];
    const end = s + rims[f];
    let row = panel[f];
    for (let k = 0; k < s; k++, row += s) {
      let sum = x[cells[at + k]];
      for (let l = 0; l < k; l++) sum -= L[row + l] * y[l];
      // the diagonal holds its inverse
      sum *= L[row + k];
      y[k] = sum;
      x[cells[at + k]] = sum;
    }
    let k = s;
    for (; k + 1 < end; k += 2, row += 2 * s) {
      let a = 0;
      let b = 0;
      for (let l = 0, p = row, q = row + s; l < s; l++, p++, q++) {
        const v = y[l];
        a += L[p] * v;
        b += L[q] * v;
      }
      x[cells[at + k]] -= a;
      x[cells[at + k + 1]] -= b;
    }
    if (k < end) {
      let a = 0;
      for (let l = 0; l < s; l++) a += L[row + l] * y[l];
      x[cells[at + k]] -= a;
    }
  }

  private backward(f: number, x: Float64Array): void {
    const { L, owns, rims, first, panel, cells, some: y } = this;
    const s = owns[f];
    const at = first[f];
    const end = s + rims[f];
    for (let l = 0; l < s; l++) y[l] = x[cells[at + l]];
    let row = panel[f] + s * s;
    let k = s;
    for (; k + 1 < end; k += 2, row += 2 * s) {
      const v = x[cells[at + k]];
      const w = x[cells[at + k + 1]];
      for (let l = 0, p = row, q = row + s; l < s; l++, p++, q++) y[l] -= L[p] * v + L[q] * w;
    }
    if (k < end) {
      const v = x[cells[at + k]];
      for (let l = 0; l < s; l++) y[l] -= L[row + l] * v;
    }
    row = panel[f] + (s - 1) * s;
    for (let k = s - 1; k >= 0; k--, row -= s) {
      const v = y[k] * L[row + k];
      x[cells[at + k]] = v;
      for (let l = 0; l < k; l++) y[l] -= L[row + l] * v;
    }
  }
}

/** Most numbers and remainders that wait at a time, and the largest remainder. */
function stackNeeded(fronts: readonly Front[]): {
  numbers: number;
  fronts: number;
  largest: number;
} {
  const sizes: number[] = [];
  let sum = 0;
  let numbers = 1;
  let most = 1;
  let largest = 1;
  for (const { rim, children } of fronts) {
    for (let c = 0; c < children; c++) sum -= sizes.pop() ?? 0;
    const size = rim.length ** 2;
    if (size > 0) {
      sizes.push(size);
      sum += size;
    }
    numbers = Math.max(numbers, sum);
    most = Math.max(most, sizes.length);
    largest = Math.max(largest, size);
  }
  return { numbers, fronts: most, largest };
}

/**
 * Cholesky of the first s columns of a lower matrix of `rows` rows of s numbers from `base`; the diagonal is left as its
 * inverse. Two rows at a time share each number of the row they are multiplied with.
 */
function eliminate(L: Float64Array, base: number, s: number, rows: number): boolean {
  for (let i = 0; i < s; i++) {
    const row = base + i * s;
    for (let j = 0; j < i; j++) {
      const other = base + j * s;
      let sum = L[row + j];
      for (let l = 0; l < j; l++) sum -= L[row + l] * L[other + l];
      L[row + j] = sum * L[other + j];
    }
    let square = L[row + i];
    const before = square;
    for (let l = 0; l < i; l++) square -= L[row + l] * L[row + l];
    if (!(square > 1e-15 * before)) return false;
    L[row + i] = 1 / Math.sqrt(square);
  }
  let i = s;
  for (; i + 1 < rows; i += 2) {
    const row = base + i * s;
    const next = row + s;
    for (let j = 0; j < s; j++) {
      const other = base + j * s;
      let a = L[row + j];
      let b = L[next + j];
      for (let l = 0; l < j; l++) {
        const v = L[other + l];
        a -= L[row + l] * v;
        b -= L[next + l] * v;
      }
      const inverse = L[other + j];
      L[row + j] = a * inverse;
      L[next + j] = b * inverse;
    }
  }
  if (i < rows) {
    const row = base + i * s;
    for (let j = 0; j < s; j++) {
      const other = base + j * s;
      let a = L[row + j];
      for (let l = 0; l < j; l++) a -= L[row + l] * L[other + l];
      L[row + j] = a * L[other + j];
    }
  }
  return true;
}

/** rest -= M M', lower half, M of r rows of s numbers from `begin`; two by two entries at a time. */
function subtractSquare(
  L: Float64Array,
  begin: number,
  s: number,
  r: number,
  rest: Float64Array,
): void {
  let i = 0;
  for (; i + 1 < r; i += 2) {
    const p0 = begin + i * s;
    const p1 = p0 + s;
    for (let j = 0; j <= i; j += 2) {
      const q0 = begin + j * s;
      const q1 = q0 + s;
      let a = 0;
      let b = 0;
      let c = 0;
      let d = 0;
      for (let l = 0; l < s; l++) {
        const u = L[p0 + l];
        const v = L[p1 + l];
        const w = L[q0 + l];
        const z = L[q1 + l];
        a += u * w;
        b += u * z;
        c += v * w;
        d += v * z;
      }
      rest[i * r + j] -= a;
      rest[i * r + j + 1] -= b;
      rest[(i + 1) * r + j] -= c;
      rest[(i + 1) * r + j + 1] -= d;
    }
  }
  if (i < r) {
    const p0 = begin + i * s;
    for (let j = 0; j <= i; j++) {
      const q0 = begin + j * s;
      let a = 0;
      for (let l = 0; l < s; l++) a += L[p0 + l] * L[q0 + l];
      rest[i * r + j] -= a;
    }
  }
}
