/** What the solutions of the implicit part solve: multiplied out again they are the right side. */
import { describe, expect, test } from "vitest";
import type { Connections } from "../../../lib/heat/connections.ts";
import { SplitSolver } from "../../../lib/heat/split-solver.ts";

const SIZES = [
  [5, 3],
  [4, 4],
  [3, 2],
  [2, 7],
  [6, 5],
] as const;

/** Conductances of a grid: none beyond its last column and row, nor beside empty cells. */
function gridOf(nx: number, ny: number, seed: number, empty: readonly number[] = []) {
  const n = nx * ny;
  const some = (i: number) => 1 + 0.8 * Math.sin(7.3 * i + seed);
  const active = new Uint8Array(n).fill(1);
  for (const at of empty) active[at] = 0;
  const joined = (i: number, k: number) => active[i] === 1 && active[k] === 1;
  const gx = Float64Array.from({ length: n }, (_, i) =>
    i % nx < nx - 1 && joined(i, i + 1) ? some(i) : 0,
  );
  const gy = Float64Array.from({ length: n }, (_, i) =>
    i + nx < n && joined(i, i + nx) ? 2 * some(i + 0.5) : 0,
  );
  const D = Float64Array.from({ length: n }, (_, i) => 0.5 + 0.4 * Math.cos(3.1 * i + seed));
  const connections = { upX: gx, loX: gx, stiffY: gy } as unknown as Connections;
  const b = Float64Array.from({ length: n }, (_, i) => Math.sin(1.9 * i + seed));
  const scale = Float64Array.from({ length: n }, (_, i) => 2 + Math.cos(i));
  /** What a cell gives to its neighbors along an axis. */
  const given = (x: ArrayLike<number>, g: Float64Array, stride: number) =>
    Float64Array.from({ length: n }, (_, i) => {
      const after = i + stride < n ? g[i]! * (x[i]! - x[i + stride]!) : 0;
      const before = i >= stride ? g[i - stride]! * (x[i]! - x[i - stride]!) : 0;
      return after + before;
    });
  const alongX = (x: ArrayLike<number>) => given(x, gx, 1);
  const alongY = (x: ArrayLike<number>) => given(x, gy, nx);
  return { active, D, connections, b, scale, alongX, alongY };
}
type Given = ReturnType<typeof gridOf>;

/** Solves, and takes the scale away again. */
function solved(solver: SplitSolver, { b, scale }: Given): Float64Array {
  expect(solver.factor()).toBe(true);
  const x = b.slice();
  solver.solve(x, scale);
  return x.map((v, i) => v / scale[i]!);
}
function expectSame(found: Float64Array, wanted: Float64Array): void {
  found.forEach((v, i) => {
    expect(Math.abs(v - wanted[i]!)).toBeLessThan(1e-11);
  });
}
/** (D - Lx) D^-1 (D - Ly) x. */
function byAxes({ D, alongX, alongY }: Given, x: Float64Array): Float64Array {
  const inner = alongY(x).map((v, i) => v / D[i]! + x[i]!);
  return alongX(inner).map((v, i) => v + D[i]! * inner[i]!);
}
/** (D - Lx - Ly) x. */
function whole({ D, alongX, alongY }: Given, x: Float64Array): Float64Array {
  const [across, up] = [alongX(x), alongY(x)];
  return x.map((v, i) => D[i]! * v + across[i]! + up[i]!);
}

describe.each(SIZES)("%d by %d cells", (nx, ny) => {
  test("by the axes, and as they are, by turns", () => {
    const given = gridOf(nx, ny, 0);
    const { D, connections, active, b } = given;
    const solver = new SplitSolver(nx, ny, D, connections, active);
    for (const direct of [false, true, true, false]) {
      solver.solveDirectly(direct);
      const x = solved(solver, given);
      expectSame(direct ? whole(given, x) : byAxes(given, x), b);
    }
  });
  test("connected otherwise, some empty, and as before", () => {
    const first = gridOf(nx, ny, 0);
    const D = first.D.slice();
    const solver = new SplitSolver(nx, ny, D, first.connections, first.active);
    solver.solveDirectly(true);
    // more fillings than are kept
    const others = [0, 1, 2, 3, 4].map((seed) => gridOf(nx, ny, seed, [seed]));
    for (const given of [first, ...others, first, ...others]) {
      D.set(given.D);
      solver.use(given.connections, given.active);
      expectSame(whole(given, solved(solver, given)), given.b);
    }
    solver.solveDirectly(false);
    for (const given of [others[2]!, first]) {
      D.set(given.D);
      solver.use(given.connections, given.active);
      expectSame(byAxes(given, solved(solver, given)), given.b);
    }
  });
});

test("one row is solved as it is, with a slope of its own at either end", () => {
  const n = 7;
  const given = gridOf(n, 1, 2);
  const { D, b } = given;
  const up = Float64Array.from({ length: n }, (_, i) => (i < n - 1 ? 1 + 0.3 * Math.sin(i) : 0));
  const lo = up.map((v, i) => (i < n - 1 ? v + 0.2 * Math.cos(i) : 0));
  const connections = { upX: up, loX: lo, stiffY: up } as unknown as Connections;
  for (const direct of [false, true]) {
    const solver = new SplitSolver(n, 1, D, connections, given.active);
    solver.solveDirectly(direct);
    const x = solved(solver, given);
    const back = x.map((v, i) => {
      const after = i < n - 1 ? lo[i]! * v - up[i]! * x[i + 1]! : 0;
      const before = i > 0 ? up[i - 1]! * v - lo[i - 1]! * x[i - 1]! : 0;
      return D[i]! * v + after + before;
    });
    expectSame(back, b);
  }
});
