/**
 * A rate law at many places at once: one call for all cells that cure by it, instead of one for each.
 *
 * Symbols: T K; rates 1/s.
 */
import { vectorsOf } from "../numerics/typed-lists.ts";
import type { RateLaw, RatePlaces } from "./material.ts";

export function makeRatePlaces(at: Int32Array, cells: Int32Array): RatePlaces {
  const [rate, byCure, byT] = vectorsOf(3, at.length);
  return { at, cells, rate, byCure, byT, withSlopes: true };
}

const one = new Float64Array(3);

/** Takes the law at all places, one by one where it knows no shorter way. */
export function evaluateAt(
  law: RateLaw,
  cure: Float64Array,
  T: Float64Array,
  places: RatePlaces,
): void {
  if (law.evaluateAt !== undefined) {
    law.evaluateAt(cure, T, places);
    return;
  }
  const { at, cells, rate, byCure, byT, withSlopes } = places;
  for (let b = 0; b < at.length; b++) {
    law.evaluate(cure[at[b]], T[cells[b]], one);
    rate[b] = one[0];
    if (!withSlopes) continue;
    byCure[b] = one[1];
    byT[b] = one[2];
  }
}
