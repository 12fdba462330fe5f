/** A material as written in data/materials/*.json, brought to SI and kelvin. Apart from the schema, which needs a checker. */
import { fromUnit } from "../units/display.ts";
import type { MaterialEntry, Spread, SpreadOverT } from "./entry.ts";
import type { WrittenEntry, WrittenSpread } from "./entry-schema.ts";

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
    ...(written.porous && { porous: true as const }),
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
