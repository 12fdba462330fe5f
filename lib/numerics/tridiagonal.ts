/**
 * A tridiagonal system that is eliminated from both ends toward the middle: each result waits for the one before it, and two
 * such chains at a time take half as long as one.
 *
 *     (D[i] + lo[i] + up[i-1]) x[i] - lo[i-1] x[i-1] - up[i] x[i+1] = b[i]
 */
import { vectorsOf } from "./typed-lists.ts";

export class Tridiagonal {
  private readonly n: number;
  // reciprocals of the eliminated diagonals
  private readonly inv: Float64Array;
  /** What an unknown adds to the one that is nearer to the middle while it is eliminated, and takes from it afterwards. */
  private readonly inward: Float64Array;
  private readonly outward: Float64Array;

  /** @param n unknowns, at least 1 */
  constructor(n: number) {
    this.n = n;
    [this.inv, this.inward, this.outward] = vectorsOf(3, n);
  }

  /** Takes the matrix; `lo` and `up` are read up to the last but one. */
  factor(D: Float64Array, lo: Float64Array, up: Float64Array): void {
    const { n, inv, inward, outward } = this;
    const middle = n >> 1;
    let left = 0;
    for (let i = 0; i < middle; i++) {
      const r = 1 / (D[i] + lo[i] + left);
      inv[i] = r;
      inward[i] = lo[i] * r;
      outward[i] = up[i] * r;
      // up[i] less what the elimination carries over
      left = up[i] - lo[i] * outward[i];
    }
    let right = 0;
    for (let i = n - 1; i > middle; i--) {
      const r = 1 / (D[i] + up[i - 1] + right);
      inv[i] = r;
      inward[i] = up[i - 1] * r;
      outward[i] = lo[i - 1] * r;
      right = lo[i - 1] - up[i - 1] * outward[i];
    }
    inv[middle] = 1 / (D[middle] + left + right);
  }

  /** Replaces the first n entries of x by the solution, each times its `scale`. */
  solve(x: Float64Array, scale: Float64Array): void {
    const { n, inv, inward, outward } = this;
    const middle = n >> 1;
    let a = x[0];
    let b = x[n - 1];
    // there is one more on the left of the middle where n is even
    const pairs = n - 1 - middle;
    let i = 1;
    let k = n - 2;
    for (; i < pairs; i++, k--) {
      a = x[i] + inward[i - 1] * a;
      b = x[k] + inward[k + 1] * b;
      x[i] = a;
      x[k] = b;
    }
    for (; i < middle; i++) {
      a = x[i] + inward[i - 1] * a;
      x[i] = a;
    }
    let z = x[middle];
    if (middle > 0) z += inward[middle - 1] * a;
    if (pairs > 0) z += inward[middle + 1] * b;
    z *= inv[middle];
    x[middle] = z * scale[middle];
    a = z;
    b = z;
    i = middle - 1;
    k = middle + 1;
    for (; k < n; i--, k++) {
      a = x[i] * inv[i] + outward[i] * a;
      b = x[k] * inv[k] + outward[k] * b;
      x[i] = a * scale[i];
      x[k] = b * scale[k];
    }
    if (i === 0) x[0] = (x[0] * inv[0] + outward[0] * a) * scale[0];
  }
}
