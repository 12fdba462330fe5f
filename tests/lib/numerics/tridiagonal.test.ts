import { expect, test } from "vitest";
import { Tridiagonal } from "../../../lib/numerics/tridiagonal.ts";

/** Numbers between 0.5 and 1.5, the same ones each time. */
function made(n: number, seed: number): Float64Array {
  let state = seed;
  return Float64Array.from({ length: n }, () => {
    state = (state * 16807) % 2147483647;
    return 0.5 + state / 2147483647;
  });
}

// the matrix times the solution is the right side, by the definition of both
test.each([1, 2, 3, 4, 5, 8, 31, 44])("a system of %i unknowns is solved, and scaled", (n) => {
  const D = made(n, 7);
  const lo = made(n, 11);
  const up = made(n, 13);
  const b = made(n, 17);
  const scale = made(n, 19);
  const solver = new Tridiagonal(n);
  solver.factor(D, lo, up);
  const x = Float64Array.from(b);
  solver.solve(x, scale);
  for (let i = 0; i < n; i++) {
    const at = (k: number) => x[k]! / scale[k]!;
    let sum = D[i]! * at(i);
    if (i > 0) sum += up[i - 1]! * at(i) - lo[i - 1]! * at(i - 1);
    if (i + 1 < n) sum += lo[i]! * at(i) - up[i]! * at(i + 1);
    expect(sum).toBeCloseTo(b[i]!, 12);
  }
});
