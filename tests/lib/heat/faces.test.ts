/** What cells exchange through their faces: resistances in a row, the balance of a face that radiates, slopes by differences. */
import { describe, expect, test } from "vitest";
import type { Boundary, HeatProblem, Side } from "../../../lib/heat/problem.ts";
import { EXPOSED, SIDES } from "../../../lib/heat/setting.ts";
import { filledOf } from "./filled.ts";

const SIGMA = 5.670374419e-8;
const K = 0.4;
const m = { name: "m", conductivity: K, density: 1000, specificHeat: 1000 };
const vary = { ...m, name: "vary", conductivity: (T: number) => 0.2 + 1e-3 * (T - 300) };

function slab(boundary: HeatProblem["boundary"], more: Partial<HeatProblem> = {}): HeatProblem {
  return {
    frame: "slab",
    materials: { m, vary },
    layers: [
      { name: "a", material: "m", thickness: 0.01, initial: 300 },
      { name: "b", material: "m", thickness: 0.01, initial: 300 },
    ],
    boundary,
    stages: [{ until: 1 }],
    probes: {},
    ...more,
  };
}
/** The right face of a slab, what it gives to its cell at time t and temperature T, and what is read of it. */
function rightFace(boundary: Boundary, more: Partial<HeatProblem> = {}) {
  const made = filledOf(slab({ right: boundary }, more));
  const { grid, T, connections, faces } = made;
  const last = grid.nx - 1;
  const link = grid.faces.find(({ side }) => side === "right")!;
  const flow = (cell: number, t = 0) => {
    T[last] = cell;
    connections.conductances();
    const out = new Float64Array(grid.nx);
    const sum = faces.flows(t, out);
    expect(sum).toBeCloseTo(out[last]!, 12);
    expect(faces.inflow[SIDES.indexOf("right")]).toBeCloseTo(sum, 12);
    return sum;
  };
  const half = (grid.x[last + 1]! - grid.x[last]!) / 2;
  return { ...made, flow, link, last, half, surface: () => faces.surface(link, 0) };
}
const near = (x: number, expected: number, within = 1e-9) =>
  expect(Math.abs(x - expected)).toBeLessThan(within * Math.max(1, Math.abs(expected)));

describe("a face at rest", () => {
  test("in a fluid: from the middle of its cell through the half of it and the film", () => {
    const { flow, half, surface } = rightFace({ kind: "exchange", h: 25, ambient: 290 });
    for (const T of [250, 290, 400]) {
      const q = (290 - T) / (half / K + 1 / 25);
      near(flow(T), q);
      near(surface()!, T + (q * half) / K);
    }
  });
  test("that is held: through the half of its cell alone", () => {
    const { flow, half, surface } = rightFace({ kind: "held", temperature: 350 });
    near(flow(310), (40 * K) / half);
    near(surface()!, 350);
  });
  test("with a flux: the flux, whatever its cell has", () => {
    const { flow, half, surface } = rightFace({ kind: "flux", flux: 120 });
    for (const T of [280, 400]) {
      near(flow(T), 120);
      near(surface()!, T + (120 * half) / K);
    }
  });
  test("that is insulated is none, nor one whose film is nothing", () => {
    const none = rightFace({ kind: "insulated" });
    expect(none.flow(400)).toBe(0);
    expect(none.surface()).toBeUndefined();
    expect(none.faces.surfaceRate(none.link, 0, 1)).toBeUndefined();
    expect(rightFace({ kind: "exchange", h: 0, ambient: 200 }).flow(400)).toBe(0);
  });
  test("that radiates: what comes through its cell is what convection and radiation take", () => {
    for (const h of [0, 8])
      for (const emissivity of [0.1, 0.95]) {
        const { flow, half, surface } = rightFace({
          kind: "exchange",
          h,
          ambient: 290,
          emissivity,
        });
        for (const T of [260, 300, 500, 1500]) {
          const q = flow(T);
          const Ts = surface()!;
          near(q, ((Ts - T) * K) / half, 1e-7);
          near(q, -h * (Ts - 290) - emissivity * SIGMA * (Ts ** 4 - 290 ** 4), 1e-7);
        }
      }
  });
  test("never looks for a temperature below absolute zero, where a trial step asks for it", () => {
    const { flow, surface } = rightFace({ kind: "exchange", h: 0, ambient: 290, emissivity: 0.9 });
    expect(Number.isFinite(flow(-400))).toBe(true);
    expect(surface()!).toBeGreaterThan(0);
    near(flow(290), 0, 1e-6);
  });
});

