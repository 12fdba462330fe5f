import type { Problem } from "../units/problem.ts";
import { InputError } from "../units/problem.ts";
import { checkHeatProblem } from "./check.ts";
import { makeGrid } from "./grid.ts";
import { makeIntegrator } from "./integrator.ts";
import { gridOrder, merge } from "./merge.ts";
import type { HeatProblem, History } from "./problem.ts";
import type { Properties } from "./properties.ts";
import { withinTables } from "./reach.ts";
import type { RunRecord } from "./run-record.ts";
import { type Scale, scaleOf } from "./scale.ts";
import { foldSymmetric } from "./symmetry.ts";

/**
 * Solves a heat problem: c(T) dT/dt = div(k(T) grad T) + rho H d(cure)/dt through all its stages.
 *
 * Two exactly nested grids are run; probes at wanted times, crossings and extremes are extrapolated from both, and their
 * weighted difference is the estimate of the error that the grid leaves; trace and snapshots are the finer grid's. A
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
  const { problem: folded, unfold } = foldSymmetric(problem);
  const run = (finer: number): [RunRecord, number] => {
    const integrator = makeIntegrator(folded, makeGrid(folded, finer), properties, scale);
    return [integrator.run(true), integrator.op.cells];
  };
  let coarse = problem.estimateGrid === false ? undefined : run(0);
  let fine = run(1);
  let cells = fine[1] + (coarse?.[1] ?? 0);
  if (coarse && problem.tolerance !== undefined) {
    // a tolerance that was given governs the grid as well: halve it until two grids agree well enough
    const most = problem.block ? MOST_CELLS_2D : MOST_CELLS_1D;
    const growth = problem.block ? 4 : 2;
    const wanted = problem.tolerance * scale.span;
    let before = Number.POSITIVE_INFINITY;
    for (let finer = 2; finer <= DEEPEST && fine[1] * growth <= most; finer++) {
      const { values, marks } = gridDistance(problem, fine[0], coarse[0]);
      const halvings = Math.log(marks / wanted) / Math.log(2 ** gridOrder(problem));
      // crossings and extremes of a runaway need more cells than a run can have: they steer where it leads to something
      const work = growth * fine[1] * (fine[0].steps + fine[0].rejected);
      const leads =
        marks < before / LEAST_GAIN &&
        fine[1] * growth ** halvings <= most &&
        work <= MOST_WORK_FOR_MARKS;
      if (!(values > wanted || (marks > wanted && leads))) break;
      before = marks;
      coarse = fine;
      fine = run(finer);
      cells += fine[1];
    }
  }
  const history = merge(problem, Object.keys(problem.probes), fine[0], coarse?.[0], cells);
  return { ...history, snapshots: history.snapshots.map(unfold) };
}

/** Where halving ends. */
const MOST_CELLS_1D = 3000;
const MOST_CELLS_2D = 25_000;
const DEEPEST = 6;
/** Extrapolation from two grids is better than the finer one by at least this (measured: 4 to 20). */
const GAIN = 4;
/** A halving that does not bring crossings and extremes nearer by this is not followed by another for their sake. */
const LEAST_GAIN = 2;
/** Steps of cells that a grid is worth which is made for crossings and extremes alone. */
const MOST_WORK_FOR_MARKS = 200_000;

/** Error that extrapolation from two grids leaves, estimated, K: in the values at the wanted times, and in what marks the course of a slab. */
function gridDistance(
  problem: HeatProblem,
  fine: RunRecord,
  coarse: RunRecord,
): { values: number; marks: number } {
  const w = 1 / (2 ** gridOrder(problem) - 1) / GAIN;
  let apart = 0;
  let marks = 0;
  const see = (distance: number) => {
    marks = Math.max(marks, w * Math.abs(distance));
  };
  fine.values.forEach((values, p) => {
    values.forEach((v, k) => {
      apart = Math.max(apart, w * Math.abs(v - coarse.values[p][k]));
    });
    // in a section these would take more cells than a run can have: there the wanted times steer alone
    if (problem.block || fine.max[p] < fine.min[p]) return;
    see(fine.max[p] - coarse.max[p]);
    see(fine.min[p] - coarse.min[p]);
  });
  fine.crossings.forEach((time, k) => {
    const other = coarse.crossings[k];
    // a time is as far off as the temperature is over its slope
    if (!problem.block && time !== null && other !== null)
      see(fine.crossingSlopes[k] * (time - other));
  });
  return { values: apart, marks };
}
