/**
 * Balances that a finite-volume grid meets to rounding on any number of cells: a thousandth too much in one conductance,
 * in the half cell at a face or in the heat held shows at once, where a transient hides it behind the error of the grid.
 */
import { expect, test } from "vitest";
import { readSolveProblem, simulate } from "../../../lib/index.ts";

const materials = {
  a: { conductivity: 0.2, density: 1000, specificHeat: 1500 },
  b: { conductivity: 1.1, density: 2000, specificHeat: 900 },
};
const relative = (x: number, expected: number) => Math.abs(x / expected - 1);

/** Series of resistances, m2 K/W: air, layer a, contact, layer b, and the far face held or in air. */
function series(h: number, far: number) {
  const R = [1 / h, 0.02 / 0.2, 1 / 150, 0.03 / 1.1, far];
  const q = (90 - 20) / R.reduce((s, r) => s + r, 0);
  const at = (k: number) => 90 - q * R.slice(0, k).reduce((s, r) => s + r, 0);
  return { outer: at(1), before: at(2), after: at(3), inner: at(4) };
}

const layers = [
  { name: "a", material: "a", thickness: 0.02, initial: 40, contact: 150 },
  { name: "b", material: "b", thickness: 0.03, initial: 40 },
];

test.each([
  ["in air", { h: 12, ambient: 20 }, 1 / 12],
  ["held", { temperature: 20 }, 0],
] as const)(
  "steady flow through two layers and their contact, far face %s",
  (_name, right, far) => {
    const run = simulate({
      ...readSolveProblem({
        frame: "slab",
        materials,
        layers,
        boundary: { left: { h: 400, ambient: 90 }, right },
        until: 1e6,
        probes: { outer: [0], before: [0.02, "left"], after: [0.02, "right"], inner: [0.05] },
        times: [1e6],
      }),
      estimateGrid: false,
      tolerance: 1e-9,
    });
    for (const [name, T] of Object.entries(series(400, far)))
      expect(Math.abs(run.probes[name][0] - 273.15 - T), name).toBeLessThan(1e-6);
  },
);

test.each([
  ["x", "left", "right"],
  ["y", "bottom", "top"],
])("the same in a section, along %s", (axis, first, last) => {
  const along = axis === "x";
  const place = (s: number) => (along ? [s, 0.01] : [0.01, s]);
  const run = simulate({
    ...readSolveProblem({
      frame: "section",
      materials,
      block: {
        width: along ? 0.05 : 0.02,
        height: along ? 0.02 : 0.05,
        material: "b",
        initial: 40,
      },
      shapes: [
        {
          name: "a",
          rectangle: [0.02, 0.02],
          center: [0.01, 0.01],
          material: "a",
          initial: 40,
          contact: 150,
        },
      ],
      boundary: {
        left: "insulated",
        right: "insulated",
        top: "insulated",
        bottom: "insulated",
        [first]: { h: 400, ambient: 90 },
        [last]: { h: 12, ambient: 20 },
      },
      until: 1e5,
      probes: { outer: place(0), inner: place(0.05) },
      times: [1e5],
    }),
    estimateGrid: false,
    tolerance: 1e-6,
  });
  const { outer, inner } = series(400, 1 / 12);
  expect(Math.abs(run.probes["outer"][0] - 273.15 - outer)).toBeLessThan(1e-4);
  expect(Math.abs(run.probes["inner"][0] - 273.15 - inner)).toBeLessThan(1e-4);
});

test("what flows in through a face and nowhere out is held: the mean rises by q t / (rho c L)", () => {
  const flux = 500;
  const base = readSolveProblem({
    frame: "slab",
    materials,
    layers: [{ name: "a", material: "a", thickness: 0.02, initial: 40 }],
    boundary: { left: "insulated", right: "insulated" },
    until: 600,
    probes: { inside: [0.01] },
    times: [600],
  });
  const run = simulate({
    ...base,
    boundary: { ...base.boundary, left: { kind: "flux", flux } },
    probes: { mean: { kind: "mean", region: "a" } },
    estimateGrid: false,
  });
  const rise = run.probes["mean"][0] - 313.15;
  expect(relative(rise, (flux * 600) / (1000 * 1500 * 0.02))).toBeLessThan(1e-9);
});
