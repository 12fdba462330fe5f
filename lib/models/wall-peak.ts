/** The hottest that a cavity face gets, as far as the grid resolves it. */
import { linearAt } from "../numerics/linear.ts";

/**
 * The first instants after a shot are left out: the face of a cell that the outline cuts is then as warm as plastic and
 * mold together, a matter of the grid. That lasts as the square of the cell, like the cooling itself: this share of the
 * course, and at most so long, s. The face is hottest well after it (measured on bodies of 13 to 18 mm in epoxy and metal).
 */
const UNRESOLVED = 0.015;
const UNRESOLVED_MOST = 10;

/** Faces of the lower and the upper half. */
const FACES = ["wall", "wall above"] as const;

interface Traced {
  readonly times: ArrayLike<number>;
  readonly probes: Readonly<Record<string, ArrayLike<number> | undefined>>;
}

/** Hottest of the cavity faces at a time of a course, K. */
export function faceAt({ times, probes }: Traced, at: number): number {
  return FACES.reduce((hottest, face) => {
    const values = probes[face];
    return values === undefined ? hottest : Math.max(hottest, linearAt(times, values, at));
  }, Number.NEGATIVE_INFINITY);
}

/**
 * Hottest place of the cavity faces once the grid resolves them, K.
 *
 * @param trace a course from the shot on, s and K
 */
export function wallPeakOf({ times, probes }: Traced): number {
  const last = times.length - 1;
  const from = Math.min(UNRESOLVED * times[last], UNRESOLVED_MOST);
  let peak = Number.NEGATIVE_INFINITY;
  for (const face of FACES) {
    const values = probes[face];
    if (values === undefined) continue;
    peak = Math.max(peak, linearAt(times, values, from));
    for (let i = last; times[i] > from; i--) peak = Math.max(peak, values[i]);
  }
  return peak;
}
