/** One uncertain input of a case. */
export interface Uncertain<Case> {
  /** Path of the input or property. */
  readonly name: string;
  /** The case with this input at a standard normal deviate: 0 its value, 1.28 its high end. */
  at(given: Case, z: number): Case;
}
