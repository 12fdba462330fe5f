/** The shipped materials, found by name. */
import fluids from "../../data/materials/fluids.json" with { type: "json" };
import metals from "../../data/materials/metals.json" with { type: "json" };
import moldMaking from "../../data/materials/mold-making.json" with { type: "json" };
import plastisols from "../../data/materials/plastisols.json" with { type: "json" };
import resins from "../../data/materials/resins.json" with { type: "json" };
import { nearestName } from "../units/nearest.ts";
import { InputError } from "../units/problem.ts";
import type { MaterialEntry } from "./entry.ts";
import { entryFrom } from "./entry-from.ts";
import type { WrittenEntry } from "./entry-schema.ts";

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

/**
 * The material of that name or alias, or undefined. Upper case and hyphens make no difference.
 *
 * @example findMaterial("Aluminum").name // "aluminum 6061"
 */
export function findMaterial(name: string): MaterialEntry | undefined {
  return byName.get(plainName(name));
}

/** The name most like the given one, to suggest it, of these materials; undefined when none is near. */
export function nearestMaterial(
  name: string,
  among: readonly MaterialEntry[] = catalog,
): string | undefined {
  const names = [...byName].filter(([, entry]) => among.includes(entry)).map(([known]) => known);
  const close = nearestName(plainName(name), names);
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
