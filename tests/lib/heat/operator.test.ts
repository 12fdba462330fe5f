/** The balance of all cells as a stiff system: what it solves is its own slope, by differences; what comes in is what is gained. */
import { describe, expect, test } from "vitest";
import { makeRateLaw, rate } from "../../../lib/cure/rate-laws.ts";
import { makeGrids } from "../../../lib/heat/grid.ts";
import { makeOperator, type Operator } from "../../../lib/heat/operator.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { propertiesOf } from "../../../lib/heat/properties.ts";
import { stageSetups } from "../../../lib/heat/stage-setups.ts";

const ZERO = 273.15;
const law = makeRateLaw({ law: "nth-order", A: 1e5, E: 5e4, n: 1.4 });
const other = makeRateLaw({ law: "nth-order", A: 3e5, E: 5.5e4, n: 1 });
const materials = {
  plain: { name: "plain", conductivity: 0.4, density: 1500, specificHeat: 1200 },
  vary: {
    name: "vary",
    conductivity: (T: number) => 0.2 + 1e-3 * (T - 300),
    density: 1000,
    specificHeat: (T: number) => 1000 + 3 * (T - 300),
  },
  hot: { name: "hot", conductivity: 0.3, density: 1100, specificHeat: 1000, source: 2e4 },
  resin: {
    name: "resin",
    conductivity: 0.2,
    density: 1100,
    specificHeat: 1700,
    cure: { law, heat: 2e5, initial: 0 },
  },
  slow: {
    name: "slow",
    conductivity: 0.25,
    density: 1200,
    specificHeat: 1500,
    cure: { law: other, heat: 1e5, initial: 0.1 },
  },
};
type Name = keyof typeof materials;
const air = { kind: "exchange", h: 15, ambient: 295, emissivity: 0.9 } as const;
const film = { kind: "exchange", h: 30, ambient: 330 } as const;

const base = { materials, stages: [{ until: 1 }], probes: {} };
const slab = (names: readonly Name[], more: Partial<HeatProblem> = {}): HeatProblem => ({
  ...base,
  frame: "slab",
  layers: names.map((material, i) => ({
    name: `${i}`,
    material,
    thickness: 0.006,
    initial: 300,
    ...(i === 0 ? { contact: 700 } : {}),
  })),
  boundary: { left: air, right: film },
  ...more,
});
const section = (block: Name, inner: Name, more: Partial<HeatProblem> = {}): HeatProblem => ({
  ...base,
  frame: "section",
  block: { width: 0.03, height: 0.02, material: block, initial: 300 },
  shapes: [
    {
      name: "s",
      material: inner,
      initial: 320,
      outline: { kind: "ellipse", axes: [0.013, 0.009], center: [0.013, 0.011] },
    },
  ],
  boundary: { left: film, right: air, top: film, bottom: { kind: "held", temperature: 310 } },
  ...more,
});

interface State {
  readonly op: Operator;
  readonly u: Float64Array;
}
/** Some state of the operator, refreshed. */
function stateOf(problem: HeatProblem): State {
  const used = new Set([
    problem.block?.material,
    ...[...(problem.layers ?? []), ...(problem.shapes ?? [])].map((part) => part.material),
  ]);
  const own = Object.fromEntries(
    Object.entries(problem.materials).filter(([name]) => used.has(name)),
  );
  const grid = makeGrids(problem)(0);
  const properties = new Map(
    Object.entries(own).map(([name, m]) => [name, propertiesOf(m, 250, 500)]),
  );
  const op = makeOperator(grid, own, properties, true);
  const [setup] = stageSetups(problem, grid.regions, true);
  op.configure(setup!.setting);
  const u = new Float64Array(op.size);
  const cells = Float64Array.from({ length: op.cells }, (_, i) => 335 + 25 * Math.sin(0.7 * i));
  op.energies(
    grid.regions.map(() => undefined),
    cells,
    u,
  );
  for (let r = 0; r < op.qV.length; r++)
    u[op.cells + r] = op.qV[r]! > 0 ? 0.3 + 0.2 * Math.sin(r) : 0;
  op.refresh(u);
  return { op, u };
}
const ratesAt = ({ op }: State, t: number, u: Float64Array) => {
  const out = new Float64Array(op.size);
  op.rates(t, u, out);
  return out;
};
const total = (list: Float64Array, from: number, to: number) =>
  list.subarray(from, to).reduce((a, b) => a + b, 0);

