/** Whoever does not ask what the steps leave gets the same run, and no figure for it. */
import { expect, test } from "vitest";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { simulate } from "../../../lib/heat/simulate.ts";

const problem: HeatProblem = {
  frame: "slab",
  materials: {
    resin: {
      name: "resin",
      conductivity: 0.3,
      density: 1500,
      specificHeat: 1300,
      cure: {
        law: makeRateLaw({ law: "nth-order", A: 2e5, E: 55e3, n: 1.3 }),
        heat: 150e3,
        initial: 1e-4,
      },
    },
  },
  layers: [{ name: "plate", material: "resin", thickness: 0.03, initial: 300 }],
  boundary: {
    left: { kind: "exchange", h: 10, ambient: 298 },
    right: { kind: "exchange", h: 10, ambient: 298 },
  },
  stages: [{ until: 20_000 }],
  probes: { hot: { kind: "hottest", region: "plate" } },
  estimateGrid: false,
  tolerance: 1e-3,
};

test("a run of which no error of its steps is asked is the same, and says that it is not known", () => {
  const [told, untold] = [problem, { ...problem, estimateSteps: false }].map(simulate);
  expect(untold!.extremes).toEqual(told!.extremes);
  expect(untold!.trace.probes["hot"]).toEqual(told!.trace.probes["hot"]);
  expect(untold!.effort.steps).toBe(told!.effort.steps);
  expect(told!.effort.timeError).toBeGreaterThan(0);
  expect(told!.effort.timeError).toBeLessThan(10);
  expect(untold!.effort.timeError).toBe(Number.POSITIVE_INFINITY);
});
