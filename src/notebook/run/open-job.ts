/** A job's text with the dials of a page set in it. */
import { parse } from "yaml";
import { type Job, readJob } from "../../../lib/job/job.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import { countingPath, preheatAsStart } from "../../../lib/models/start.ts";
import { InputError, type Problem } from "../../../lib/units/problem.ts";
import type { OpenJob } from "../dials/dials.ts";
import type { Page } from "../page/types.ts";

export type JobOrProblems = OpenJob | { readonly problems: readonly Problem[] };

type Raw = Record<string, unknown>;

/** Characters of a job past which it is not read: it is written by hand, and read anew with every key. */
const MOST_CHARACTERS = 20_000;

/** Reads a job; every problem of the file at once. */
export function openJob(text: string): JobOrProblems {
  if (text.length > MOST_CHARACTERS) {
    const size = { given: `${text.length}`, most: `${MOST_CHARACTERS}` };
    return { problems: [{ code: "job.long", path: "", ...size }] };
  }
  try {
    const reading = readJob(text);
    return { raw: parse(text, { maxAliasCount: 0 }) as unknown, reading };
  } catch (error) {
    if (error instanceof InputError) return { problems: error.problems };
    throw error;
  }
}

/** The job that the page's workings see: the chosen one with the page's own dial values in their places. */
export function jobForPage(
  page: Page,
  open: OpenJob,
): { job: Job } | { problems: readonly Problem[] } {
  let raw = open.raw;
  let changed = false;
  try {
    for (const dial of page.dials) {
      if (dial.job === undefined || dial.value === undefined) continue;
      // what is set on a page takes the place of what would override it
      if (countingPath(dial.job, open.reading.job) !== dial.job) raw = preheatAsStart(raw as Raw);
      raw = withSetting(raw, dial.job, String(dial.value));
      changed = true;
    }
    return { job: changed ? readJob(JSON.stringify(raw)).job : open.reading.job };
  } catch (error) {
    if (error instanceof InputError) return { problems: error.problems.map(ofDials(page)) };
    throw error;
  }
}

/** A count that is none is told between the ends of its dial, which may offer less than the job's key. */
function ofDials(page: Page): (problem: Problem) => Problem {
  return (problem) => {
    const dial = page.dials.find(({ job }) => job === problem.path);
    if (problem.code !== "not_whole" || dial?.kind !== "number") return problem;
    const { min: least, max: most } = dial;
    return {
      ...problem,
      ...(least !== undefined && { least }),
      ...(most !== undefined && { most }),
    };
  };
}