const PROBLEMS: readonly (readonly [string, HeatProblem])[] = [
  ["layers of constants", slab(["plain", "hot"])],
  // at outer faces the slope of the conductivity is left out
  ["layers that vary", slab(["plain", "vary", "vary", "plain"])],
  ["a resin between", slab(["plain", "resin", "slow"])],
  [
    "ends that lose",
    slab(["plain", "vary", "plain"], { ends: { length: 0.1, h: 9, ambient: 280 } }),
  ],
  [
    "one empty",
    slab(["plain", "hot", "plain"], { stages: [{ until: 1, absent: ["1"], exposed: air }] }),
  ],
  ["a cylinder", slab(["vary", "resin"], { frame: "cylinder" })],
  ["a section", section("plain", "hot")],
  ["a section that cures", section("plain", "resin")],
  ["two resins in cut cells", section("slow", "resin")],
  ["a section with ends", section("plain", "plain", { ends: { length: 0.1, h: 9, ambient: 280 } })],
  ["a hole", section("plain", "hot", { stages: [{ until: 1, absent: ["s"], exposed: air }] })],
];

test.each(PROBLEMS)("%s: cells gain what comes in and what curing sets free", (_, problem) => {
  const state = stateOf(problem);
  const { op, u } = state;
  const f = ratesAt(state, 0, u);
  const freed = Array.from(op.qV, (q, r) => q * f[op.cells + r]!).reduce((a, b) => a + b, 0);
  const gained = total(f, 0, op.cells);
  const size = Array.from(f.subarray(0, op.cells)).reduce((a, b) => a + Math.abs(b), 0);
  expect(Math.abs(gained - freed - f[op.size - 1]!) / size).toBeLessThan(1e-12);
  // what is left to be set free is the heat of what has not cured
  const left = new Float64Array(op.cells).fill(7);
  op.heatLeft(u, left);
  const uncured = Array.from(op.qV, (q, r) => q * (1 - u[op.cells + r]!)).reduce(
    (a, b) => a + b,
    0,
  );
  expect(Math.abs(total(left, 0, op.cells) - uncured)).toBeLessThan(1e-9 * (1 + uncured));
});

test.each(PROBLEMS)("%s: solves for what its own rates say, (1/gh - J) x = b", (_, problem) => {
  const state = stateOf(problem);
  const { op, u } = state;
  op.solveDirectly(true);
  ratesAt(state, 0, u);
  op.linearize(0, u);
  for (const gammaH of [0.5, 20]) {
    expect(op.factor(gammaH)).toBe(true);
    const b = Float64Array.from({ length: op.size }, (_, i) =>
      i < op.cells
        ? op.C[i]! * Math.cos(1.1 * i) * op.active[i]!
        : i < op.size - 1
          ? (op.qV[i - op.cells]! > 0 ? 0.01 : 0) * Math.cos(i)
          : 3,
    );
    const x = b.slice();
    op.solve(x);
    const h = 1e-4;
    const moved = (by: number) =>
      ratesAt(
        state,
        0,
        u.map((v, i) => v + by * x[i]!),
      );
    const [more, less] = [moved(h), moved(-h)];
    // as temperatures, cures, and the energy that came in
    let worst = 0;
    for (let i = 0; i < op.size; i++) {
      const size = i < op.cells ? op.C[i]! : i < op.size - 1 ? 0.01 : op.C[0]! * op.cells;
      const residual = x[i]! / gammaH - (more[i]! - less[i]!) / (2 * h) - b[i]!;
      worst = Math.max(worst, Math.abs(residual) / size);
    }
    // a section's conductances are those of the step's start
    expect(worst).toBeLessThan(2e-4);
    ratesAt(state, 0, u);
  }
});

describe("laws of time", () => {
  test("its slope in time is that of the rates, at the same state", () => {
    for (const problem of [
      slab(["vary", "plain"], {
        boundary: {
          left: {
            kind: "exchange",
            h: (t) => 10 + 0.1 * t,
            ambient: (t) => 290 + t,
            emissivity: 0.9,
          },
          right: { kind: "flux", flux: (t) => 100 - 2 * t },
        },
      }),
      section("plain", "resin", {
        boundary: { top: { kind: "held", temperature: (t) => 300 + 0.5 * t } },
      }),
    ]) {
      const state = stateOf(problem);
      const { op, u } = state;
      const now = ratesAt(state, 40, u);
      const slope = new Float64Array(op.size).fill(9);
      expect(op.timeSlope(40, 0.5, u, now, slope)).toBe(true);
      const [later, earlier] = [ratesAt(state, 40.01, u), ratesAt(state, 39.99, u)];
      const size = Math.max(...now.map(Math.abs));
      slope.forEach((one, i) => {
        expect(Math.abs(one - (later[i]! - earlier[i]!) / 0.02) / size).toBeLessThan(1e-4);
      });
    }
  });
  test("none of what rests", () => {
    const { op, u } = stateOf(slab(["plain"]));
    const out = new Float64Array(op.size).fill(9);
    expect(op.timeSlope(0, 1, u, u, out)).toBe(false);
    expect(out[0]).toBe(9);
  });
});

