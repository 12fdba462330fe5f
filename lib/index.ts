/**
 * The whole public API of the library: one explicit line for each name.
 *
 * SI and kelvin throughout, except `solve`, whose problem file has temperatures in degC.
 */

export type { Range } from "./confidence/range.ts";
export type {
  Block,
  Boundary,
  Crossing,
  Effort,
  EndLoss,
  Extreme,
  Frame,
  HeatProblem,
  History,
  Layer,
  OverTime,
  Probe,
  Refill,
  Shape,
  Side,
  Snapshot,
  Stage,
} from "./heat/problem.ts";
export { simulate } from "./heat/simulate.ts";
export type { CureOfMaterial, Material, PropertyLaw, RateLaw } from "./materials/material.ts";
export { readSolveProblem, type SolveAnswer, solve } from "./questions/solve.ts";
export type { Outline, Point } from "./shape/outline.ts";
export { InputError, NoConvergence, type Problem } from "./units/problem.ts";
