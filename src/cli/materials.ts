/** `castclock materials`: what a job may name, by family. */
import { catalog } from "../../lib/materials/catalog.ts";
import type { MaterialEntry } from "../../lib/materials/entry.ts";
import { toUnit } from "../../lib/units/display.ts";
import { tableText } from "./table.ts";

const plain = (x: number, digits = 2) => String(Number(x.toPrecision(digits)));

/** A value with its spread: two digits, three for the ends where two don't tell them apart. */
function withSpread({ value, low, high }: MaterialEntry["conductivity"]): string {
  const digits = plain(low) === plain(high) ? 3 : 2;
  return `${plain(value)} (${plain(low, digits)} to ${plain(high, digits)})`;
}

/** The catalog as a table: names, other names, and the property that decides the most, with its spread. */
export function materialsText(): string {
  const rows = [...catalog]
    .sort((a, b) => a.family.localeCompare(b.family))
    .map(({ name, family, aliases, conductivity, wallLimit }) => [
      family,
      name,
      withSpread(conductivity),
      wallLimit === undefined ? "" : `${Math.round(toUnit(wallLimit.value, "degC"))} °C`,
      aliases.join(", "),
    ]);
  return `${tableText(["family", "name", "conducts, W/(m K)", "bears", "also called"], rows).join("\n")}\n`;
}