test("a reaction that grows faster than a step is refused by it", () => {
  const { op, u } = stateOf(slab(["resin"]));
  op.rates(0, u, new Float64Array(op.size));
  op.linearize(0, u);
  expect(op.factor(1)).toBe(true);
  // at 335 K it warms itself by a kelvin in seconds, and is faster for it
  expect(op.factor(1e6)).toBe(false);
});

test("a reaction grows by its own cure and by the heat that it sets free, at the quickest place", () => {
  const { op, u } = stateOf(slab(["slow", "resin"]));
  const f = new Float64Array(op.size);
  op.rates(0, u, f);
  const growths = (["slow", "resin"] as const).flatMap((name, layer) => {
    const { cure, density, specificHeat } = materials[name];
    return Array.from({ length: op.cells }, (_, i) => i)
      .filter((i) => op.grid.content[i] === layer)
      .map((i) => {
        // differences of the law itself
        const [a, T] = [u[op.cells + i]!, op.T[i]!];
        const slope = (da: number, dT: number) =>
          (rate(cure.law, a + da, T + dT) - rate(cure.law, a - da, T - dT)) / (2 * (da + dT));
        return slope(1e-5, 0) + ((density * cure.heat) / (density * specificHeat)) * slope(0, 1e-3);
      });
  });
  const most = Math.max(...growths);
  expect(most).toBeGreaterThan(0);
  expect(Math.abs(op.growth() / most - 1)).toBeLessThan(1e-6);
  const still = stateOf(slab(["plain"]));
  ratesAt(still, 0, still.u);
  expect(still.op.growth()).toBe(0);
});

test("surfaces are those of faces; of what exchanges nothing the cell's own", () => {
  const { op, u } = stateOf(slab(["plain", "hot"], { boundary: { right: film } }));
  op.rates(0, u, new Float64Array(op.size));
  const [left, right] = (["left", "right"] as const).map(
    (side) => op.grid.faces.find((one) => one.side === side)!,
  );
  expect(op.surface(left!, 0)).toBe(op.T[0]);
  expect(op.surfaceRate(left!, 0, 3)).toBe(3);
  const last = op.cells - 1;
  const half = (op.grid.x[last + 1]! - op.grid.x[last]!) / 2;
  // k (T - Ts) / half = h (Ts - ambient)
  const Ts = ((0.3 / half) * op.T[last]! + 30 * 330) / (0.3 / half + 30);
  expect(op.surface(right!, 0)).toBeCloseTo(Ts, 9);
  expect(op.surfaceRate(right!, 0, 3)).toBeCloseTo((3 * 0.3) / half / (0.3 / half + 30), 9);
  const link = op.grid.links.find(({ parts }) => parts[0]!.region === 0 && parts[1]!.region === 1)!;
  const resistance = [0, 1].map((part) => op.partResistance(link, part));
  expect(resistance.map((R, part) => R * [0.4, 0.3][part]!)).toEqual(
    link.parts.map(({ shape }) => expect.closeTo(shape, 12)),
  );
  expect(op.conductance(link.a, 0)).toBeCloseTo(1 / (resistance[0]! + 1 / 700 + resistance[1]!), 6);
});

test("a setting that was there before is filled and connected as it was", () => {
  const problem = slab(["plain", "hot", "plain"], {
    stages: [
      { until: 1 },
      { until: 2, absent: ["1"], exposed: air },
      { until: 3 },
      { until: 4, boundary: { left: film } },
    ],
  });
  const state = stateOf(problem);
  const { op } = state;
  const setups = stageSetups(problem, op.grid.regions, true);
  const at = (k: number) => {
    op.configure(setups[k]!.setting);
    const u = new Float64Array(op.size);
    op.energies(
      [],
      Float64Array.from({ length: op.cells }, (_, i) => ZERO + 40 + i),
      u,
    );
    op.refresh(u);
    return [...ratesAt(state, 0, u), ...op.C, ...op.active];
  };
  const first = [0, 1, 3].map(at);
  expect(first[0]).not.toEqual(first[1]);
  expect(first[0]).not.toEqual(first[2]);
  for (const order of [
    [3, 1, 0],
    [0, 0, 1],
    [1, 3, 3],
  ])
    for (const k of order) expect(at(k)).toEqual(first[[0, 1, 3].indexOf(k)]);
});
