/** Contacts between layers: resistances in a row, whoever is named first. */
import { expect, test } from "vitest";
import type { HeatProblem, Layer, PairContact } from "../../../lib/heat/problem.ts";
import { simulate } from "../../../lib/heat/simulate.ts";

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
