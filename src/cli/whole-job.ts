/** A job file with every default written out and marked, ready to be edited. */
import { Document, isScalar } from "yaml";
import { fillDefaults } from "../../lib/job/defaults.ts";
import { jobSchema } from "../../lib/job/schema.ts";

/** YAML of the whole job; what the file left out is marked as a default. */
export function wholeJobText(raw: Record<string, unknown>): string {
  const filled = fillDefaults(jobSchema, raw);
  const document = new Document(filled.raw);
  for (const path of filled.defaults) {
    const keys = path.split(/[.[\]]+/).filter((key) => key !== "");
    const place = document.getIn(
      keys.map((key) => (/^\d+$/.test(key) ? Number(key) : key)),
      true,
    );
    if (isScalar(place)) place.comment = " default";
  }
  return document.toString({ lineWidth: 100 });
}
