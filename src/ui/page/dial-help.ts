/** The line under a dial: the value in the reader's other unit, what is allowed, what it means. */
import { displayUnits, unitFor } from "../../../lib/units/display.ts";
import { formatQuantity, type Towards } from "../../../lib/units/format.ts";
import { isProblem } from "../../../lib/units/quantity.ts";
import { kindOf, readText } from "../../notebook/dials/quantity-dial.ts";
import type { DialReading } from "../../notebook/dials/types.ts";
import type { UnitSystem } from "../reading/shown.ts";
import { inReaderText } from "../reading/typed.ts";

export function dialHelp({ dial, text }: DialReading, system: UnitSystem): string {
  if (dial.kind !== "quantity") {
    const range = dial.kind === "number" ? between(dial.min, dial.max) : "";
    return [range, dial.help].filter(Boolean).join("; ");
  }
  const read = readText(dial, text);
  const kind = kindOf(dial);
  if (read === undefined || isProblem(read) || kind === undefined) return dial.help ?? "";
  const inReader = (bound: string | undefined, inwards: Towards) =>
    bound === undefined ? undefined : asPrinted(inReaderText(bound, system, inwards));
  const reader = unitFor(kind, system);
  const same = displayUnits[reader].symbol === asPrinted(read.unit) || reader === read.unit;
  const other =
    same || kind === "duration" ? "" : `= ${formatQuantity(read.value, kind, { system })}`;
  return [other, between(inReader(dial.min, "up"), inReader(dial.max, "down")), dial.help]
    .filter(Boolean)
    .join("; ");
}

function between(least: string | undefined, most: string | undefined): string {
  if (least && most) return `${least} to ${most}`;
  return least ? `from ${least}` : most ? `to ${most}` : "";
}

/** A typed quantity as it stands on a printed sheet; it reads back to the same. */
export function asPrinted(text: string): string {
  return text
    .replace(/\bdeg([CF])\b/, "\u00b0$1")
    .replace("^2", "\u00b2")
    .replace("^3", "\u00b3")
    .replace("mi/h", "mph")
    .replace("floz", "fl oz");
}
