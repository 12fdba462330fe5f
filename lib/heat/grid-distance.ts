/** How far the answers of nested grids are apart, as the error that extrapolation from them leaves. */
import {
  crossingErrorLeft,
  errorLeft,
  extremeErrors,
  type Nested,
  valueErrorLeft,
} from "./merge.ts";
import type { HeatProblem } from "./problem.ts";

export interface Distance {
  readonly values: number;
  readonly marks: number;
}

/** Error that extrapolation from nested grids leaves, estimated, K: in the values at the wanted times, and in what marks the course of a slab. */
export function gridDistance(problem: HeatProblem, runs: Nested): Distance {
  const { fine, coarse, coarsest } = runs;
  let apart = 0;
  let marks = 0;
  if (coarse === undefined) return { values: 0, marks: 0 };
  fine.values.forEach((values, p) => {
    const error = (f: number, c: number, least?: number) => errorLeft(runs, f, c, least);
    values.forEach((v, k) => {
      apart = Math.max(
        apart,
        valueErrorLeft(runs, p, v, coarse.values[p][k], coarsest?.values[p][k]),
      );
    });
    if (problem.steady === true)
      apart = Math.max(apart, error(fine.max[p], coarse.max[p], coarsest?.max[p]));
    // in a section these would take more cells than a run can have: there the wanted times steer alone
    if (problem.block || fine.max[p] < fine.min[p]) return;
    marks = Math.max(marks, ...extremeErrors(runs, p));
  });
  fine.crossings.forEach((time, k) => {
    const other = coarse.crossings[k];
    if (problem.block || time === null || other === null) return;
    // a time is as far off as the temperature is over its slope
    marks = Math.max(marks, Math.abs(fine.crossingSlopes[k]) * crossingErrorLeft(runs, k));
  });
  return { values: apart, marks };
}

/** Error left in what is wanted by grid and time steps together, K. */
export function errorReached(problem: HeatProblem, runs: Nested): number {
  const { values, marks } = gridDistance(problem, runs);
  const { frontError, timeError } = runs.fine;
  return Math.max(values, marks, frontError) + timeError;
}
