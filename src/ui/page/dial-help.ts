/** The line under a dial: the value in the reader's other unit, what is allowed, what it means. */
import { displayUnits, unitFor } from "../../../lib/units/display.ts";
import { formatQuantity } from "../../../lib/units/format.ts";
import { isProblem, valueIn } from "../../../lib/units/quantity.ts";
import { kindOf, readText } from "../../notebook/dials/quantity-dial.ts";
import type { DialReading } from "../../notebook/dials/types.ts";
import type { UnitSystem } from "../reading/shown.ts";

export function dialHelp({ dial, text }: DialReading, system: UnitSystem): string {
  if (dial.kind !== "quantity") {
    const range = dial.kind === "number" ? between(dial.min, dial.max) : "";
    return [range, dial.help].filter(Boolean).join("; ");
  }
  const read = readText(dial, text);
  const kind = kindOf(dial);
  if (read === undefined || isProblem(read) || kind === undefined) return dial.help ?? "";
  const inTyped = (bound: string | undefined) => {
    const limit = bound === undefined ? undefined : readText(dial, bound);
    if (limit === undefined || isProblem(limit)) return undefined;
    // a bound of time is best said as the page says it: 1 h, not 3600 s
    if (kind === "duration") return bound;
    // in another unit than its own a bound has no use for seven digits
    return asPrinted(
      `${Number(valueIn(limit.value, read.unit, kind).toPrecision(3))} ${read.unit}`,
    );
  };
  const reader = unitFor(kind, system);
  const same = displayUnits[reader].symbol === asPrinted(read.unit) || reader === read.unit;
  const other =
    same || kind === "duration" ? "" : `= ${formatQuantity(read.value, kind, { system })}`;
  return [other, between(inTyped(dial.min), inTyped(dial.max)), dial.help]
    .filter(Boolean)
    .join("; ");
}

function between(least: string | undefined, most: string | undefined): string {
  if (least && most) return `${least} to ${most}`;
  return least ? `from ${least}` : most ? `to ${most}` : "";
}

/** A typed quantity as it stands on a printed sheet; it reads back to the same. */
export function asPrinted(text: string): string {
  return text.replace(/\bdeg([CF])\b/, "\u00b0$1").replace("m^2", "m\u00b2");
}
