/** Times of an evening as they are read: to what step, and to which side. */
import type { PlannedShot } from "../../lib/models/shots/timeline.ts";
import { rounded, type Towards, timeStep } from "../../lib/units/format.ts";

/** No step of an evening is foretold closer than hands go, s: a guess. */
const COARSEST = 15;

/** The step of all times of an evening, s: as fine as its shortest wait is known, and no coarser than hands go. */
export function eveningStep(shots: readonly Pick<PlannedShot, "injected" | "likely">[]): number {
  const shortest = shots.reduce(
    (least, { injected, likely }) => Math.min(least, likely - injected),
    Number.POSITIVE_INFINITY,
  );
  return shortest > 0 ? Math.max(1, Math.min(COARSEST, timeStep(shortest))) : 1;
}

/**
 * A time to open is rounded up, whichever of the three it is: so they stay in their order, and none comes too soon. Others
 * go to the nearest step.
 */
export function eveningTime(seconds: number, step: number, opens: boolean): number {
  const towards: Towards = opens ? "up" : "nearest";
  return rounded(seconds, step, towards);
}
