/** How hot the face of a cavity may get, and of what it is. */
import type { Job } from "../job/types.ts";

/** The job's own limit, else that of the mold's material, K; null: it has none. */
export function wallLimitOf({ limits, mold }: Pick<Job, "limits" | "mold">): number | null {
  return limits.wall ?? mold.material.wallLimit?.value ?? null;
}

/** The catalog has a resin once for each way that it is cured. */
export function asPoured(name: string): string {
  return name.replace(/, (room|post)-cured$/, "");
}
