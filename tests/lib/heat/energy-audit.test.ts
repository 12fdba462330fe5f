import { expect, test } from "vitest";
import { makeEnergyAudit, mustClose } from "../../../lib/heat/energy-audit.ts";
import { makeGrids } from "../../../lib/heat/grid.ts";
import { makeIntegrator } from "../../../lib/heat/integrator.ts";
import type { Operator } from "../../../lib/heat/operator.ts";
import { withinTables } from "../../../lib/heat/reach.ts";
import { scaleOf } from "../../../lib/heat/scale.ts";
import { readSolveProblem } from "../../../lib/index.ts";
import { NoConvergence } from "../../../lib/units/problem.ts";

/** Two cells that cure, with 10 and 20 J to set free, and one that is empty. */
const op = {
  cells: 3,
  size: 7,
  hasCure: true,
  active: Uint8Array.of(1, 1, 0),
  C: Float64Array.of(5, 5, 1),
  qV: Float64Array.of(10, 20, 0),
} as unknown as Operator;

/** Energies of the cells, their cure, then what came in. */
const state = (...u: number[]) => Float64Array.from(u);

test("every joule that is stored came in or was set free: nothing is left over", () => {
  const audit = makeEnergyAudit(op, 100);
  audit.begin(state(0, 0, 99, 0, 0, 0, 0));
  // 30 + 40 J more: 45 came in, curing set free 0.5 x 10 + 1 x 20
  expect(audit.imbalance(state(30, 40, 1, 0.5, 1, 0, 45))).toBeCloseTo(0, 14);
});

test("a joule in seventy that came from nowhere is seen as one in seventy", () => {
  const audit = makeEnergyAudit(op, 100);
  audit.begin(state(0, 0, 0, 0, 0, 0, 0));
  expect(audit.imbalance(state(30, 40, 0, 0.5, 1, 0, 44))).toBeCloseTo(1 / 70, 12);
});

test("a stage in which nothing happens is judged against a small share of the heat held", () => {
  const audit = makeEnergyAudit(op, 100);
  audit.begin(state(0, 0, 0, 0, 0, 0, 0));
  // 1e-4 of 10 J/K over 100 K is 0.1 J (the empty cell holds none)
  expect(audit.imbalance(state(0.05, 0, 0, 0, 0, 0, 0))).toBeCloseTo(0.5, 12);
});

test("a millionth of the energy may be missing, no more", () => {
  expect(() => mustClose(9e-7, 1, 1)).not.toThrow();
  for (const imbalance of [1.1e-6, 1, Number.NaN])
    expect(() => mustClose(imbalance, 1, 1)).toThrow(NoConvergence);
});

test("a run in which a cell gains what came from nowhere is no answer", () => {
  const problem = readSolveProblem({
    frame: "slab",
    materials: { m: { conductivity: 0.9, density: 1700, specificHeat: 1100 } },
    layers: [{ name: "m", material: "m", thickness: 0.01, initial: 100 }],
    boundary: { right: { h: 50, ambient: 20 } },
    probes: { c: [0] },
    until: 100,
  });
  const scale = scaleOf(problem);
  const run = (watt: number) =>
    withinTables(problem, scale, (properties) => {
      const integrator = makeIntegrator(problem, makeGrids(problem)(0), properties, scale);
      const { op } = integrator;
      const rates = op.rates.bind(op);
      op.rates = (t, u, out) => {
        rates(t, u, out);
        out[0] += watt;
      };
      return integrator.run(true).imbalance;
    });
  expect(run(0)).toBeLessThan(1e-12);
  expect(() => run(0.1)).toThrow(NoConvergence);
});
