/** A reading as a person notes it: a bare number is in the unit that is switched on. */
import { displayUnits, toUnit, type UnitSystem, unitFor } from "../../../lib/units/display.ts";
import { rounded, type Towards } from "../../../lib/units/format.ts";
import type { Kind } from "../../../lib/units/kinds.ts";
import { tableUnits } from "../../../lib/units/table.ts";

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

interface Switched {
  readonly kind: Kind;
  readonly of: UnitSystem;
}
/** Units in which a reader of either system finds the ends of what is possible, by what they measure. */
const UNITS: readonly (readonly [Kind, metric: readonly string[], shop: readonly string[]])[] = [
  ["length", ["mm", "cm"], ["in"]],
  ["temperature", ["degC"], ["degF"]],
  ["temperatureDifference", ["K"], []],
  ["mass", ["g", "kg"], ["oz", "lb"]],
  ["volume", ["ml", "l"], ["floz"]],
  ["speed", ["m/s"], ["mi/h"]],
  ["density", ["kg/m^3", "g/cm^3"], ["oz/in^3"]],
];
const SWITCHED: ReadonlyMap<string, Switched> = new Map(
  UNITS.flatMap(([kind, metric, shop]) => [
    ...metric.map((unit): [string, Switched] => [unit, { kind, of: "metric" }]),
    ...shop.map((unit): [string, Switched] => [unit, { kind, of: "shop-us" }]),
  ]),
);
const NUMBER_AND_UNIT = /^(-?\d+(?:\.\d+)?) (\S+)$/;
/** In the reader's unit, below which a bound is one of fractions of a millimeter or a gram. */
const SMALL = 0.1;
/** From here on a mass is in pounds or kilograms, kg. */
const HEAVY = { metric: 1, "shop-us": 0.9 } as const;

/**
 * A quantity of ours, such as the end of what is possible, in the unit that is switched on; other text as it is.
 *
 * @param towards an end of what is possible is rounded inwards, so that it may be typed
 */
export function inReaderText(
  text: string,
  system: UnitSystem,
  towards: Towards = "nearest",
): string {
  const [, number, unit] = NUMBER_AND_UNIT.exec(text) ?? [];
  const known = unit === undefined ? undefined : SWITCHED.get(unit);
  if (number === undefined || unit === undefined || known === undefined) return text;
  const { kind, of } = known;
  if (of === system) return text;
  const { factor, offset } = tableUnits.get(unit)!;
  const si = (Number(number) + (kind === "temperatureDifference" ? 0 : offset)) * factor;
  const name =
    kind === "mass" && si >= HEAVY[system]
      ? system === "metric"
        ? "kg"
        : "lb"
      : unitFor(kind, system);
  const value = toUnit(si, name);
  const written = name.replace(" difference", "");
  if (value === 0) return `0 ${written}`;
  const digits = Math.abs(value) < SMALL ? 1 : 3;
  const power = Math.floor(Math.log10(Math.abs(value)));
  const step = kind === "temperature" ? 1 : 10 ** (power - digits + 1);
  return `${Number(rounded(value, step, towards).toPrecision(9))} ${written}`;
}
