/**
 * The units in which numbers are shown and in which data files are written. Their sizes are those of `table.ts`.
 */
import { type Kind, type KindOfQuantity, kinds } from "./kinds.ts";
import { tableUnits } from "./table.ts";

/** SI = (shown + offset) * factor. */
interface DisplayUnit {
  readonly kind: Kind;
  readonly factor: number;
  readonly offset: number;
  /** As it is printed. */
  readonly symbol: string;
}

/** Shares have no dimension, so no table of units knows them. */
const SHARES: Readonly<Record<string, number>> = { "1": 1, "%": 0.01 };

function unit(kind: Kind, name: string, symbol: string): DisplayUnit {
  if (kind === "ratio") return { kind, factor: SHARES[name], offset: 0, symbol };
  const { factor, offset } = tableUnits.get(name.replace(" difference", ""))!;
  // a difference of 10 degF is 5.6 K: the zero of the scale has no part in it
  return { kind, factor, offset: kind === "temperatureDifference" ? 0 : offset, symbol };
}

/** Every unit that a number can be shown in: its kind, its symbol and how it is written in a file. */
export const displayUnits = {
  m: unit("length", "m", "m"),
  mm: unit("length", "mm", "mm"),
  um: unit("length", "um", "µm"),
  in: unit("length", "in", "in"),
  K: unit("temperature", "K", "K"),
  degC: unit("temperature", "degC", "°C"),
  degF: unit("temperature", "degF", "°F"),
  "K difference": unit("temperatureDifference", "K difference", "K"),
  "degC difference": unit("temperatureDifference", "degC difference", "°C"),
  "degF difference": unit("temperatureDifference", "degF difference", "°F"),
  s: unit("duration", "s", "s"),
  min: unit("duration", "min", "min"),
  h: unit("duration", "h", "h"),
  kg: unit("mass", "kg", "kg"),
  g: unit("mass", "g", "g"),
  oz: unit("mass", "oz", "oz"),
  lb: unit("mass", "lb", "lb"),
  "m^3": unit("volume", "m^3", "m³"),
  ml: unit("volume", "ml", "ml"),
  floz: unit("volume", "floz", "fl oz"),
  "cm^2": unit("area", "cm^2", "cm²"),
  "in^2": unit("area", "in^2", "in²"),
  "m/s": unit("speed", "m/s", "m/s"),
  "mi/h": unit("speed", "mi/h", "mph"),
  "kg/m^3": unit("density", "kg/m^3", "kg/m³"),
  "g/cm^3": unit("density", "g/cm^3", "g/cm³"),
  "oz/in^3": unit("density", "oz/in^3", "oz/in³"),
  "W/(m K)": unit("conductivity", "W/(m K)", "W/(m K)"),
  "J/(kg K)": unit("specificHeat", "J/(kg K)", "J/(kg K)"),
  "W/(m^2 K)": unit("conductance", "W/(m^2 K)", "W/(m² K)"),
  "1": unit("ratio", "1", ""),
  "%": unit("ratio", "%", "%"),
  "J/kg": unit("energyPerMass", "J/kg", "J/kg"),
  "J/g": unit("energyPerMass", "J/g", "J/g"),
  "kJ/kg": unit("energyPerMass", "kJ/kg", "kJ/kg"),
  "J/mol": unit("energyPerMole", "J/mol", "J/mol"),
  "kJ/mol": unit("energyPerMole", "kJ/mol", "kJ/mol"),
  "1/s": unit("rate", "1/s", "1/s"),
  "1/min": unit("rate", "1/min", "1/min"),
  W: unit("power", "W", "W"),
  "W/m^2": unit("flux", "W/m^2", "W/m²"),
  "m^3/s": unit("flow", "m^3/s", "m³/s"),
  "l/min": unit("flow", "l/min", "l/min"),
  "Pa s": unit("viscosity", "Pa s", "Pa s"),
  "1/K": unit("expansion", "1/K", "1/K"),
} as const satisfies Record<string, DisplayUnit>;

/** A unit that a number can be shown in. */
export type DisplayUnitName = keyof typeof displayUnits;

/**
 * A number in the unit, brought to SI and kelvin.
 *
 * @example fromUnit(338, "degF") // 443.15
 * @example fromUnit(25, "kJ/mol") // 25000
 */
export function fromUnit(shown: number, name: DisplayUnitName): number {
  const { factor, offset } = displayUnits[name];
  return (shown + offset) * factor;
}

/**
 * A number in SI and kelvin, as it reads in the unit.
 *
 * @example toUnit(443.15, "degF") // 338
 * @example toUnit(0.0127, "in") // 0.5
 */
export function toUnit(si: number, name: DisplayUnitName): number {
  const { factor, offset } = displayUnits[name];
  return si / factor - offset;
}

/** `metric`: °C, mm, g. `shop-us`: °F, inch, oz. */
export type UnitSystem = "metric" | "shop-us";

/**
 * The unit in which a kind is shown in a system.
 *
 * @example unitFor("length", "shop-us") // "in"
 */
export function unitFor(kind: Kind, system: UnitSystem): DisplayUnitName {
  const { metric, shop }: KindOfQuantity = kinds[kind];
  return (system === "metric" ? metric : (shop ?? metric)) as DisplayUnitName;
}

/**
 * What the numbers of an output are, which are SI, by the unit that it names; undefined for any other text. `K` is a
 * difference there, for a temperature is named in `degC` or `degF`.
 *
 * @example kindOfOutput("min") // "duration"
 * @example kindOfOutput("K") // "temperatureDifference"
 * @example kindOfOutput("1") // undefined
 */
export function kindOfOutput(unitName: string): Kind | undefined {
  if (unitName === "K") return "temperatureDifference";
  if (unitName === "1" || !Object.hasOwn(displayUnits, unitName)) return undefined;
  return displayUnits[unitName as DisplayUnitName].kind;
}

/**
 * The unit by which an output names a kind.
 *
 * @example outputUnit("temperatureDifference") // "K"
 * @example outputUnit("mass") // "g"
 */
export function outputUnit(kind: Kind): string {
  return kind === "temperatureDifference" ? "K" : kinds[kind].metric;
}

/**
 * The unit in which the reader sees an output's numbers: a time in the one that is named, all else in that of the
 * system; undefined where the unit is none that is known.
 *
 * @example readersUnit("h", "shop-us") // "h"
 * @example readersUnit("mm", "shop-us") // "in"
 */
export function readersUnit(unitName: string, system: UnitSystem): DisplayUnitName | undefined {
  const kind = kindOfOutput(unitName);
  if (kind === undefined) return undefined;
  return kind === "duration" ? (unitName as DisplayUnitName) : unitFor(kind, system);
}
