/**
 * An uncertain quantity at a standard normal deviate. Of ten values that one would find, eight lie between low and high:
 * these are its 10th and 90th percentile, and its value is the middle one. Each side is half a normal curve of its own
 * width.
 */

/** Deviate of a standard normal input below which nine of ten lie. */
export const NINE_OF_TEN = 1.2815515655446004;

export interface Ends {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * An input at a standard normal deviate, each side with its own width.
 *
 * @param ends `low <= value <= high`, the 10th percentile, the middle and the 90th
 * @param z standard normal deviate
 * @example drawn({ value: 20, low: 18, high: 21 }, 1.2815515655446004) // 21
 */
export function drawn({ value, low, high }: Ends, z: number): number {
  return value + ((z < 0 ? value - low : high - value) / NINE_OF_TEN) * z;
}

/**
 * The same on a scale of ratios, for what is above 0.
 *
 * @example drawnAsRatio({ value: 1000, low: 400, high: 2500 }, -1.2815515655446004) // 400
 */
export function drawnAsRatio({ value, low, high }: Ends, z: number): number {
  const ratio = z < 0 ? value / low : high / value;
  return value * ratio ** (z / NINE_OF_TEN);
}

/** Deviates that are drawn do not go further out. */
const FARTHEST = 4;

/**
 * The same of what is known straight, but is never 0 or less: on a scale of ratios where its lower side would get there.
 *
 * @example drawnAboveZero({ value: 12, low: 5, high: 25 }, -2.563103131089201) // 2.083
 */
export function drawnAboveZero(ends: Ends, z: number): number {
  return drawn(ends, -FARTHEST) > 0 ? drawn(ends, z) : drawnAsRatio(ends, z);
}
