/** What lies between two shots of a mold. s. */
import type { Job } from "../../job/types.ts";

/** From opening a mold to its next injection, s: a dip and its time open, and the hands are on it all the while. */
export function betweenShots({ run }: Pick<Job, "run">): number {
  return Math.max(run.bath + run.open, run.hands);
}
