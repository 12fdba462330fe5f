/** Which method a grid is stepped with, and how much of the tolerance one of its steps may take. */

import { RODAS4, ROS2, type Tableau } from "../numerics/rosenbrock.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import type { Operator } from "./operator.ts";
import type { HeatProblem } from "./problem.ts";
import { conductivityAt, type Properties } from "./properties.ts";

/** Largest ratio of conductivities in a section that a matrix factored by its axes is trusted with. */
const MILD_RATIO = 20;

/** Passive sections of more cells take ROS2: the stages of RODAS4 would take a third more memory for each. */
const MOST_FOR_RODAS = 30_000;

/**
 * One grid alone with a rough tolerance, and no time looked for at which a stage stops: such a look is short, or ends its steps
 * at many pictures, and the two stages of ROS2 are done sooner.
 */
const isGlance = ({ tolerance, estimateGrid, stages }: HeatProblem): boolean =>
  estimateGrid === false &&
  tolerance !== undefined &&
  tolerance > 1e-4 &&
  stages.every(({ stop }) => stop === undefined);

/**
 * Share of the tolerance that a single step may take, tried on published cases: the error of the whole run then stays below it.
 * The error that a step shows is that of the embedded solution, and dies away in what does not cure: one grid alone, or
 * the default, keeps no tolerance of its own, and its steps may be as rough as its cells. Of a section's they leave up to
 * 0.15 % in a demold time at four tolerances, up to 0.3 % at eight, beside 0.2 % that its cells leave; a row's at eight up to
 * 0.03 % in 49 of 50.
 */
function shareOf({ tolerance, estimateGrid }: HeatProblem, { grid, hasCure }: Operator): number {
  const rough = tolerance === undefined || estimateGrid === false;
  if (hasCure) return rough ? 1 : 0.3;
  if (grid.ny === 1) return tolerance === undefined ? 8 : 1;
  if (rough) return 4;
  return tolerance <= 1e-4 ? 1 : 2;
}

/** Largest over smallest conductivity of the materials that a problem uses, at 50 degC. */
function conductivityRatio(
  problem: HeatProblem,
  properties: ReadonlyMap<string, Properties>,
): number {
  const used = [
    problem.block?.material,
    ...(problem.shapes ?? []).map((s) => s.material),
    ...problem.stages.flatMap((s) => (s.refill ?? []).map((r) => r.material)),
  ];
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const name of used) {
    const p = name === undefined ? undefined : properties.get(name);
    if (p === undefined) continue;
    const k = conductivityAt(p, ZERO_CELSIUS + 50);
    least = Math.min(least, k);
    most = Math.max(most, k);
  }
  return most / least;
}

interface Method {
  readonly tableau: Tableau;
  /** Conductivities differ so much that a matrix factored by its axes is not to be trusted. */
  readonly contrast: boolean;
  /** Error that a step may show: share of the span, and of the cure. */
  readonly allowed: number;
}

export function methodFor(
  problem: HeatProblem,
  op: Operator,
  properties: ReadonlyMap<string, Properties>,
): Method {
  const tolerance = problem.tolerance ?? 1e-4;
  // with the factored matrix ROS2 drifts where metal lies beside plastic, RODAS4 doesn't: measured from a ratio of 200 on
  const isSection = op.grid.ny > 1;
  const contrast = isSection && conductivityRatio(problem, properties) > MILD_RATIO;
  const passive = isSection && !op.hasCure && !contrast;
  const twoStages =
    passive && ((op.cells > MOST_FOR_RODAS && tolerance >= 1e-4) || isGlance(problem));
  const share = twoStages ? 4 : shareOf(problem, op);
  return { tableau: twoStages ? ROS2 : RODAS4, contrast, allowed: tolerance * share };
}
