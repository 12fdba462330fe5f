/** A unit by its spelling: from the table, then from whoever knows more. */
import { tableUnits, type UnitFound } from "./table.ts";

type Finder = (text: string) => UnitFound | null;

let findFurther: Finder | undefined;
const known = new Map<string, UnitFound | null>();

/** Registers who knows units beyond the table. */
export function useUnits(finder: Finder): void {
  findFurther = finder;
}

/** null: no such unit, or none that is known so far. */
export function findUnit(text: string): UnitFound | null {
  const inTable = tableUnits.get(text);
  if (inTable !== undefined) return inTable;
  if (findFurther === undefined) return null;
  const before = known.get(text);
  if (before !== undefined) return before;
  const found = findFurther(text);
  if (known.size < 500) known.set(text, found);
  return found;
}
