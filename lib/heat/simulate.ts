import type { Problem } from "../units/problem.ts";
import { InputError } from "../units/problem.ts";
import { checkHeatProblem } from "./check.ts";
import { makeGrids } from "./grid.ts";
import { type Distance, errorReached, gridDistance } from "./grid-distance.ts";
import { makeIntegrator } from "./integrator.ts";
import { gridOrder, merge, nestedRuns } from "./merge.ts";
import type { Operator } from "./operator.ts";
import type { HeatProblem, History, Limit } from "./problem.ts";
import type { Properties } from "./properties.ts";
import { withinTables } from "./reach.ts";
import type { RunRecord } from "./run-record.ts";
import { type Scale, scaleOf } from "./scale.ts";
import { steadyRun } from "./steady.ts";
import { foldSymmetric } from "./symmetry.ts";

/**
 * Solves a heat problem: c(T) dT/dt = div(k(T) grad T) + rho H d(cure)/dt through all its stages.
 *
 * Two exactly nested grids are run; probes at wanted times, crossings and extremes are extrapolated from both, and their
 * weighted difference is the estimate of the error that the grid leaves; trace and snapshots are the finer grid's. A third
 * one, asked for by `grids` or a tolerance, tells how much smaller the error of what was extrapolated is. A
 * `tolerance` that is given governs time steps and grid: grids are halved until the estimate at the wanted times is within
 * it, or too many cells would be needed. With `estimateGrid: false` only the finer grid is run, and never halved.
 *
 * @param problem SI and K; see `HeatProblem`
 * @returns the history: probes in K at the wanted times, crossings, extremes, energy audit
 * @throws InputError with every problem of the input at once
 * @throws NoConvergence when the steps shrink without end
 * @example simulate(readSolveProblem({ frame: "slab", materials: { m: { conductivity: 1, density: 1000, specificHeat:
 * 1000 } }, layers: [{ name: "plate", material: "m", thickness: 0.02, initial: 100 }], boundary: { left: {
 * temperature: 0 }, right: { temperature: 0 } }, until: 100, times: [100], probes: { mid: [0.01] } })).probes.mid[0] // 283.9
 */
export function simulate(problem: HeatProblem): History {
  const problems: Problem[] = checkHeatProblem(problem);
  if (problems.length > 0) throw new InputError(problems);
  const scale = scaleOf(problem);
  return withinTables(problem, scale, (properties) => simulateWith(problem, scale, properties));
}

function simulateWith(
  problem: HeatProblem,
  scale: Scale,
  properties: ReadonlyMap<string, Properties>,
): History {
  const { problem: folded, unfold } = foldSymmetric(
    problem.steady === true ? { ...problem, useSymmetry: false } : problem,
  );
  const { tolerance } = problem;
  const asked = tolerance === undefined ? null : tolerance * scale.span;
  // one grid alone keeps no tolerance: its steps may be as rough as its cells
  const one = problem.estimateGrid === false;
  const gridOf = makeGrids(problem.steady === true ? problem : folded);
  /** Share of the tolerance that is asked of a step. */
  let steps = 1;
  const run = (finer: number): [RunRecord, number] => {
    const grid = gridOf(finer);
    if (problem.steady === true)
      return [steadyRun(problem, grid, properties, scale), grid.nx * grid.ny];
    const withSteps = (share: number, more: Partial<HeatProblem> = {}): [RunRecord, Operator] => {
      const own = tolerance === undefined ? folded : { ...folded, tolerance: tolerance * share };
      const integrator = makeIntegrator({ ...own, ...more }, grid, properties, scale);
      return [integrator.run(true), integrator.op];
    };
    const [found, { cells, hasCure }] = withSteps(steps);
    if (!hasCure || one || tolerance === undefined || asked === null || found.stopped)
      return [found, cells];
    const over = found.timeError / (MOST_FROM_STEPS * asked);
    const shorter = steps * Math.max(0.03, 0.5 / over);
    if (!(over > 1 && found.timeError < 0.1 * scale.span && tolerance * shorter > SHORTEST))
      return [found, cells];
    // more than this many times the steps is not worth it
    const mostSteps = MOST_MORE_STEPS * (found.steps + found.rejected);
    const better = attempt(() => withSteps(shorter, { mostSteps }));
    if (better === undefined || better[0].timeError > found.timeError) return [found, cells];
    steps = shorter;
    return [better[0], cells];
  };
  let coarsest: readonly [RunRecord, number] | undefined;
  let coarse = one ? undefined : run(0);
  let fine = run(1);
  let cells = fine[1] + (coarse?.[1] ?? 0);
  let limitedBy: Limit | null = null;
  let halvings = 1;
  const nested = () => nestedRuns(problem, fine[0], coarse?.[0], coarsest?.[0], halvings);
  if (coarse && (asked !== null || problem.grids === 3)) {
    // a tolerance that was given governs the grid as well: halve it until the grids agree well enough
    for (let finer = 2; ; finer++) {
      const apart = gridDistance(problem, nested());
      const isJudged = coarsest !== undefined;
      const next = nextGrid(problem, { apart, asked: asked ?? ANY_ERROR, finer, fine, isJudged });
      if (next !== "worth it") {
        limitedBy = next;
        break;
      }
      coarsest = coarse;
      coarse = fine;
      fine = run(finer);
      halvings = finer;
      cells += fine[1];
    }
  }
  const reached = errorReached(problem, nested());
  // no finer grid was asked for, but the steps did not get there
  if (asked !== null && limitedBy === null && fine[0].timeError > asked) limitedBy = "steps";
  const effort = { cells, reached, asked, limitedBy };
  return merge(problem, Object.keys(problem.probes), nested(), effort, unfold);
}

