/** The chosen job as a timer keeps it. */
import { job } from "../job/job-store.ts";
import type { TimedJob } from "./timer.ts";

/** `mold`: as it was read, instead of the job's. */
export function timedJob(mold?: string): TimedJob {
  const { text, measured } = job.value;
  return { text, ...measured, ...(mold !== undefined && { mold }) };
}
