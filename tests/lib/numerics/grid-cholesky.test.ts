import fc from "fast-check";
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { describe, expect, test } from "vitest";
import { gridCholeskyCost, makeGridCholesky } from "../../../lib/numerics/grid-cholesky.ts";

/** The matrix that the factors stand for, written out. */
function dense(nx: number, ny: number, d: Float64Array, gx: Float64Array, gy: Float64Array) {
  const n = nx * ny;
  const A = Matrix.zeros(n, n);
  const join = (a: number, b: number, g: number) => {
    A.set(a, a, A.get(a, a) + g);
    A.set(b, b, A.get(b, b) + g);
    A.set(a, b, -g);
    A.set(b, a, -g);
  };
  for (let i = 0; i < n; i++) {
    A.set(i, i, A.get(i, i) + d[i]);
    if ((i + 1) % nx > 0) join(i, i + 1, gx[i]);
    if (i + nx < n) join(i, i + nx, gy[i]);
  }
  return A;
}

describe("Cholesky factors of a grid by nested dissection", () => {
  test("solve as a dense Cholesky does, couplings over eight decades", () => {
    const decades = fc.double({ min: -4, max: 4, noNaN: true });
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 14 }).chain((nx) =>
          fc.integer({ min: 1, max: 14 }).chain((ny) =>
            fc.record({
              nx: fc.constant(nx),
              ny: fc.constant(ny),
              exponents: fc.array(decades, { minLength: 3 * nx * ny, maxLength: 3 * nx * ny }),
            }),
          ),
        ),
        ({ nx, ny, exponents }) => {
          const n = nx * ny;
          const of = (k: number) =>
            Float64Array.from({ length: n }, (_, i) => 10 ** exponents[k * n + i]);
          const [d, gx, gy] = [of(0), of(1), of(2)];
          const b = Float64Array.from(d, (v, i) => Math.sin(1 + i) * v);
          const direct = makeGridCholesky(nx, ny);
          expect(direct.factor(d, gx, gy)).toBe(true);
          const x = b.slice();
          direct.solve(x);
          // reference: dense decomposition of the same matrix by ml-matrix
          const expected = new CholeskyDecomposition(dense(nx, ny, d, gx, gy))
            .solve(Matrix.columnVector(Array.from(b)))
            .to1DArray();
          const largest = Math.max(...expected.map(Math.abs));
          for (let i = 0; i < n; i++)
            expect(Math.abs(x[i] - expected[i])).toBeLessThan(1e-7 * largest);
        },
      ),
      { seed: 4, numRuns: 60 },
    );
  });

  test("with cells that no neighbor is coupled to, left out or not, solve alike", () => {
    const size = fc.integer({ min: 1, max: 16 });
    fc.assert(
      fc.property(size, size, fc.integer({ min: 0, max: 9 }), fc.nat(), (nx, ny, tenths, seed) => {
        const n = nx * ny;
        const chance = (k: number) => Math.abs(Math.sin(12.9898 * (k + 1) + seed)) % 1;
        // blocks and specks of absent cells
        const joined = Uint8Array.from({ length: n }, (_, i) =>
          chance(i % 7) * 10 < tenths || (i % nx) * 3 > nx * 2 ? 0 : 1,
        );
        const open = (i: number, j: number) => joined[i] === 1 && joined[j] === 1;
        const d = Float64Array.from({ length: n }, (_, i) => 0.1 + chance(i));
        const gx = Float64Array.from({ length: n }, (_, i) =>
          (i + 1) % nx !== 0 && open(i, i + 1) ? 10 * chance(3 * i) : 0,
        );
        const gy = Float64Array.from({ length: n }, (_, i) =>
          i + nx < n && open(i, i + nx) ? 10 * chance(5 * i) : 0,
        );
        const [all, some] = [makeGridCholesky(nx, ny), makeGridCholesky(nx, ny, joined)];
        expect(some.entries).toBeLessThanOrEqual(all.entries);
        expect(all.factor(d, gx, gy) && some.factor(d, gx, gy)).toBe(true);
        const [x, y] = [0, 1].map(() => Float64Array.from(d, (_, i) => Math.cos(i)));
        all.solve(x);
        some.solve(y);
        for (let i = 0; i < n; i++) expect(y[i]).toBeCloseTo(x[i], 10);
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  test("says that a matrix isn't positive definite", () => {
    const direct = makeGridCholesky(4, 3);
    const ones = new Float64Array(12).fill(1);
    const d = new Float64Array(12);
    d[5] = -0.5;
    expect(direct.factor(d, ones, ones)).toBe(false);
    // and is none the worse for it
    d[5] = 1;
    expect(direct.factor(d, ones, ones)).toBe(true);
  });

  test("leaves what follows the cells alone", () => {
    const direct = makeGridCholesky(2, 2);
    direct.factor(Float64Array.of(1, 2, 4, 8), new Float64Array(4), new Float64Array(4));
    const x = Float64Array.of(1, 1, 1, 1, 7);
    direct.solve(x);
    [1, 0.5, 0.25, 0.125, 7].forEach((v, i) => {
      expect(x[i]).toBeCloseTo(v, 14);
    });
  });

  test("memory grows as n log n and is known beforehand", () => {
    expect(gridCholeskyCost(40, 30).entries).toBe(makeGridCholesky(40, 30).entries);
    // by theory 31/4 n log2(side) + O(n) for squares
    const perCell = (side: number) => gridCholeskyCost(side, side).entries / side ** 2;
    expect(perCell(160) - perCell(80)).toBeLessThan(9);
  });
});
