/**
 * The whole public API of the library: one explicit line for each name.
 *
 * SI and kelvin throughout, except `solve`, whose problem file has temperatures in degC.
 */

export type { Range } from "./confidence/range.ts";
export { type Periodic, type PeriodicOptions, periodic } from "./heat/periodic.ts";
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
export { makeRepeat, type Repeat } from "./heat/repeat.ts";
export { simulate } from "./heat/simulate.ts";
export { catalog, findMaterial, materialNamed } from "./materials/catalog.ts";
export type {
  FillerTraits,
  MaterialEntry,
  Pick,
  PlastisolTraits,
  ResinTraits,
  Spread,
  SpreadOverT,
} from "./materials/entry.ts";
export type { CureOfMaterial, Material, PropertyLaw, RateLaw } from "./materials/material.ts";
export { type MaterialPicks, propertyAt, toMaterial } from "./materials/to-material.ts";
export type {
  Answer,
  Cause,
  CautionCode,
  IgnoredCode,
  Lever,
  LeverCode,
  Quantified,
  Reason,
  ReasonCode,
} from "./questions/answer.ts";
export type { Course } from "./questions/cooling.ts";
export {
  type Demold,
  type DemoldAnswer,
  type DemoldOptions,
  demold,
  type StationDemold,
} from "./questions/demold.ts";
export { checkJob, type Job, type JobReading, readJob, withSetting } from "./questions/job.ts";
export { jobJsonSchema, jobSchema } from "./questions/job-schema.ts";
export type { OpenTimeRow } from "./questions/open-times.ts";
export { readSolveProblem, type SolveAnswer, solve } from "./questions/solve.ts";
export { type Surroundings, surroundingsOf } from "./questions/surroundings.ts";
export type { Outline, Point } from "./shape/outline.ts";
export { ellipseMode, equalBar } from "./shape/slowest-mode.ts";
export {
  type DisplayUnitName,
  displayUnits,
  fromUnit,
  toUnit,
  type UnitSystem,
  unitFor,
} from "./units/display.ts";
export { compileExpression } from "./units/expression.ts";
export {
  clockTime,
  formatDuration,
  formatQuantity,
  formatRange,
  inchFraction,
  rangeInWords,
  stepOf,
} from "./units/format.ts";
export { type Kind, kinds } from "./units/kinds.ts";
export { InputError, NoConvergence, type Problem } from "./units/problem.ts";
export {
  isProblem,
  parseQuantity,
  type Quantity,
  readQuantity,
  valueIn,
} from "./units/quantity.ts";
