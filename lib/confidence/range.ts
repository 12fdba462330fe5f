/** A value with the range it lies in, in the unit of the value. `low <= value <= high`. */
export interface Range {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}
