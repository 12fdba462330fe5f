/**
 * The job file: its keys, ranges, defaults. One table for the reader, the forms and the JSON Schema.
 *
 * Quantities are text with a unit. A range here is a plausible one for this trade, not one of physics.
 */
import { z } from "zod";
import { text } from "./fields.ts";
import { jobInputNames } from "./input-names.ts";
import { bait, room } from "./keys-bait.ts";
import { plan } from "./keys-evening.ts";
import { fittedInput, limits, ownMaterial, uncertainty } from "./keys-limits.ts";
import { mix, shrink } from "./keys-mix.ts";
import { cup, layer, mold, run, shot, sprue } from "./keys-mold.ts";
import { pour } from "./keys-pour.ts";
import { swim } from "./keys-swim.ts";

/** The job file. Every key but the bait's size may be left out. */
export const jobSchema = z.strictObject({
  name: text("Job", "unnamed job"),
  materials: z.array(ownMaterial).max(20).optional(),
  room,
  bait,
  mold,
  shot,
  layer,
  run,
  cup,
  pour,
  sprue,
  mix,
  shrink,
  limits,
  uncertainty,
  swim,
  plan,
  fitted: z.array(fittedInput).max(jobInputNames.length).optional(),
});

/** What the schema gives, every default filled in. */
export type TypedJob = z.output<typeof jobSchema>;

/**
 * The job file as a JSON Schema (draft 2020-12), with label, unit, range and default of every key.
 *
 * @example jobJsonSchema().title // "Castclock job"
 */
export function jobJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(jobSchema, {
    io: "input",
    unrepresentable: "any",
    override: ({ jsonSchema }) => {
      // every group may be left out: only what has no default is required
      if (jsonSchema.type !== "object" || !jsonSchema.properties) return;
      const required: string[] = [];
      for (const [key, property] of Object.entries(jsonSchema.properties)) {
        const own = property as { required?: unknown };
        if (own.required !== true) continue;
        required.push(key);
        delete own.required; // of a leaf: a mark of ours, not of JSON Schema
      }
      if (required.length > 0) jsonSchema.required = required;
      else delete jsonSchema.required;
    },
  });
  return { ...schema, title: "Castclock job", required: ["bait"] };
}
