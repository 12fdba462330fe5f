/** `castclock materials`: what a job may name, by family. */
import { catalog } from "../../lib/materials/catalog.ts";
import { toUnit } from "../../lib/units/display.ts";
import { tableText } from "./table.ts";

const plain = (x: number) => String(Number(x.toPrecision(2)));

/** The catalog as a table: names, other names, and the property that decides the most, with its spread. */
export function materialsText(): string {
  const rows = [...catalog]
    .sort((a, b) => a.family.localeCompare(b.family))
    .map(({ name, family, aliases, conductivity, wallLimit }) => [
      family,
      name,
      `${plain(conductivity.value)} (${plain(conductivity.low)} to ${plain(conductivity.high)})`,
      wallLimit === undefined ? "" : `${Math.round(toUnit(wallLimit.value, "degC"))} °C`,
      aliases.join(", "),
    ]);
  return `${tableText(["family", "name", "conducts, W/(m K)", "bears", "also called"], rows).join("\n")}\n`;
}
