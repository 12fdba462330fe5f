/**
 * The same stages again and again, each time from the temperatures that the last time left: shots in a row.
 */
import { InputError } from "../units/problem.ts";
import { checkHeatProblem } from "./check.ts";
import { makeGrids } from "./grid.ts";
import { errorReached } from "./grid-distance.ts";
import { type Integrator, makeIntegrator } from "./integrator.ts";
import { type LeftState, startFrom } from "./left-state.ts";
import { merge, nestedRuns } from "./merge.ts";
import type { HeatProblem, History } from "./problem.ts";
import { withinTables } from "./reach.ts";
import type { RunRecord } from "./run-record.ts";
import { type Scale, scaleOf } from "./scale.ts";
import { foldSymmetric } from "./symmetry.ts";

/** A problem whose stages are run again and again, each time from where the last run ended. */
export interface Repeat {
  /** Runs all stages once more. The first time every region starts at its initial temperature. */
  next(): History;
  /** The next run is a first one again, or goes on from temperatures that a problem like this one left. */
  restart(from?: LeftState): void;
  /** The integrators of the grids that are run, the finer first, for who solves for their temperatures. */
  readonly integrators: readonly Integrator[];
  readonly scale: Scale;
  /** One history of what the integrators found, in their order. */
  joined(found: readonly RunRecord[]): History;
}

/**
 * Prepares the stages of a problem for being run over and over.
 *
 * What comes new each time must be named in a `refill` of its stage; all else keeps its temperature. With
 * `estimateGrid: false` only the finer grid is run.
 *
 * @throws InputError with every problem of the input at once
 * @example makeRepeat(readSolveProblem({ frame: "slab", materials: { m: { conductivity: 1, density: 1000,
 * specificHeat: 1000 } }, layers: [{ name: "plate", material: "m", thickness: 0.02, initial: 100 }], boundary: {
 * left: { temperature: 0 }, right: { temperature: 0 } }, until: 100, times: [100], probes: { mid: [0.01] }
 * })).next().probes.mid[0] // 283.9
 */
export function makeRepeat(problem: HeatProblem): Repeat {
  const problems = checkHeatProblem(problem);
  if (problems.length > 0) throw new InputError(problems);
  const { problem: folded, unfold } = foldSymmetric(problem);
  const scale = scaleOf(problem);
  const properties = withinTables(problem, scale, (tables) => tables);
  const depths = problem.estimateGrid === false ? [1] : [1, 0];
  const gridOf = makeGrids(folded);
  const integrators = depths.map((finer) =>
    makeIntegrator(folded, gridOf(finer), properties, scale),
  );
  const cells = integrators.reduce((sum, integrator) => sum + integrator.op.cells, 0);
  const names = Object.keys(problem.probes);
  let first = true;
  const joined = (found: readonly RunRecord[]): History => {
    const runs = nestedRuns(problem, found[0], found[1], undefined);
    const reached = errorReached(problem, runs);
    return merge(problem, names, runs, { cells, reached, asked: null, limitedBy: null }, unfold);
  };
  return {
    integrators,
    scale,
    joined,
    restart(from) {
      first = from === undefined;
      if (from) for (const integrator of integrators) startFrom(from, integrator, scale);
    },
    next() {
      const found = integrators.map((integrator) => integrator.run(first));
      first = false;
      return joined(found);
    },
  };
}
