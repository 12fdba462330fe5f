/** Contacts between layers: resistances in a row, whoever is named first. */
import { expect, test } from "vitest";
import type { HeatProblem, Layer, PairContact } from "../../../lib/heat/problem.ts";
import { simulate } from "../../../lib/heat/simulate.ts";
import { findRoot } from "../../../lib/numerics/roots.ts";

const K = 0.5;
const THICK = 0.01;

/** Steps of temperature at the two interfaces of three layers, K, and the flow, W/m2. */
function steps(contacts: readonly PairContact[], own: readonly (number | undefined)[] = []) {
  const problem: HeatProblem = {
    frame: "slab",
    materials: { m: { name: "m", conductivity: K, density: 1000, specificHeat: 1000 } },
    layers: ["a", "b", "c"].map(
      (name, i): Layer => ({
        name,
        material: "m",
        thickness: THICK,
        initial: 300,
        ...(own[i] !== undefined && { contact: own[i] }),
      }),
    ),
    contacts,
    boundary: {
      left: { kind: "exchange", h: 1e6, ambient: 400 },
      right: { kind: "exchange", h: 1e6, ambient: 300 },
    },
    stages: [{ until: 1 }],
    steady: true,
    probes: {
      before: { kind: "point", x: THICK, side: "left" },
      after: { kind: "point", x: THICK, side: "right" },
      later: { kind: "point", x: 2 * THICK, side: "left" },
      last: { kind: "point", x: 2 * THICK, side: "right" },
    },
  };
  const { extremes, flows } = simulate(problem);
  const at = (name: string) => extremes[name]!.max;
  return {
    first: at("before") - at("after"),
    second: at("later") - at("last"),
    flow: flows!.left,
  };
}

test("a pair has its contact in either order, and lends it to no other", () => {
  const h = 40;
  for (const between of [
    ["b", "c"],
    ["c", "b"],
  ] as const) {
    const found = steps([{ between, conductance: h }]);
    const flow = 100 / ((3 * THICK) / K + 1 / h + 2e-6);
    expect(found.flow / flow).toBeCloseTo(1, 6);
    expect(found.first).toBeCloseTo(0, 6);
    expect(found.second).toBeCloseTo(flow / h, 4);
  }
  for (const between of [
    ["a", "b"],
    ["b", "a"],
  ] as const) {
    const found = steps([{ between, conductance: h }]);
    expect(found.second).toBeCloseTo(0, 6);
    expect(found.first).toBeCloseTo(found.flow / h, 4);
  }
  // the first that names the pair counts, before what a layer says of itself
  const both = steps(
    [
      { between: ["a", "c"], conductance: 1 },
      { between: ["c", "b"], conductance: 200 },
      { between: ["b", "a"], conductance: 50 },
    ],
    [5, 7, 9],
  );
  expect(both.first).toBeCloseTo(both.flow / 50, 4);
  expect(both.second).toBeCloseTo(both.flow / 200, 4);
  const own = steps([], [80, 160]);
  expect(own.first).toBeCloseTo(own.flow / 80, 4);
  expect(own.second).toBeCloseTo(own.flow / 160, 4);
});

/** Conductivities that rise and fall with T, K W/(m K), and their integrals from 300 K. */
const LAWS = [
  {
    k: (T: number) => 0.2 * (1 + 0.006 * (T - 300)),
    whole: (T: number) => 0.2 * (T - 300 + 0.003 * (T - 300) ** 2),
  },
  {
    k: (T: number) => 0.6 * (1 - 0.004 * (T - 300)),
    whole: (T: number) => 0.6 * (T - 300 - 0.002 * (T - 300) ** 2),
  },
] as const;
const CONTACT = 25;

/** Faces of two layers between 400 and 300 K with a contact: the flow that all three agree on (Kirchhoff's transformation). */
function facesOf(order: readonly [0 | 1, 0 | 1]): readonly [number, number] {
  const [a, b] = order.map((i) => LAWS[i]);
  const inverse = (whole: (T: number) => number, wanted: number) =>
    findRoot((T) => whole(T) - wanted, 299, 401, 1e-10);
  const faces = (q: number) =>
    [
      inverse(a!.whole, a!.whole(400) - q * THICK),
      inverse(b!.whole, b!.whole(300) + q * THICK),
    ] as const;
  const q = findRoot(
    (q) => {
      const [hot, cold] = faces(q);
      return CONTACT * (hot - cold) - q;
    },
    1,
    1200,
    1e-9,
  );
  return faces(q);
}

test.each([[[0, 1]], [[1, 0]]] as const)(
  "faces of layers whose conductivities follow T: %j, as layers and as a section",
  (order) => {
    const [hot, cold] = facesOf(order);
    const [a, b] = order.map((i) => ({
      name: "m",
      conductivity: LAWS[i].k,
      density: 1000,
      specificHeat: 1000,
    }));
    const held = (temperature: number) => ({ kind: "held", temperature }) as const;
    const insulated = { kind: "insulated" } as const;
    const face = (region: string, neighbor: string) =>
      ({ kind: "face", region, neighbor, of: "mean" }) as const;
    const rest = {
      materials: { a: a!, b: b! },
      stages: [{ until: 1 }],
      steady: true,
      resolution: 2,
    };
    const layers: HeatProblem = {
      ...rest,
      frame: "slab",
      layers: [
        { name: "a", material: "a", thickness: THICK, initial: 350, contact: CONTACT },
        { name: "b", material: "b", thickness: THICK, initial: 350 },
      ],
      boundary: { left: held(400), right: held(300) },
      probes: {
        hot: face("a", "b"),
        cold: face("b", "a"),
        left: { kind: "point", x: THICK, side: "left" },
        right: { kind: "point", x: THICK, side: "right" },
      },
    };
    const section: HeatProblem = {
      ...rest,
      frame: "section",
      block: { width: 0.008, height: 2 * THICK, material: "a", initial: 350 },
      shapes: [
        {
          name: "b",
          material: "b",
          initial: 350,
          contact: CONTACT,
          outline: { kind: "rectangle", size: [0.008, THICK], center: [0.004, 1.5 * THICK] },
        },
      ],
      boundary: { bottom: held(400), top: held(300), left: insulated, right: insulated },
      probes: { hot: face("block", "b"), cold: face("b", "block") },
    };
    for (const problem of [layers, section]) {
      const { extremes } = simulate(problem);
      for (const [name, { max }] of Object.entries(extremes)) {
        const exact = name === "hot" || name === "left" ? hot : cold;
        expect(Math.abs(max - exact), `${problem.frame} ${name}: ${max}`).toBeLessThan(0.02);
      }
    }
  },
);
