/** A job file with every default written out and marked, ready to be edited. */
import { Document, isScalar } from "yaml";
import { fillDefaults } from "../../lib/job/defaults.ts";
import { TypedQuantity } from "../../lib/job/fields.ts";
import { checkJob } from "../../lib/job/job.ts";
import { jobSchema } from "../../lib/job/schema.ts";

/** What was typed: a quantity is read while defaults are filled in, and what it was read as is no part of a file. */
function asTyped(filled: unknown): unknown {
  if (filled instanceof TypedQuantity) return filled.text;
  if (Array.isArray(filled)) return filled.map(asTyped);
  if (typeof filled !== "object" || filled === null) return filled;
  return Object.fromEntries(Object.entries(filled).map(([key, value]) => [key, asTyped(value)]));
}

const keysOf = (path: string) =>
  path
    .split(/[.[\]]+/)
    .filter((key) => key !== "")
    .map((key) => (/^\d+$/.test(key) ? Number(key) : key));

/** A job as far as its answers go, to compare it. */
const jobText = (raw: Record<string, unknown>) => JSON.stringify(checkJob(raw).job);

/** Whether a value that was left out says the same when it is written down. */
function saysTheSame(
  raw: Record<string, unknown>,
  keys: readonly (string | number)[],
  value: unknown,
  before: string,
): boolean {
  // each on its own copy, made of plain data
  const document = new Document(raw, { aliasDuplicateObjects: false });
  document.setIn(keys, value);
  try {
    return jobText(document.toJS()) === before;
  } catch {
    return false;
  }
}

/**
 * YAML of the whole job, which is read again as the same one; what the file left out is marked as a default. A value that
 * follows the rest of the job as long as it is left out stays out, and is named at the end.
 *
 * @param raw a job that `checkJob` takes
 */
export function wholeJobText(raw: Record<string, unknown>): string {
  const filled = fillDefaults(jobSchema, raw);
  // each value is written out where it stands: a job file has no anchors
  const document = new Document(asTyped(filled.raw), { aliasDuplicateObjects: false });
  const before = jobText(raw);
  const follow: string[] = [];
  for (const path of filled.defaults) {
    const keys = keysOf(path);
    const place = document.getIn(keys, true);
    if (!isScalar(place)) continue;
    if (saysTheSame(raw, keys, place.value, before)) place.comment = " default";
    else {
      document.deleteIn(keys);
      follow.push(path);
    }
  }
  if (follow.length > 0)
    document.comment = [" Left out, for these follow from the rest of the job:", ...follow].join(
      "\n   ",
    );
  return document.toString({ lineWidth: 100 });
}
