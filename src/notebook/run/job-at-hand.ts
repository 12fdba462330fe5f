/**
 * Reading jobs in the browser. The job that a new reader starts from was read when the site was built; the reader
 * for all others (schema, catalog, checks) is loaded when a job is changed or another one chosen.
 */
import { jobReadings } from "virtual:notebooks";
import type { Page } from "../page/types.ts";
import type { JobOrProblems } from "./open-job.ts";

type Reader = typeof import("./open-job.ts");

const readings = new Map(jobReadings.map(({ text, read }) => [text, read]));
let reader: Reader | undefined;

export async function loadJobReader(): Promise<Reader> {
  reader ??= await import("./open-job.ts");
  return reader;
}

export const jobReaderAtHand = (): Reader | undefined => reader;

/** Undefined: the reader is needed for it, and not loaded. */
export function openJobAtHand(text: string): JobOrProblems | undefined {
  const at = readings.get(text);
  if (at !== undefined) return at;
  const read = reader?.openJob(text);
  if (read !== undefined) {
    for (const oldest of readings.keys()) {
      if (readings.size < 30) break;
      readings.delete(oldest);
    }
    readings.set(text, read);
  }
  return read;
}

/** Whether a page's dials stand for keys of the job and are set in the page: then the job is read anew. */
export function changesJob(page: Page): boolean {
  return page.dials.some((dial) => dial.job !== undefined && dial.value !== undefined);
}
