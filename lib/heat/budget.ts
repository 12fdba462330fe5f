/**
 * How many cells and steps a problem may take: what needs more is refused with an estimate, before or soon after it begins.
 */
import { InputError } from "../units/problem.ts";
import type { HeatProblem } from "./problem.ts";

/** Cells of the finer of the first two grids, where the problem says nothing else. */
const MOST_CELLS = 250_000;
/** Steps on one grid, where the problem says nothing else; fewer on large grids. */
const MOST_STEPS = 200_000;
const LEAST_OF_MOST_STEPS = 5000;
/** Steps times cells: some minutes. */
const MOST_WORK = 1.5e9;
/** From this share of the budget on the steps still to come are estimated from those of the last share. */
const LOOK_EVERY = 0.05;
/** An estimate is sure enough to refuse by when it is beyond the budget by this. */
const FAR_BEYOND = 10;

/** @throws InputError when the finer of the first two grids has more cells than the problem allows */
export function allowCells(problem: HeatProblem, cells: number): void {
  const most = problem.mostCells ?? MOST_CELLS;
  if (cells <= most) return;
  throw new InputError([
    { code: "too_many_cells", path: "mostCells", given: rounded(cells), most: `${most}` },
  ]);
}

export interface StepBudget {
  /** @throws InputError when more steps are needed than the problem allows, tried ones counted; t in s */
  spend(t: number): void;
}

/** Counts the steps of one run. */
export function makeStepBudget(problem: HeatProblem, cells: number): StepBudget {
  const { stages, mostSteps } = problem;
  const byWork = Math.max(LEAST_OF_MOST_STEPS, Math.round(MOST_WORK / cells));
  const most = mostSteps ?? Math.min(MOST_STEPS, byWork);
  const window = Math.max(1, Math.round(LOOK_EVERY * most));
  const end = stages[stages.length - 1]?.until ?? 0;
  let spent = 0;
  let before = 0;
  return {
    spend(t) {
      spent++;
      if (spent % window !== 0) return;
      const needed = spent + ((end - t) / (t - before)) * window;
      before = t;
      if (spent < most && !(needed > FAR_BEYOND * most)) return;
      throw new InputError([
        {
          code: "too_many_steps",
          path: "mostSteps",
          given: rounded(Math.max(needed, spent)),
          most: `${most}`,
        },
      ]);
    },
  };
}

const rounded = (count: number): number | string =>
  count < Number.POSITIVE_INFINITY ? Number(count.toPrecision(2)) : "endlessly many";
