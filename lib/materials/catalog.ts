/** The shipped materials, found by name, and what the engine takes of them. */
import fluids from "../../data/materials/fluids.json" with { type: "json" };
import metals from "../../data/materials/metals.json" with { type: "json" };
import moldMaking from "../../data/materials/mold-making.json" with { type: "json" };
import plastisols from "../../data/materials/plastisols.json" with { type: "json" };
import resins from "../../data/materials/resins.json" with { type: "json" };
import { nearest } from "../units/nearest.ts";
import { InputError } from "../units/problem.ts";
import type { MaterialEntry, Pick, SpreadOverT } from "./entry.ts";
import { entryFrom, type WrittenEntry } from "./entry-schema.ts";
import type { Material, PropertyLaw } from "./material.ts";

/** The files as written, for who checks or prints them. */
export const writtenCatalog = [
  ...plastisols,
  ...resins,
  ...moldMaking,
  ...metals,
  ...fluids,
] as unknown as readonly WrittenEntry[];

/** Every material that Castclock ships, in SI and kelvin. */
export const catalog: readonly MaterialEntry[] = writtenCatalog.map(entryFrom);

const byName = new Map<string, MaterialEntry>();
for (const entry of catalog) {
  for (const name of [entry.name, ...entry.aliases]) byName.set(plainName(name), entry);
}

/** Upper case, hyphens and double spaces make no difference. */
function plainName(name: string): string {
  return name
    .toLowerCase()
    .replace(/[\s_-]+/g, " ")
    .replace(/ ?, ?/g, ", ")
    .trim();
}

/** The material of that name or alias, or undefined. */
export function findMaterial(name: string): MaterialEntry | undefined {
  return byName.get(plainName(name));
}

/** The name most like the given one, to suggest it; undefined when none is near. */
export function nearestMaterial(name: string): string | undefined {
  const close = nearest(plainName(name), [...byName.keys()]);
  return close === undefined ? undefined : byName.get(close)!.name;
}

/**
 * The material of that name or alias. Upper case and hyphens make no difference.
 *
 * @throws InputError `unknown_material`, with the nearest name as suggestion
 * @example materialNamed("Aluminum").name // "aluminum 6061"
 */
export function materialNamed(name: string, path = "material"): MaterialEntry {
  const found = findMaterial(name);
  if (found) return found;
  const suggestion = nearestMaterial(name);
  throw new InputError([
    {
      code: "unknown_material",
      path,
      given: name,
      ...(suggestion !== undefined && { suggestion }),
      possible: catalog.map((entry) => entry.name),
    },
  ]);
}

/** Which end of the spread to take of each property; left out: the value. */
export interface MaterialPicks {
  readonly conductivity?: Pick;
  readonly density?: Pick;
  readonly specificHeat?: Pick;
  /**
   * Density constant at this temperature in K: a filled cavity keeps the mass it holds when the sprue closes, while
   * the grid keeps its volume. Left out: the density follows the temperature.
   */
  readonly densityAt?: number;
}

/** Linear between points, constant outside. */
function factorAt(shape: NonNullable<SpreadOverT["shape"]>, T: number): number {
  const { T: at, factor } = shape;
  const last = at.length - 1;
  if (T <= at[0]) return factor[0];
  if (T >= at[last]) return factor[last];
  const i = at.findIndex((t) => t > T);
  const share = (T - at[i - 1]) / (at[i] - at[i - 1]);
  return factor[i - 1] + share * (factor[i] - factor[i - 1]);
}

/**
 * A property of an entry at one temperature, in SI.
 *
 * @param spread the property
 * @param T K
 * @param pick which end of its spread
 * @example propertyAt(materialNamed("soft plastisol").density, 293.15) // 1063
 */
export function propertyAt(spread: SpreadOverT, T: number, pick: Pick = "value"): number {
  return spread[pick] * (spread.shape ? factorAt(spread.shape, T) : 1);
}

function law(spread: SpreadOverT, pick: Pick): PropertyLaw {
  const { shape } = spread;
  if (!shape) return spread[pick];
  return { T: shape.T, value: shape.factor.map((factor) => factor * spread[pick]) };
}

/**
 * What the engine takes of an entry: k, rho and cp as laws of the temperature. Cure is added in lib/cure.
 *
 * @param entry from `materialNamed`
 * @param picks ends of the spreads, and the density
 * @example toMaterial(materialNamed("aluminum")).conductivity // 167
 */
export function toMaterial(entry: MaterialEntry, picks: MaterialPicks = {}): Material {
  const { densityAt } = picks;
  const density = picks.density ?? "value";
  return {
    name: entry.name,
    conductivity: law(entry.conductivity, picks.conductivity ?? "value"),
    density:
      densityAt === undefined
        ? law(entry.density, density)
        : propertyAt(entry.density, densityAt, density),
    specificHeat: law(entry.specificHeat, picks.specificHeat ?? "value"),
  };
}
