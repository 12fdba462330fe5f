/**
 * Solves D - Lx - Ly along rows and columns: exact with one row; otherwise factored as (D - Lx) D^-1 (D - Ly), each
 * factor tridiagonal; or as it is, by nested dissection, where the cells exchange much heat during a step.
 */
import { type GridCholesky, makeGridCholesky } from "../numerics/grid-cholesky.ts";
import { Tridiagonal } from "../numerics/tridiagonal.ts";
import { NO_DOUBLES, vectorsOf } from "../numerics/typed-lists.ts";
import type { Connections } from "./connections.ts";

/** A mold is open, then closed, shot after shot: for so many sets of filled cells the order of elimination is kept. */
const MOST_KEPT = 4;

export class SplitSolver {
  private readonly nx: number;
  private readonly n: number;
  private readonly D: Float64Array;
  private connections: Connections;
  /** Of a grid of one row. */
  private readonly row: Tridiagonal | undefined;
  // of a section: reciprocals of the eliminated diagonals
  private readonly invX: Float64Array;
  private readonly invY: Float64Array;
  /** 1 for cells that hold something now. */
  private active: Uint8Array;
  /** For each set of cells that hold something, made when it is first asked for. */
  private readonly wholes: { readonly active: Uint8Array; readonly factors: GridCholesky }[] = [];
  /** At work; undefined: factored by the axes. */
  private direct: GridCholesky | undefined;

  /** @param D the diagonal, filled anew before each `factor`; the rest is taken from the connections */
  constructor(
    nx: number,
    ny: number,
    D: Float64Array,
    connections: Connections,
    active: Uint8Array,
  ) {
    this.nx = nx;
    this.n = nx * ny;
    this.D = D;
    this.connections = connections;
    this.active = active;
    this.row = ny === 1 ? new Tridiagonal(nx) : undefined;
    [this.invX, this.invY] = ny > 1 ? vectorsOf(2, this.n) : [NO_DOUBLES, NO_DOUBLES];
  }

  /** From now on these cells hold something, and are connected like this. */
  use(connections: Connections, active: Uint8Array): void {
    this.connections = connections;
    this.active = active;
    if (this.direct !== undefined) this.solveDirectly(true);
  }

  /** Whether a section is solved as it is from now on; a single row always is. */
  solveDirectly(yes: boolean): void {
    this.direct = yes && this.n > this.nx ? this.whole() : undefined;
  }

  private whole(): GridCholesky {
    const { nx, n, wholes, active } = this;
    const known = wholes.find((one) => one.active.every((is, i) => is === active[i]));
    if (known) return known.factors;
    if (wholes.length >= MOST_KEPT) wholes.length = 0;
    const own = active.slice();
    const factors = makeGridCholesky(nx, n / nx, own);
    wholes.push({ active: own, factors });
    return factors;
  }

  /** @returns false when the matrix is not positive definite: the step is too long for it */
  factor(): boolean {
    const { loX, upX, stiffY } = this.connections;
    if (this.direct !== undefined) return this.direct.factor(this.D, upX, stiffY);
    if (this.row !== undefined) this.row.factor(this.D, loX, upX);
    else {
      this.factorRows();
      this.factorColumns();
    }
    return true;
  }

  private factorRows(): void {
    const { nx, n, D, invX } = this;
    // of a section it is symmetric: `loX` is `upX`
    const { upX } = this.connections;
    for (let row = 0; row < n; row += nx) {
      let left = 0;
      const end = row + nx - 1;
      for (let i = row; i < end; i++) {
        const r = 1 / (D[i] + upX[i] + left);
        invX[i] = r;
        // the conductance less what the elimination carries over
        left = upX[i] - upX[i] * upX[i] * r;
      }
      invX[end] = 1 / (D[end] + left);
    }
  }

  private factorColumns(): void {
    const { nx, n, D, invY } = this;
    const { stiffY } = this.connections;
    for (let i = 0; i < nx; i++) invY[i] = 1 / (D[i] + stiffY[i]);
    for (let i = nx, k = 0; i < n; i++, k++) {
      const below = stiffY[k];
      invY[i] = 1 / (D[i] + stiffY[i] + below - below * below * invY[k]);
    }
  }

  /** Replaces the first n entries of x by the solution, each times its `scale`. */
  solve(x: Float64Array, scale: Float64Array): void {
    if (this.direct !== undefined) {
      this.direct.solve(x);
      for (let i = 0; i < this.n; i++) x[i] *= scale[i];
    } else if (this.row !== undefined) this.row.solve(x, scale);
    else {
      this.sweepRows(x);
      this.sweepColumns(x, scale);
    }
  }

  /**
   * Solves along every row. Each result waits for the one before it, by a product and a sum alone, all else is at hand;
   * two rows at a time hide each other's wait.
   */
  private sweepRows(out: Float64Array): void {
    const { nx, n, invX: inv } = this;
    const { upX: up } = this.connections;
    let row = 0;
    for (; row + 2 * nx <= n; row += 2 * nx) {
      const end = row + nx;
      let z = out[row];
      let y = out[end];
      for (let i = row + 1, k = end + 1; i < end; i++, k++) {
        z = out[i] + up[i - 1] * inv[i - 1] * z;
        y = out[k] + up[k - 1] * inv[k - 1] * y;
        out[i] = z;
        out[k] = y;
      }
      z *= inv[end - 1];
      y *= inv[end + nx - 1];
      out[end - 1] = z;
      out[end + nx - 1] = y;
      for (let i = end - 2, k = end + nx - 2; i >= row; i--, k--) {
        z = out[i] * inv[i] + up[i] * inv[i] * z;
        y = out[k] * inv[k] + up[k] * inv[k] * y;
        out[i] = z;
        out[k] = y;
      }
    }
    if (row < n) {
      let z = out[row];
      for (let i = row + 1; i < n; i++) {
        z = out[i] + up[i - 1] * inv[i - 1] * z;
        out[i] = z;
      }
      z *= inv[n - 1];
      out[n - 1] = z;
      for (let i = n - 2; i >= row; i--) {
        z = out[i] * inv[i] + up[i] * inv[i] * z;
        out[i] = z;
      }
    }
  }

  /** Multiplies by D, solves along every column, all columns side by side, and scales. */
  private sweepColumns(out: Float64Array, scale: Float64Array): void {
    const { nx, n, D, invY: inv } = this;
    const { stiffY: g } = this.connections;
    for (let i = 0; i < nx; i++) out[i] = out[i] * D[i] * inv[i];
    for (let i = nx, k = 0; i < n; i++, k++) out[i] = (out[i] * D[i] + g[k] * out[k]) * inv[i];
    for (let i = n - nx - 1, k = n - 1; i >= 0; i--, k--) {
      const above = out[k];
      out[i] += g[i] * inv[i] * above;
      out[k] = above * scale[k];
    }
    for (let i = 0; i < nx; i++) out[i] *= scale[i];
  }
}
