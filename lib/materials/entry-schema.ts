/**
 * The form of a material in data/materials/*.json: values in the units that a handbook prints, each unit named.
 *
 * `entryFrom` brings one to SI and kelvin. The shipped files are checked against the schema by a test, so that
 * reading them costs nothing at start.
 */
import { z } from "zod";
import { type DisplayUnitName, fromUnit } from "../units/display.ts";
import type { MaterialEntry, Spread, SpreadOverT } from "./entry.ts";

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
  ...heat,
  emissivity: spread("1"),
  wallLimit: spread("degC").optional(),
  shrinkage: spread("1").optional(),
  plastisol: plastisol.optional(),
  resin: resin.optional(),
  filler: filler.optional(),
});

export type WrittenEntry = z.infer<typeof entrySchema>;
type WrittenSpread = z.infer<ReturnType<typeof spread>>;

function inSi(written: WrittenSpread): Spread {
  const { unit, source, guess } = written;
  const si = (x: number) => fromUnit(x, unit);
  return {
    value: si(written.value),
    low: si(written.low),
    high: si(written.high),
    source,
    ...(guess && { guess }),
  };
}

function inSiOverT(written: WrittenSpread): SpreadOverT {
  const { atDegC, byDegC } = written;
  return {
    ...inSi(written),
    ...(atDegC !== undefined && { at: fromUnit(atDegC, "degC") }),
    ...(byDegC && {
      shape: {
        T: byDegC.map(([t]) => fromUnit(t, "degC")),
        factor: byDegC.map(([, factor]) => factor),
      },
    }),
  };
}

/** A written entry in SI and kelvin. */
export function entryFrom(written: WrittenEntry): MaterialEntry {
  const { plastisol: p, resin: r, filler: f } = written;
  return {
    name: written.name,
    aliases: written.aliases,
    family: written.family,
    conductivity: inSiOverT(written.conductivity),
    density: inSiOverT(written.density),
    specificHeat: inSiOverT(written.specificHeat),
    emissivity: inSi(written.emissivity),
    ...(written.wallLimit && { wallLimit: inSi(written.wallLimit) }),
    ...(written.shrinkage && { shrinkage: inSi(written.shrinkage) }),
    ...(p && {
      plastisol: {
        setTemperature: inSi(p.setTemperature),
        bondTemperature: inSi(p.bondTemperature),
        expansion: inSi(p.expansion),
        degradationEnergy: inSi(p.degradationEnergy),
        degradationTime: inSi(p.degradationTime),
        degradationAt: fromUnit(p.degradationAtDegC, "degC"),
        pourLeast: fromUnit(p.pourLeastDegC, "degC"),
        pourMost: fromUnit(p.pourMostDegC, "degC"),
        viscosity: inSi(p.viscosity),
        viscosityAt: fromUnit(p.viscosityAtDegC, "degC"),
        viscosityEnergy: inSi(p.viscosityEnergy),
        healingTime: inSi(p.healingTime),
        healingAt: fromUnit(p.healingAtDegC, "degC"),
        healingEnergy: inSi(p.healingEnergy),
      },
    }),
    ...(r && {
      resin: {
        law: r.law,
        heatOfReaction: inSi(r.heatOfReaction),
        gelCure: inSi(r.gelCure),
        glassUncured: inSi(r.glassUncured),
        glassCured: inSi(r.glassCured),
        glassCurvature: inSi(r.glassCurvature),
        glassReached: inSi(r.glassReached),
        viscosity: inSi(r.viscosity),
        viscosityEnergy: inSi(r.viscosityEnergy),
        activationEnergy: inSi(r.activationEnergy),
        potLife: inSi(r.potLife),
        potLifeMass: r.potLifeMass,
        hardenerParts: inSi(r.hardenerParts),
      },
    }),
    ...(f && {
      filler: {
        kind: f.kind,
        volumeShare: inSi(f.volumeShare),
        massShare: inSi(f.massShare),
        conductivity: inSi(f.conductivity),
        density: inSi(f.density),
        specificHeat: inSi(f.specificHeat),
        grain: inSi(f.grain),
        matrix: {
          conductivity: inSi(f.matrix.conductivity),
          density: inSi(f.matrix.density),
          specificHeat: inSi(f.matrix.specificHeat),
        },
      },
    }),
  };
}
