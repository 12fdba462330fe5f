import { expect, test } from "vitest";
import { z } from "zod";
import { jobSchema } from "../../../lib/job/schema.ts";
import { entrySchema } from "../../../lib/materials/entry-schema.ts";
import { solveSchema } from "../../../lib/solve/schema.ts";

interface Node {
  readonly [key: string]: unknown;
  readonly type?: string;
  readonly unit?: string;
  readonly kind?: string;
}

/** Paths of every leaf that holds a number or a quantity and does not say its unit. */
function withoutUnit(node: unknown, path: string): string[] {
  if (typeof node !== "object" || node === null) return [];
  const { type, unit, kind } = node as Node;
  const numeric = type === "number" || type === "integer";
  const quantity =
    type === "string" && kind !== undefined && !["text", "word", "material"].includes(kind);
  if (numeric || quantity) return unit === undefined || unit === "" ? [path] : [];
  return Object.entries(node).flatMap(([key, part]) =>
    key === "const" || key === "enum" ? [] : withoutUnit(part, `${path}/${key}`),
  );
}

test.each([
  ["job", jobSchema],
  ["material", entrySchema],
  ["problem of the bare engine", solveSchema],
] as const)("every number of a %s has a unit", (_, schema) => {
  const json = z.toJSONSchema(schema, { io: "input", unrepresentable: "any" });
  expect(withoutUnit(json, "")).toEqual([]);
});

test("a number without a unit is found", () => {
  const json = z.toJSONSchema(
    z.object({ wall: z.object({ x: z.number(), y: z.number().meta({ unit: "m" }) }) }),
  );
  expect(withoutUnit(json, "")).toEqual(["/properties/wall/properties/x"]);
});
