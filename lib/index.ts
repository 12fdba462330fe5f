/**
 * The whole public API of the library: one explicit line for each name.
 *
 * SI and kelvin throughout, except `solve`, whose problem file has temperatures in degC.
 */

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
} from "./answers/answer.ts";
export type { KindByKey, KindsOf, NumberKind } from "./answers/kinds.ts";
export type { Range } from "./confidence/range.ts";
export {
  type AdiabaticStart,
  adiabaticRunaway,
  adiabaticTime,
  type Runaway,
} from "./cure/adiabatic.ts";
export {
  type Calibration,
  type Candidate,
  calibrateCure,
  type DataSheet,
  type MixToCalibrate,
  type Unsettled,
} from "./cure/calibrate.ts";
export { type Cup, type CupCourse, cupShape, cureInCup } from "./cure/cup.ts";
export {
  agingSpeed,
  doseOfCourse,
  type Heating,
  lifeLeft,
  thermalDose,
  type Yellowing,
} from "./cure/dose.ts";
export { gelPoint, gelTime, workTime } from "./cure/gel.ts";
export {
  type GlassTransition,
  glassCure,
  glassTransition,
  vitrificationCure,
} from "./cure/glass-transition.ts";
export {
  type Bond,
  bondByTemperature,
  coldestFirstLayer,
  degreeOfHealing,
  GUESSED_HEALING,
  type HealingTime,
  healingTime,
} from "./cure/healing.ts";
export { type CureSpan, cureAfter, timeToCure } from "./cure/isothermal.ts";
export {
  type IsothermalCure,
  isothermalCures,
  type PublishedLaw,
  publishedLaw,
  publishedLaws,
} from "./cure/published.ts";
export type { RateSpec, VitrificationCap } from "./cure/rate-form.ts";
export { makeRateLaw, rate } from "./cure/rate-laws.ts";
export {
  criticalLump,
  criticalRunaway,
  leastRunawayRise,
  pourRunawayNumber,
  RUNAWAY_NUMBER_LEAVES_OUT,
  type RunawayCriterion,
  type RunawayShape,
  runawayNumber,
  zeroOrderRunaway,
} from "./cure/runaway.ts";
export { criticalRunawayArrhenius } from "./cure/runaway-arrhenius.ts";
export { type Settled, type Suspension, settledAtGel, settlingSpeed } from "./cure/settling.ts";
export { makeTabulatedRateLaw } from "./cure/tabulated.ts";
export {
  cureAtThickening,
  fillerThickening,
  freshViscosity,
  type Thickening,
  thickening,
} from "./cure/viscosity.ts";
export {
  type AirFace,
  type AirProperties,
  airProperties,
  BENCH,
  fanCoefficient,
  hotFaceDown,
  hotFaceUp,
  levelPipe,
  radiationCoefficient,
  rayleigh,
  stillAirCoefficient,
  verticalAny,
  verticalLaminar,
  WATER_BATH,
} from "./formulas/air.ts";
export {
  contactFlux,
  contactHeat,
  contactTemperature,
  effusivity,
  type ThickBody,
  temperatureNearContact,
  thickBodyHeated,
  thickBodyHeld,
  thickBodyInAir,
} from "./formulas/contact.ts";
export {
  type CoolingCase,
  coolingTime,
  type MoldedBody,
  plateBetween,
} from "./formulas/cooling-time.ts";
export {
  cylinderDrag,
  cylinderEnds,
  ovalDrag,
  sphereDrag,
  streamlinedDrag,
} from "./formulas/drag.ts";
export {
  bodyTheta,
  coolingFourier,
  type Mode,
  modes,
  type SimpleBody,
} from "./formulas/handbook.ts";
export { type LumpedShots, lumpedAfterShot, lumpedLimit } from "./formulas/lumped-shots.ts";
export { type PeriodicWall, periodicWall, type WallLayer } from "./formulas/periodic-wall.ts";
export {
  contactAsThickness,
  criticalRadius,
  pinHeat,
  sleeveTemperature,
} from "./formulas/resistances.ts";
export { moldBesideSlab, slabCoolingTime, slabInMold } from "./formulas/slab-in-mold.ts";
export { type Freezing, neumannRoot, schwarzRoot, stefanRoot } from "./formulas/solidify.ts";
export { type TouchedMaterial, touchLimit, touchTime } from "./formulas/touch.ts";
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
export { checkJob, type Job, type JobReading, readJob } from "./job/job.ts";
export { jobJsonSchema, jobSchema } from "./job/schema.ts";
export { withBody, withThickness } from "./job/with-body.ts";
export { withSetting } from "./job/with-setting.ts";
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
export {
  type Filled,
  filledConductivity,
  hanaiBruggeman,
  hashinShtrikmanUpper,
  hasselmanJohnson,
  lewisNielsen,
  maxwellConductivity,
  type Powder,
  parallelConductivity,
  seriesConductivity,
  symmetricBruggeman,
} from "./materials/filler.ts";
export type {
  CureOfMaterial,
  Material,
  PropertyLaw,
  RateLaw,
  RatePlaces,
} from "./materials/material.ts";
export {
  adiabaticRise,
  dilutedHeat,
  massShare,
  mixtureDensity,
  mixtureSpecificHeat,
  shareFromDensity,
  volumeShare,
} from "./materials/mixture.ts";
export {
  densityAt,
  linearContraction,
  type Shrinking,
  SILICONE_CONTRACTION,
  sizeFactor,
} from "./materials/shrinkage.ts";
export { type MaterialPicks, propertyAt, toMaterial } from "./materials/to-material.ts";
export type { Course } from "./models/cooling.ts";
export { type GlassMargin, glassMargin } from "./models/pour/glass-margin.ts";
export type { PourLayer } from "./models/pour/layers.ts";
export { type Surroundings, surroundingsOf } from "./models/surroundings.ts";
export { type ProofAnswer, type ProofOptions, proof, proofCases } from "./proof/proof.ts";
export {
  type BudgetAnswer,
  type BudgetContent,
  type BudgetRow,
  budget,
  type HeatUsed,
} from "./questions/budget/budget.ts";
export {
  type Demold,
  type DemoldAnswer,
  type DemoldOptions,
  demold,
  type StationDemold,
} from "./questions/demold/demold.ts";
export type { OpenTimeRow } from "./questions/demold/open-times.ts";
export { demoldProblems } from "./questions/demold/problems.ts";
export {
  type FitAnswer,
  type FitContent,
  type FittedParameter,
  fit,
} from "./questions/fit/fit.ts";
export type { TemperatureLog } from "./questions/fit/log.ts";
export { type Untold, untoldCodes } from "./questions/fit/models.ts";
export {
  type LogPlan,
  type LogPlanAnswer,
  type LogWorth,
  planLog,
} from "./questions/fit/plan-log.ts";
export {
  type LayerAnswer,
  type Layered,
  type LayerOptions,
  layer,
  type NextColor,
} from "./questions/layer/layer.ts";
export { layerProblems } from "./questions/layer/problems.ts";
export type { WhatIf } from "./questions/layer/table.ts";
export {
  type MassRatio,
  ratioByMass,
  ratioByVolume,
  ratioError,
  smallestBatch,
} from "./questions/mix/batch.ts";
export { type MixAnswer, type MixContent, type MixedPour, mix } from "./questions/mix/mix.ts";
export { type PlanAnswer, type PlanContent, plan } from "./questions/plan/plan.ts";
export type { Alternative } from "./questions/pour/alternatives.ts";
export {
  type ColdPour,
  cureAfterProgram,
  type PostCureRamp,
  type PostCureStep,
  postCureRamp,
} from "./questions/pour/cold.ts";
export type { CliffAhead } from "./questions/pour/depths.ts";
export {
  type PourAnswer,
  type PourContent,
  pour,
} from "./questions/pour/pour.ts";
export { pourProblems } from "./questions/pour/problems.ts";
export { type PourReason, pourReasons, type Softening } from "./questions/pour/verdict.ts";
export {
  type ShapeAnswer,
  type ShapeContent,
  type ShapeOptions,
  type ShapeSection,
  shape,
} from "./questions/shape/shape.ts";
export { baitKeys } from "./questions/shape/stations.ts";
export { shotsProblems } from "./questions/shots/problems.ts";
export type { Rotation } from "./questions/shots/rotation.ts";
export type { Schedule } from "./questions/shots/schedule.ts";
export {
  type ShotRow,
  type Shots,
  type ShotsAnswer,
  type ShotsOptions,
  type Steady,
  shots,
} from "./questions/shots/shots.ts";
export {
  type ShrinkAnswer,
  type ShrinkContent,
  type ShrunkStep,
  shrink,
} from "./questions/shrink/shrink.ts";
export type { FillRow, FillTable } from "./questions/sprue/fill.ts";
export type { FillAnswer } from "./questions/sprue/fill-answer.ts";
export { sprueProblems } from "./questions/sprue/problems.ts";
export type { SectionFeed } from "./questions/sprue/section.ts";
export {
  type Defect,
  defectOf,
  shrinkShare,
  skinShare,
} from "./questions/sprue/shrink-left.ts";
export {
  type SprueAnswer,
  type SprueContent,
  type StationFeed,
  sprue,
} from "./questions/sprue/sprue.ts";
export { type SwimAnswer, type SwimContent, swim } from "./questions/swim/swim.ts";
export { touchProblems } from "./questions/touch/problems.ts";
export {
  type Outside,
  type SafeFrom,
  type TouchAnswer,
  type TouchContent,
  touch,
  touchableBelow,
} from "./questions/touch/touch.ts";
export {
  type WallPoint,
  type WallsAnswer,
  type WallsContent,
  walls,
} from "./questions/walls/walls.ts";
export {
  type Body,
  type BodyMeasures,
  type BodySection,
  bodyMeasures,
  bodyOf,
  type Thickness,
  thickestAndThinnest,
} from "./shape/body.ts";
export { chooseStations, type NamedSection } from "./shape/choose-stations.ts";
export { type DrawingOptions, readViews } from "./shape/drawing-reading.ts";
export { type MeshOptions, readMesh } from "./shape/mesh-reading.ts";
export type { Outline, Point } from "./shape/outline.ts";
export type { Finding, Reading, Slice } from "./shape/slice.ts";
export { ellipseMode, equalBar } from "./shape/slowest-mode.ts";
export type { BareProblem } from "./solve/bare-problem.ts";
export { solveJsonSchema } from "./solve/schema.ts";
export { readSolveProblem, type SolveAnswer, type SolveOptions, solve } from "./solve/solve.ts";
export { writeSolveProblem } from "./solve/write.ts";
export {
  type DisplayUnitName,
  displayUnits,
  fromUnit,
  kindOfOutput,
  outputUnit,
  readersUnit,
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
  type QuantityPart,
  quantityParts,
  rangeInWords,
  stepOf,
  textOfParts,
  timeStep,
  timeText,
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
