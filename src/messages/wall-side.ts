/** To which side the wall to make is rounded. */
import type { Towards } from "../../lib/units/format.ts";

/** A wall within this of the least one stands at it: no more than rounding moves it. */
const AT_LEAST = 1.02;

/**
 * A wall that is to be made must be read neither as thinner than the least nor as thicker than the most.
 *
 * @param wall to be made, m
 * @param least m
 * @example wallSide(0.012, 0.012) // "up"
 */
export const wallSide = (wall: number, least: number): Towards =>
  wall > AT_LEAST * least ? "down" : "up";
