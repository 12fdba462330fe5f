/** What a run takes, counted: the same on every machine. */
import { makeRepeat } from "../../../lib/heat/repeat.ts";
import type { HeatProblem } from "../../../lib/index.ts";

export interface Counted {
  /** Steps tried: accepted and refused ones. */
  readonly tries: number;
  /** Linear systems that were solved, and of them those that were not factored by the axes. */
  readonly solves: number;
  readonly direct: number;
  /** Most refusals of one step. */
  readonly refusedInARow: number;
}

/** Runs a problem on one grid and counts. */
export function counted(problem: HeatProblem): Counted {
  const [integrator] = makeRepeat({ ...problem, estimateGrid: false }).integrators;
  const { op } = integrator!;
  const { factor, solve, solveDirectly } = op;
  let [tries, solves, direct, refusedInARow, inARow] = [0, 0, 0, 0, 0];
  let isDirect = false;
  const { linearize } = op;
  let lastT = Number.NaN;
  op.linearize = (t, u) => {
    inARow = t === lastT ? inARow + 1 : 0;
    lastT = t;
    refusedInARow = Math.max(refusedInARow, inARow);
    linearize.call(op, t, u);
  };
  op.factor = (gammaH) => {
    tries++;
    return factor.call(op, gammaH);
  };
  op.solve = (x) => {
    solves++;
    if (isDirect) direct++;
    solve.call(op, x);
  };
  op.solveDirectly = (yes) => {
    isDirect = yes;
    solveDirectly.call(op, yes);
  };
  integrator!.run(true);
  return { tries, solves, direct, refusedInARow };
}
