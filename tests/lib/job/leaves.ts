/** Every key of the job file that holds one value, with what it may be. */
import { z } from "zod";
import type { FieldMeta } from "../../../lib/job/fields.ts";
import { jobSchema } from "../../../lib/job/schema.ts";

export interface Leaf {
  readonly path: string;
  readonly meta: FieldMeta;
}

function leavesOf(schema: z.core.$ZodType, path: string): Leaf[] {
  if (schema instanceof z.ZodOptional) return leavesOf(schema.unwrap(), path);
  if (schema instanceof z.ZodObject)
    return Object.entries(schema.shape).flatMap(([key, inner]) =>
      leavesOf(inner as z.core.$ZodType, path === "" ? key : `${path}.${key}`),
    );
  if (schema instanceof z.ZodArray) return leavesOf(schema.element, `${path}[0]`);
  if (schema instanceof z.ZodTuple) return []; // corners of an outline: tests of outlines
  return [{ path, meta: (schema as z.ZodType).meta() as unknown as FieldMeta }];
}

export const leaves: readonly Leaf[] = leavesOf(jobSchema, "");
