/**
 * The form of a material in data/materials/*.json: values in the units that a handbook prints, each unit named.
 *
 * `entryFrom` (entry-from.ts) brings one to SI and kelvin. The shipped files are checked against the schema by a test, so that
 * reading them costs nothing at start.
 */
import { z } from "zod";
import type { DisplayUnitName } from "../units/display.ts";

/** A spread in one unit, or one of several. */
function spread<Unit extends DisplayUnitName>(...units: [Unit, ...Unit[]]) {
  return z
    .strictObject({
      value: z.number().meta({ unit: units[0] }),
      low: z.number().meta({ unit: units[0] }),
      high: z.number().meta({ unit: units[0] }),
      unit: z.literal(units),
      source: z.string().min(1),
      guess: z.literal(true).optional(),
      atDegC: z.number().meta({ unit: "degC" }).optional(),
      byDegC: z
        .array(
          z.tuple([z.number().meta({ unit: "degC" }), z.number().positive().meta({ unit: "1" })]),
        )
        .min(2)
        .optional(),
    })
    .refine(({ low, value, high }) => low <= value && value <= high, "low <= value <= high")
    .refine(({ source, guess }) => (source === "guess") === (guess ?? false), "a guess says so");
}

const degC = () => z.number().meta({ unit: "degC" });
const kg = () => z.number().positive().meta({ unit: "kg" });

const heat = {
  conductivity: spread("W/(m K)"),
  density: spread("kg/m^3"),
  specificHeat: spread("J/(kg K)"),
};

const plastisol = z.strictObject({
  setTemperature: spread("degC"),
  bondTemperature: spread("degC"),
  expansion: spread("1/K"),
  degradationEnergy: spread("kJ/mol"),
  degradationTime: spread("min"),
  degradationAtDegC: degC(),
  pourLeastDegC: degC(),
  pourMostDegC: degC(),
  viscosity: spread("Pa s"),
  viscosityAtDegC: degC(),
  viscosityEnergy: spread("kJ/mol"),
  healingTime: spread("s"),
  healingAtDegC: degC(),
  healingEnergy: spread("kJ/mol"),
});

const resin = z.strictObject({
  law: z.string(),
  heatOfReaction: spread("kJ/kg"),
  gelCure: spread("1"),
  glassUncured: spread("degC"),
  glassCured: spread("degC"),
  glassCurvature: spread("1"),
  glassReached: spread("degC"),
  viscosity: spread("Pa s"),
  viscosityEnergy: spread("kJ/mol"),
  activationEnergy: spread("kJ/mol"),
  potLife: spread("min"),
  potLifeMass: kg(),
  hardenerParts: spread("1"),
});

const filler = z.strictObject({
  kind: z.string(),
  volumeShare: spread("1"),
  massShare: spread("1"),
  ...heat,
  grain: spread("um"),
  matrix: z.strictObject(heat),
});

/** One material of data/materials. */
export const entrySchema = z.strictObject({
  name: z.string(),
  family: z.enum(["plastisol", "resin", "silicone", "clay", "plaster", "metal", "wood", "fluid"]),
  aliases: z.array(z.string()),
  porous: z.literal(true).optional(),
  ...heat,
  emissivity: spread("1"),
  wallLimit: spread("degC").optional(),
  shrinkage: spread("1").optional(),
  plastisol: plastisol.optional(),
  resin: resin.optional(),
  filler: filler.optional(),
});

export type WrittenEntry = z.infer<typeof entrySchema>;
export type WrittenSpread = z.infer<ReturnType<typeof spread>>;
