/** Steady states solved directly, against formulas and against a long wait. */
import { expect, test } from "vitest";
import { checkSteady } from "../../../lib/heat/steady.ts";
import { type HeatProblem, InputError, makeRateLaw, solve } from "../../../lib/index.ts";

const plate = (conductivity: number | string, left: unknown, right: unknown) => ({
  frame: "slab",
  materials: { m: { conductivity, density: 1000, specificHeat: 1000 } },
  layers: [{ name: "a", material: "m", thickness: 0.02, initial: 20 }],
  boundary: { left, right },
  until: "steady",
  probes: { left: [0], middle: [0.01], right: [0.02] },
});

test("two layers with a contact between faces in fluids: resistances in a row", () => {
  const { steady } = solve({
    ...plate(0.5, { h: 10, ambient: 20 }, { h: 100, ambient: 80 }),
    materials: {
      m: { conductivity: 0.5, density: 1, specificHeat: 1 },
      s: { conductivity: 45, density: 1, specificHeat: 1 },
    },
    layers: [
      { name: "a", material: "m", thickness: 0.02, initial: 20, contact: 500 },
      { name: "b", material: "s", thickness: 0.01, initial: 20 },
    ],
  });
  const flow = 60 / (1 / 10 + 0.02 / 0.5 + 1 / 500 + 0.01 / 45 + 1 / 100);
  expect(steady?.flows.right).toBeCloseTo(flow, 6);
  expect(steady?.flows.left).toBeCloseTo(-flow, 6);
  expect(steady?.probes["left"]).toBeCloseTo(20 + flow / 10, 6);
});

test("a conductivity that rises with T: its integral is linear", () => {
  const given = plate("0.5 + 0.002*T", { temperature: 0 }, { temperature: 200 });
  const { steady } = solve({ ...given, tolerance: 1e-6 });
  const integral = (T: number) => 0.5 * T + 0.001 * T * T;
  expect(steady?.flows.right).toBeCloseTo(integral(200) / 0.02, 1);
  expect(integral(steady?.probes["middle"] ?? 0)).toBeCloseTo(integral(200) / 2, 2);
});

test("a face that radiates: k (1000 - T) / L = eps sigma (T^4 - 300^4)", () => {
  // thermal benchmark T2 of the association for finite elements, 927.0 K (from memory); the equation is exact
  const { steady } = solve({
    ...plate(
      55.6,
      { temperature: 1000 - 273.15 },
      { h: 0, ambient: 300 - 273.15, emissivity: 0.98 },
    ),
    layers: [{ name: "a", material: "m", thickness: 0.1, initial: 20 }],
    probes: { end: [0.1] },
  });
  const T = (steady?.probes["end"] ?? 0) + 273.15;
  expect(T).toBeCloseTo(927.0076, 2);
});

test("a source, and the end of a long wait", () => {
  const heated = {
    frame: "section",
    materials: {
      m: { conductivity: 0.9, density: 1700, specificHeat: 1100 },
      s: { conductivity: 0.3, density: 1700, specificHeat: 1100, source: 2e5 },
    },
    block: { width: 0.04, height: 0.03, material: "m", initial: 20 },
    shapes: [
      { name: "e", ellipse: [0.02, 0.01], center: [0.02, 0.015], material: "s", initial: 20 },
    ],
    boundary: { left: { h: 30, ambient: 20 }, top: { h: 12, ambient: 25 } },
    probes: { middle: [0.02, 0.015], e: "e" },
  };
  const direct = solve({ ...heated, until: "steady" });
  const waited = solve({ ...heated, until: 2e5, times: [2e5] });
  for (const probe of ["middle", "e"])
    expect(
      Math.abs((direct.steady?.probes[probe] ?? 0) - (waited.probes[probe]?.[0] ?? 99)),
    ).toBeLessThan(0.02);
  const given = 2e5 * Math.PI * 0.005 * 0.01;
  const flows = Object.values(direct.steady?.flows ?? {});
  expect(-flows.reduce((a, b) => a + b, 0) / given).toBeCloseTo(1, 3);
});

