/** A reading as a person notes it: a bare number is in the unit that is switched on. */
import { displayUnits, type UnitSystem, unitFor } from "../../../lib/units/display.ts";
import type { Kind } from "../../../lib/units/kinds.ts";

const BARE = /^[+-]?\d+(?:[.,]\d+)?$/;

/** The text with the reader's unit behind a bare number: `104` is `104 degF` where Fahrenheit is switched on. */
export function withReaderUnit(text: string, kind: Kind, system: UnitSystem): string {
  const plain = text.trim();
  return BARE.test(plain) ? `${plain} ${unitFor(kind, system)}` : plain;
}

/** The reader's unit as printed: `\u00b0F`. */
export function unitSign(kind: Kind, system: UnitSystem): string {
  return displayUnits[unitFor(kind, system)].symbol;
}