test("the implicit part is the slope of what a face takes", () => {
  const kinds: Boundary[] = [
    { kind: "exchange", h: 25, ambient: 290 },
    { kind: "held", temperature: 350 },
    { kind: "flux", flux: 120 },
    { kind: "exchange", h: 8, ambient: 290, emissivity: 0.9 },
    { kind: "exchange", h: 0, ambient: 290, emissivity: 0.3 },
  ];
  for (const boundary of kinds)
    for (const T of [300, 700]) {
      const { flow, faces, last } = rightFace(boundary);
      const slope = -(flow(T + 0.01) - flow(T - 0.01)) / 0.02;
      flow(T);
      faces.linearize();
      const entry = faces.lossy.indexOf(last);
      if (boundary.kind === "flux") expect(faces.loss[entry] ?? 0).toBe(0);
      else near(faces.loss[entry]!, slope, 1e-5);
      // twice in a row is the same
      faces.linearize();
      near(faces.loss[entry] ?? 0, boundary.kind === "flux" ? 0 : slope, 1e-5);
    }
});

test("a conductivity that varies is that of its cell now", () => {
  const layers = [{ name: "a", material: "vary", thickness: 0.02, initial: 300 }];
  const { flow, half } = rightFace({ kind: "exchange", h: 25, ambient: 290 }, { layers });
  for (const T of [300, 350, 420])
    near(flow(T), (290 - T) / (half / (0.2 + 1e-3 * (T - 300)) + 1 / 25), 1e-7);
});

test("all sides of a section, each by its length, and what comes through each", () => {
  const boundary = Object.fromEntries(
    SIDES.map((side, k): [Side, Boundary] => [
      side,
      { kind: "exchange", h: 10 + k, ambient: 280 + k },
    ]),
  );
  const { grid, T, faces } = filledOf({
    frame: "section",
    materials: { m },
    block: { width: 0.04, height: 0.03, material: "m", initial: 300 },
    shapes: [],
    boundary,
    stages: [{ until: 1 }],
    probes: {},
  });
  T.fill(320);
  const out = new Float64Array(T.length).fill(5);
  const sum = faces.flows(0, out);
  const wanted = SIDES.map((side, k) => {
    const lines = side === "left" || side === "right" ? [grid.x, grid.y] : [grid.y, grid.x];
    const [across, along] = lines as [Float64Array, Float64Array];
    const n = across.length - 1;
    const isLow = side === "left" || side === "bottom";
    const half = (isLow ? across[1]! - across[0]! : across[n]! - across[n - 1]!) / 2;
    return ((280 + k - 320) / (half / K + 1 / (10 + k))) * along.at(-1)!;
  });
  wanted.forEach((q, k) => {
    near(faces.inflow[k]!, q, 1e-8);
  });
  expect(faces.inflow[EXPOSED]).toBe(0);
  const all = wanted.reduce((a, b) => a + b);
  near(sum, all, 1e-8);
  // added to what was there
  near(out.reduce((a, b) => a + b) - 5 * T.length, all, 1e-8);
  // a corner cell has two faces and one place among those that lose
  const { nx, ny } = grid;
  expect([...faces.lossy].sort((a, b) => a - b)).toEqual(
    Array.from(T, (_, at) => at).filter(
      (at) => at % nx === 0 || at % nx === nx - 1 || at < nx || at >= nx * (ny - 1),
    ),
  );
});

test("the ends of a section lose in every cell, at its faces in addition", () => {
  const ends = { length: 0.1, h: 8, ambient: 293 };
  const { contents, faces, T } = filledOf({
    ...slab({ right: { kind: "exchange", h: 25, ambient: 290 } }),
    ends,
  });
  faces.linearize();
  expect([...faces.lossy]).toEqual(Array.from(T, (_, at) => at));
  T.forEach((_, at) => {
    const more = at === T.length - 1;
    expect(faces.loss[at]! > contents.ends!.conductance[at]!).toBe(more);
    if (!more) expect(faces.loss[at]).toBe(contents.ends!.conductance[at]);
  });
});