/** A square that is heated a little and gives it off through a film of h alone. */
const filmed = (h: number) => ({
  frame: "section",
  materials: { m: { conductivity: 1, density: 1, specificHeat: 1 } },
  block: { width: 0.02, height: 0.02, material: "m", initial: 20 },
  boundary: {
    left: { h, ambient: 20 },
    right: { flux: 1e-9 },
    top: "insulated",
    bottom: "insulated",
  },
  until: "steady",
  probes: { middle: [0.01, 0.01] },
});

test("a film of a hundred-millionth W/m2K still holds a section: flux over h", () => {
  const { steady } = solve(filmed(1e-8));
  expect(steady?.probes["middle"]).toBeCloseTo(20 + 1e-9 / 1e-8, 9);
});

test.each([
  ["no_steady_state", plate(1, "insulated", { flux: 100 })],
  // nothing holds it but rounding: its matrix is singular
  ["no_steady_state", filmed(1e-12)],
  ["not_steady", plate(1, { temperature: "20 + t" }, "insulated")],
  ["not_steady", { ...plate(1, { temperature: 20 }, "insulated"), times: [10] }],
])("%s is said", (code, problem) => {
  try {
    solve(problem);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    expect((error as InputError).problems.map((p) => p.code)).toContain(code);
    return;
  }
  throw new Error("not refused");
});

const held = { kind: "held", temperature: 300 } as const;
const insulated = { kind: "insulated" } as const;
const wall = { name: "m", conductivity: 1, density: 1000, specificHeat: 1000 };
const still: HeatProblem = {
  frame: "slab",
  materials: { m: wall },
  layers: [{ name: "a", material: "m", thickness: 0.01, initial: 300 }],
  boundary: { left: held, right: insulated },
  stages: [{ until: 1 }],
  steady: true,
  probes: { c: { kind: "point", x: 0 } },
};
const law = makeRateLaw({ law: "nth-order", A: 1e4, E: 4e4, n: 1 });
const stage = (what: object): Partial<HeatProblem> => ({ stages: [{ until: 1, ...what }] });

test.each<[path: string, wrong: Partial<HeatProblem>]>([
  ["stages", { stages: [{ until: 1 }, { until: 2 }] }],
  ["stages", stage({ stop: { probe: "c", below: 300 } })],
  ["stages", stage({ absent: ["a"] })],
  ["stages", stage({ refill: [{ name: "a", temperature: 300 }] })],
  ["stages", stage({ boundary: { left: held } })],
  ["times", { times: [1] }],
  ["crossings", { crossings: [{ probe: "c", below: 300 }] }],
  ["snapshots", { snapshots: [1] }],
  ["materials.m.cure", { materials: { m: { ...wall, cure: { law, heat: 1e5, initial: 0 } } } }],
  ["boundary.left", { boundary: { left: { ...held, temperature: (t: number) => 300 + t } } }],
])("%s of what changes in time have no meaning in a steady state, each alone", (path, wrong) => {
  expect(checkSteady({ ...still, ...wrong })).toEqual([{ code: "not_steady", path }]);
});

test.each<[holds: boolean, what: Partial<HeatProblem>]>([
  [true, {}],
  [true, { times: [], crossings: [], snapshots: [] }],
  [false, { boundary: {} }],
  [false, { boundary: { left: insulated, right: { kind: "flux", flux: 5 } } }],
  [false, { boundary: { left: { kind: "exchange", h: 0, ambient: 300 } } }],
  [false, { boundary: { left: { kind: "exchange", h: 0, ambient: 300, emissivity: 0 } } }],
  [true, { boundary: { left: { kind: "exchange", h: 1e-9, ambient: 300 } } }],
  [true, { boundary: { left: { kind: "exchange", h: 0, ambient: 300, emissivity: 1e-9 } } }],
  [true, { boundary: { left: insulated, right: held } }],
  [true, { boundary: {}, ends: { length: 1, h: 5, ambient: 300 } }],
])("a body is held by a face that knows a temperature, or by its ends: %s", (holds, what) => {
  const none = [{ code: "no_steady_state", path: "boundary" }];
  expect(checkSteady({ ...still, ...what })).toEqual(holds ? [] : none);
});
