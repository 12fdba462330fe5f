/** A page's `dials` block as a schema, for editors; who reads a block is `block.ts`, and a test holds both together. */
import { z } from "zod";
import { kinds } from "../../../lib/units/kinds.ts";

const typed = z.union([z.string().max(300), z.number()]);

/** One dial. */
export const dialSchema = z.strictObject({
  label: z.string().max(300).meta({ description: "what stands beside it" }),
  help: z.string().max(300).optional().meta({ description: "a line below it" }),
  kind: z
    .enum(["number", "choice", "flag", ...Object.keys(kinds)])
    .optional()
    .meta({ description: "what it is: left out, it is seen from its value" }),
  value: z
    .union([typed, z.boolean()])
    .optional()
    .meta({ description: "where it stands: a quantity with its unit, a choice, true or false" }),
  min: typed.optional().meta({ description: "least that can be set" }),
  max: typed.optional().meta({ description: "most that can be set" }),
  step: typed.optional().meta({ description: "one press of plus or minus" }),
  choices: z.array(typed).min(2).max(40).optional(),
  job: z.string().max(300).optional().meta({ description: "key of the job that it stands for" }),
  start: z
    .string()
    .max(300)
    .optional()
    .meta({ description: "key of the job at which it starts; the job stays as it is" }),
});

const dialsSchema = z.record(z.string().regex(/^[a-zA-Z][a-zA-Z0-9]{0,39}$/), dialSchema);

/** The `dials` block of a page as a JSON Schema (draft 2020-12). */
export function pageJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(dialsSchema, { io: "input", unrepresentable: "any" });
  return {
    ...schema,
    title: "Castclock page: a dials block",
    description: "Names of dials, each with what it is. The rest of a page is Markdown.",
  };
}