describe("where a layer is empty", () => {
  const layers = ["a", "b", "c"].map((name) => ({
    name,
    material: "m",
    thickness: 0.01,
    initial: 300,
    contact: 300,
  }));
  const exposed: Boundary = { kind: "exchange", h: 12, ambient: 285 };
  const left: Boundary = { kind: "exchange", h: 20, ambient: 310 };
  const empty = (absent: string[]) =>
    filledOf(slab({ left, right: left }, { layers, stages: [{ until: 1, absent, exposed }] }));
  test("both of its neighbors look at what is exposed", () => {
    const { grid, faces, open, T } = empty(["b"]);
    const inner = open.filter(({ kind }) => kind === EXPOSED);
    expect(inner.map(({ cell, end, area }) => [grid.content[cell], end, area])).toEqual([
      [0, 0, 1],
      [2, 1, 1],
    ]);
    T.fill(330);
    const out = new Float64Array(T.length);
    faces.flows(0, out);
    let all = 0;
    for (const { cell, link, end } of inner) {
      const half = (grid.x[cell + 1]! - grid.x[cell]!) / 2;
      const q = (285 - 330) / (half / K + 1 / 12);
      near(out[cell]!, q);
      near(faces.surface(link, end)!, 330 + (q * half) / K);
      expect(faces.surface(link, end === 0 ? 1 : 0)).toBeUndefined();
      all += q;
    }
    near(faces.inflow[EXPOSED]!, all);
    for (let at = 0; at < T.length; at++) if (grid.content[at] === 1) expect(out[at]).toBe(0);
  });
  test("at the end of a body its neighbor looks out, and its own face is none", () => {
    const { grid, open } = empty(["c"]);
    expect(open.map(({ cell, kind }) => [grid.content[cell], kind])).toEqual([
      [1, EXPOSED],
      [0, SIDES.indexOf("left")],
    ]);
    const { open: first } = empty(["a"]);
    expect(first.map(({ kind }) => kind).sort()).toEqual([SIDES.indexOf("right"), EXPOSED]);
    expect(empty(["a", "b", "c"]).open).toEqual([]);
  });
});

describe("laws of time", () => {
  const ramp: Boundary = { kind: "exchange", h: 25, ambient: (t) => 290 + 0.5 * t };
  test("are taken at the time that is asked, between their jumps from the side that is under way", () => {
    const { flow, half, faces } = rightFace(ramp);
    expect(faces.moving).toBe(true);
    near(flow(300, 40), (310 - 300) / (half / K + 1 / 25));
    const jump = rightFace({ kind: "exchange", h: 25, ambient: (t) => (t < 50 ? 300 : 400) });
    const unit = 1 / (jump.half / K + 1 / 25);
    jump.faces.within(0, 50);
    near(jump.flow(300, 50), 0);
    jump.faces.within(50, 90);
    near(jump.flow(300, 50), 100 * unit);
    jump.faces.restart();
    near(jump.flow(300, 49.999), 0);
    expect(rightFace({ kind: "exchange", h: 25, ambient: 290 }).faces.moving).toBe(false);
  });
  test.each<[what: string, boundary: Boundary]>([
    ["at rest", { kind: "exchange", h: 25, ambient: 290 }],
    ["an ambient that rises", ramp],
    ["a film that grows", { kind: "exchange", h: (t) => 5 + t, ambient: 290 }],
    ["a flux that falls", { kind: "flux", flux: (t) => 500 - 3 * t }],
    ["held and moved", { kind: "held", temperature: (t) => 300 + 2 * t }],
    [
      "radiating, all of it moved",
      { kind: "exchange", h: (t) => 5 + 0.1 * t, ambient: (t) => 290 + t, emissivity: 0.9 },
    ],
  ])("a face's rate is the slope of its temperature: %s", (_, boundary) => {
    for (const cellRate of [0, 0.3, -2]) {
      const { flow, faces, link, surface } = rightFace(boundary);
      faces.within(0, 100);
      const at = (t: number) => {
        flow(340 + cellRate * (t - 40), t);
        return surface()!;
      };
      const slope = (at(40.01) - at(39.99)) / 0.02;
      at(40);
      near(faces.surfaceRate(link, 0, cellRate)!, slope, 1e-5);
    }
  });
});
