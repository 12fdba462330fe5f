/** Inputs that a log may teach something about, and what it has taught. */

export const jobInputNames = [
  "bait.thickness",
  "shot.temperature",
  "mold.temperature",
  "room.temperature",
  "shot.material.conductivity",
  "shot.material.specificHeat",
  "mold.material.conductivity",
  "mold.material.filler",
  "mold.contact",
] as const;
export type JobInputName = (typeof jobInputNames)[number];

/** No log moves an input farther along its spread, in deviates. */
export const FARTHEST = 6;

export interface FittedInput {
  readonly name: JobInputName;
  /** In deviates of its own spread: 0 its value, 1.28 its high end. */
  readonly middle: number;
  /** Row of the triangle: how the independent deviates of this and of the inputs before it move it. */
  readonly row: readonly number[];
}
