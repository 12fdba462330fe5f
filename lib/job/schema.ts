/**
 * The job file: its keys, ranges, defaults. One table for the reader, the forms and the JSON Schema.
 *
 * Quantities are text with a unit. A range here is a plausible one for this trade, not one of physics.
 */
import { z } from "zod";
import { catalog } from "../materials/catalog.ts";
import { type FieldMeta, text } from "./fields.ts";
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

type Described = Record<string, unknown> & Partial<FieldMeta>;

/** What an editor shows of a leaf: its label, its range, what is usual. */
function describe(leaf: Described): void {
  const { label, kind, least, most, initial, follows, possible, families } = leaf;
  if (label === undefined) return;
  const range = least !== undefined && most !== undefined ? `${least} to ${most}` : "";
  const usual = initial !== undefined ? `usual ${initial}` : follows ? `usual as ${follows}` : "";
  leaf["description"] = [label, range, usual].filter((part) => part !== "").join("; ");
  if (initial !== undefined) leaf["default"] = initial;
  if (kind === "word" && possible) {
    // YAML has words of its own for yes and no
    leaf["enum"] = possible.includes("yes") ? [...possible, true, false] : [...possible];
    delete leaf["type"];
  } else if (kind === "material") {
    leaf["examples"] = catalog
      .filter((entry) => families?.length === 0 || families?.includes(entry.family))
      .map(({ name }) => name);
  } else if (possible) leaf["examples"] = [...possible];
  // a name or a price may be a bare number in YAML; a quantity has its unit and never is
  if ((kind === "text" || kind === "count") && leaf["type"] === "string")
    leaf["type"] = ["string", "number"];
}

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
      describe(jsonSchema as unknown as Described);
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
