/** What the engine takes of an entry of the catalog. Apart from the catalog: a page needs this, not all materials. */
import { linearAt } from "../numerics/linear.ts";
import { memoized } from "../numerics/memoized.ts";
import type { MaterialEntry, Pick, SpreadOverT } from "./entry.ts";
import type { Material, PropertyLaw } from "./material.ts";

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

/**
 * A property of an entry at one temperature, in SI.
 *
 * @param spread the property
 * @param T K
 * @param pick which end of its spread
 * @example propertyAt(materialNamed("soft plastisol").density, 293.15) // 1063
 */
export function propertyAt(spread: SpreadOverT, T: number, pick: Pick = "value"): number {
  return spread[pick] * (spread.shape ? linearAt(spread.shape.T, spread.shape.factor, T) : 1);
}

function law(spread: SpreadOverT, pick: Pick): PropertyLaw {
  const { shape } = spread;
  if (!shape) return spread[pick];
  const value = shape.factor.map((factor) => factor * spread[pick]);
  return Object.freeze({ T: Object.freeze([...shape.T]), value: Object.freeze(value) });
}

/**
 * Materials made before, by all that is in them: the same object again keeps the tables that the engine made of it. Not by
 * the entry, which is another object with each reading of a job. Frozen, with lists of their own: who wrote into one would
 * write into everybody's.
 */
const made = new Map<string, Material>();
const MOST_MADE = 96;

type Shape = NonNullable<SpreadOverT["shape"]>;

/** Tables over the temperature as they were written out last: members of a range differ by what multiplies them. */
const written = new WeakMap<Shape, Shape & { readonly text: string }>();

const isAlike = (a: readonly number[], b: readonly number[]) =>
  a.length === b.length && a.every((x, i) => x === b[i]);

function textOf({ shape }: SpreadOverT): string {
  if (!shape) return "";
  const known = written.get(shape);
  // whoever has the entry may have written into it
  if (known && isAlike(known.T, shape.T) && isAlike(known.factor, shape.factor)) return known.text;
  const text = JSON.stringify(shape);
  written.set(shape, { T: [...shape.T], factor: [...shape.factor], text });
  return text;
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
  const conductivity = picks.conductivity ?? "value";
  const specificHeat = picks.specificHeat ?? "value";
  const { conductivity: k, density: rho, specificHeat: cp } = entry;
  const fixed = densityAt === undefined ? undefined : propertyAt(rho, densityAt, density);
  const shapes = `${textOf(k)} ${fixed === undefined ? textOf(rho) : ""} ${textOf(cp)}`;
  const key = `${k[conductivity]} ${fixed ?? rho[density]} ${cp[specificHeat]} ${shapes} ${entry.name}`;
  return memoized(made, key, MOST_MADE, () =>
    Object.freeze({
      name: entry.name,
      conductivity: law(k, conductivity),
      density: fixed ?? law(rho, density),
      specificHeat: law(cp, specificHeat),
    }),
  );
}
