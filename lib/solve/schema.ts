/**
 * The bare engine's problem file, as it stands on disk: plain SI numbers, temperatures in degC, times in s.
 *
 * Numbers over temperature or time may also be a table `[[T, value], ...]` or an expression in `T` (degC) or `t` (s).
 */
import { z } from "zod";

const number = (unit: string) => z.number().meta({ unit });
const place = z.tuple([number("m"), number("m")]);
const table = (x: string, unit: string) =>
  z
    .array(z.tuple([number(x), number(unit)]))
    .min(1)
    .max(10_000);
/** A number, a table or an expression. */
const law = (x: string, unit: string) =>
  z.union([number(unit), table(x, unit), z.string().min(1).max(500)]).meta({ unit });

const cure = z.looseObject({
  law: z.enum(["nth", "nth-order", "autocatalytic", "piecewise", "second-order"]),
  heat: number("J/kg"),
  initial: number("1").optional(),
});

const material = z.strictObject({
  conductivity: law("degC", "W/(m K)"),
  density: law("degC", "kg/m3"),
  specificHeat: law("degC", "J/(kg K)"),
  source: number("W/m3").optional(),
  cure: cure.optional(),
});

const boundary = z.union([
  z.literal("insulated"),
  z.strictObject({ temperature: law("s", "degC") }),
  z.strictObject({ flux: law("s", "W/m2") }),
  z.strictObject({
    h: law("s", "W/(m2 K)"),
    ambient: law("s", "degC"),
    emissivity: number("1").optional(),
  }),
]);

const boundaries = z.strictObject({
  left: boundary.optional(),
  right: boundary.optional(),
  top: boundary.optional(),
  bottom: boundary.optional(),
});

/** Insulated sides that are mirrors: the field goes on evenly beyond them. */
const mirrors = z.array(z.enum(["left", "right", "top", "bottom"])).max(4);

const layer = z.strictObject({
  name: z.string().min(1),
  material: z.string(),
  thickness: number("m"),
  initial: number("degC"),
  contact: number("W/(m2 K)").optional(),
});

const shape = z
  .strictObject({
    name: z.string().min(1).optional(),
    material: z.string().optional(),
    initial: number("degC").optional(),
    contact: number("W/(m2 K)").optional(),
    center: place.optional(),
    ellipse: place.optional(),
    rectangle: place.optional(),
    polygon: z.array(place).min(3).max(10_000).optional(),
    holes: z.array(z.array(place).min(3).max(10_000)).optional(),
  })
  .meta({ description: "one of ellipse, rectangle (full sizes) or polygon" });

const stage = z.strictObject({
  until: number("s"),
  lasts: number("s").optional(),
  stop: z
    .strictObject({
      probe: z.string(),
      below: number("degC").optional(),
      above: number("degC").optional(),
    })
    .optional(),
  absent: z.array(z.string()).optional(),
  exposed: boundary.optional(),
  refill: z
    .array(
      z.strictObject({
        name: z.string(),
        temperature: number("degC"),
        material: z.string().optional(),
      }),
    )
    .optional(),
  boundary: boundaries.optional(),
  contact: z.record(z.string(), number("W/(m2 K)")).optional(),
});

const side = z.enum(["left", "right"]);
const probe = z.union([
  z.string(),
  z.tuple([number("m")]),
  place,
  z.tuple([number("m"), side]),
  z.tuple([number("m"), number("m"), side]),
  z.strictObject({ hottest: z.string() }),
  z.strictObject({ coldest: z.string() }),
  z.strictObject({
    face: z.string(),
    neighbor: z.string(),
    of: z.enum(["hottest", "coldest", "mean"]).optional(),
  }),
]);

export const solveSchema = z.strictObject({
  frame: z.enum(["slab", "cylinder", "sphere", "section", "round"]),
  materials: z.record(z.string(), material),
  layers: z.array(layer).max(500).optional(),
  block: z
    .strictObject({
      width: number("m"),
      height: number("m"),
      material: z.string(),
      initial: number("degC"),
    })
    .optional(),
  shapes: z.array(shape).max(100).optional(),
  contacts: z
    .array(
      z.strictObject({
        between: z.tuple([z.string(), z.string()]),
        conductance: number("W/(m2 K)"),
      }),
    )
    .optional(),
  boundary: boundaries.optional(),
  mirrors: mirrors.optional(),
  ends: z
    .strictObject({ length: number("m"), h: number("W/(m2 K)"), ambient: number("degC") })
    .optional(),
  stages: z.array(stage).max(10_000).optional(),
  until: z.union([number("s"), z.literal("steady")]).optional(),
  tolerance: number("1").optional(),
  resolution: number("1").optional(),
  mostCells: number("1").optional(),
  mostSteps: number("1").optional(),
  probes: z.record(z.string(), probe),
  times: z.array(number("s")).max(100_000).optional(),
  crossings: z
    .array(
      z.strictObject({
        probe: z.string(),
        below: number("degC").optional(),
        above: number("degC").optional(),
      }),
    )
    .optional(),
  snapshots: z.array(number("s")).max(1000).optional(),
});

export type SolveInput = z.infer<typeof solveSchema>;

/**
 * The problem file of the bare engine as a JSON Schema (draft 2020-12), units as `unit`.
 *
 * @example solveJsonSchema().title // "Castclock problem"
 */
export function solveJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(solveSchema, { io: "input", unrepresentable: "any" });
  return { ...schema, title: "Castclock problem" };
}
