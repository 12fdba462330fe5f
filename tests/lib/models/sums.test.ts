import { expect, test } from "vitest";
import { EffortSum } from "../../../lib/models/ranged.ts";

test("the effort of several histories: steps add up, cells and imbalance are those of the largest", () => {
  const sum = new EffortSum();
  expect(sum.done()).toEqual({ cells: 0, steps: 0, energyImbalance: 0 });
  sum.add({ effort: { cells: 100, steps: 7, energyImbalance: 1e-12 } });
  sum.add({ effort: { cells: 400, steps: 5, energyImbalance: 3e-12 } });
  sum.add({ effort: { cells: 50, steps: 1, energyImbalance: 2e-12 } });
  expect(sum.done()).toEqual({ cells: 400, steps: 13, energyImbalance: 3e-12 });
});
