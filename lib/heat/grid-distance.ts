/** How far the answers of two nested grids are apart, as the error that extrapolation from both leaves. */
import { gridOrder } from "./merge.ts";
import type { HeatProblem } from "./problem.ts";
import type { RunRecord } from "./run-record.ts";

/** Extrapolation from two grids is better than the finer one by at least this (measured: 4 to 20). */
const GAIN = 4;

export interface Distance {
  readonly values: number;
  readonly marks: number;
}

/** Error that extrapolation from two grids leaves, estimated, K: in the values at the wanted times, and in what marks the course of a slab. */
export function gridDistance(problem: HeatProblem, fine: RunRecord, coarse: RunRecord): Distance {
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
    if (problem.steady === true) apart = Math.max(apart, w * Math.abs(fine.max[p] - coarse.max[p]));
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

/** Error left in what is wanted by grid and time steps together, K. */
export function errorReached(
  problem: HeatProblem,
  fine: RunRecord,
  coarse: RunRecord | undefined,
): number {
  if (coarse === undefined) return fine.timeError;
  const { values, marks } = gridDistance(problem, fine, coarse);
  return Math.max(values, marks) + fine.timeError;
}
