/** A reading as a person notes it: a bare number is in the unit that is switched on. */
import {
  displayUnits,
  fromUnit,
  toUnit,
  type UnitSystem,
  unitFor,
} from "../../../lib/units/display.ts";
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

const OF_A_RULE = /^(-?\d+(?:\.\d+)?) (mm|cm|in|degC|degF)$/;
const CENTIMETER = 0.01;
/** Inches below which a bound is one of fractions of a millimeter. */
const SMALL = 0.1;

/** A length or temperature of ours, such as the end of what is possible, in the unit that is switched on; other text as it is. */
export function inReaderText(text: string, system: UnitSystem): string {
  const [, number, unit] = OF_A_RULE.exec(text) ?? [];
  if (number === undefined || unit === undefined) return text;
  const kind = unit.startsWith("deg") ? "temperature" : "length";
  const reader = unitFor(kind, system);
  if (reader === unit) return text;
  const si =
    unit === "cm"
      ? Number(number) * CENTIMETER
      : fromUnit(Number(number), unit as "mm" | "in" | "degC" | "degF");
  const value = toUnit(si, reader);
  return `${kind === "temperature" ? Math.round(value) : Number(value.toPrecision(Math.abs(value) < SMALL ? 1 : 3))} ${reader}`;
}
