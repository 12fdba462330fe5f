/** How hot the face of a cavity may get. */
import type { Job } from "../job/types.ts";

/** The job's own limit, else that of the mold's material, K; null: it has none. */
export function wallLimitOf({ limits, mold }: Pick<Job, "limits" | "mold">): number | null {
  return limits.wall ?? mold.material.wallLimit?.value ?? null;
}
