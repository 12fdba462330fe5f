/** A value with the range it lies in, in the unit of the value. `low <= value <= high`. */
export interface Range {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * The range of a product of two numbers above 0 that know nothing of each other: on a scale of ratios their widths add as
 * squares, so that both ends at once, which hardly comes, is no end.
 *
 * @example productOf({ value: 2, low: 1.8, high: 2.2 }, { value: 3, low: 3, high: 3 }).high // 6.6
 */
export function productOf(a: Range, b: Range): Range {
  const value = a.value * b.value;
  const off = (end: "low" | "high") =>
    Math.exp(Math.hypot(Math.log(a[end] / a.value), Math.log(b[end] / b.value)));
  return { value, low: value / off("low"), high: value * off("high") };
}