/**
 * Share of the tolerance that the time steps may take where errors grow. For it they are made shorter once, where the error is
 * not all there is to the answer already (a body at the edge of running away), and down to steps that rounding allows.
 */
const MOST_FROM_STEPS = 0.6;
const MOST_MORE_STEPS = 5;
const SHORTEST = 1e-7;

/** What a run gives; undefined where it takes more steps than it may. */
function attempt<A>(run: () => A): A | undefined {
  try {
    return run();
  } catch (error) {
    if (error instanceof InputError && error.problems[0]?.code === "too_many_steps")
      return undefined;
    throw error;
  }
}

/** Where halving ends. */
const MOST_CELLS_1D = 3000;
const MOST_CELLS_2D = 25_000;
const DEEPEST = 6;
/** Steps of cells that a grid is worth which is made for crossings and extremes alone. */
const MOST_WORK_FOR_MARKS = 200_000;
/** The same for one that is made only to know the error of what two grids gave. */
const MOST_WORK_TO_JUDGE = 200_000;
/** What is asked where no tolerance is. */
const ANY_ERROR = Number.POSITIVE_INFINITY;

/** Where the halving of grids stands; errors in K. */
interface Halving {
  readonly apart: Distance;
  readonly asked: number;
  /** Halvings of the grid that would be next. */
  readonly finer: number;
  readonly fine: readonly [RunRecord, number];
  /** There are three grids already, and what they leave open is known. */
  readonly isJudged: boolean;
}

/** Whether a finer grid is worth it; else what is in its way, or null where nothing more is asked. */
function nextGrid(problem: HeatProblem, state: Halving): "worth it" | Limit | null {
  const { apart, asked, finer, isJudged } = state;
  const [found, cells] = state.fine;
  const most = problem.mostCells ?? (problem.block ? MOST_CELLS_2D : MOST_CELLS_1D);
  const growth = problem.block ? 4 : 2;
  const work = growth * cells * (found.steps + found.rejected);
  // what the time steps leave is not to be had from the grid
  const wanted = Math.max(asked - found.timeError, 0.5 * asked);
  const isLost = found.frontError > wanted;
  if (!(apart.values > wanted || apart.marks > wanted || isLost)) {
    const isCheap = cells * growth <= most && work <= MOST_WORK_TO_JUDGE;
    return isJudged || problem.steady === true || !isCheap ? null : "worth it";
  }
  if (cells * growth > most) return "cells";
  if (finer > DEEPEST) return "halvings";
  if (apart.values > wanted) return "worth it";
  // crossings and extremes of a runaway need more cells than a run can have: there they steer where it leads to something
  const halvings = Math.log(apart.marks / wanted) / Math.log(2 ** gridOrder(problem));
  const cures = Object.values(problem.materials).some((m) => m.cure);
  if (apart.marks > wanted && cures && cells * growth ** halvings > most) return "cells";
  return work <= MOST_WORK_FOR_MARKS ? "worth it" : "steps";
}
