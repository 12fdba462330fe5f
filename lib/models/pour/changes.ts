/** What is tried beside a pour as it is: by how much, and the job with it. T K. */
import type { Lever } from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import { inRoom } from "./problem.ts";

/** A hardener this many times slower, metal granules of this share of the volume. */
export const SLOWER = 3;
export const GRANULES = 0.3;
const COOLER_ROOM = 10;
const COLDEST_ROOM = 283.15;
/** Stock warmer by less is as good as the same, K. */
export const SAME_STOCK = 2;

interface ChangedJob {
  readonly lever: Lever;
  readonly job: Job;
}

/** Resin that is as warm as its room; null: it is no warmer. */
export function unwarmed(job: Job): ChangedJob | null {
  const to = job.room.temperature;
  if (!(job.pour.stock > to + SAME_STOCK)) return null;
  return {
    lever: { code: "unwarmed_stock", change: { path: "pour.stock", kind: "temperature", to } },
    job: { ...job, pour: { ...job.pour, stock: to } },
  };
}

/** A cooler room; null: it is too cool for that already. */
export function inCoolerRoom(job: Job): ChangedJob | null {
  const to = job.room.temperature - COOLER_ROOM;
  if (!(to >= COLDEST_ROOM)) return null;
  return {
    lever: { code: "cooler_room", change: { path: "room.temperature", kind: "temperature", to } },
    job: inRoom(job, to),
  };
}
