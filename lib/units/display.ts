/**
 * The units in which numbers are shown and in which data files are written, with their exact factors.
 *
 * A short table instead of mathjs: what only shows numbers need not load a parser. A test holds it against mathjs.
 */
import type { Kind } from "./kinds.ts";

/** SI = (shown + offset) * factor. */
export interface DisplayUnit {
  readonly kind: Kind;
  readonly factor: number;
  readonly offset: number;
  /** As it is printed. */
  readonly symbol: string;
}

const unit = (kind: Kind, factor: number, symbol: string, offset = 0): DisplayUnit => ({
  kind,
  factor,
  offset,
  symbol,
});

export const displayUnits = {
  m: unit("length", 1, "m"),
  mm: unit("length", 1e-3, "mm"),
  um: unit("length", 1e-6, "µm"),
  in: unit("length", 0.0254, "in"),
  K: unit("temperature", 1, "K"),
  degC: unit("temperature", 1, "°C", 273.15),
  degF: unit("temperature", 5 / 9, "°F", 459.67),
  "K difference": unit("temperatureDifference", 1, "K"),
  "degC difference": unit("temperatureDifference", 1, "°C"),
  "degF difference": unit("temperatureDifference", 5 / 9, "°F"),
  s: unit("duration", 1, "s"),
  min: unit("duration", 60, "min"),
  h: unit("duration", 3600, "h"),
  kg: unit("mass", 1, "kg"),
  g: unit("mass", 1e-3, "g"),
  oz: unit("mass", 0.028349523125, "oz"),
  lb: unit("mass", 0.45359237, "lb"),
  "m^3": unit("volume", 1, "m³"),
  ml: unit("volume", 1e-6, "ml"),
  floz: unit("volume", 29.5735295625e-6, "fl oz"),
  "cm^2": unit("area", 1e-4, "cm²"),
  "in^2": unit("area", 6.4516e-4, "in²"),
  "m/s": unit("speed", 1, "m/s"),
  "mi/h": unit("speed", 0.44704, "mph"),
  "kg/m^3": unit("density", 1, "kg/m³"),
  "g/cm^3": unit("density", 1000, "g/cm³"),
  "oz/in^3": unit("density", 0.028349523125 / 0.0254 ** 3, "oz/in³"),
  "W/(m K)": unit("conductivity", 1, "W/(m K)"),
  "J/(kg K)": unit("specificHeat", 1, "J/(kg K)"),
  "W/(m^2 K)": unit("conductance", 1, "W/(m² K)"),
  "1": unit("ratio", 1, ""),
  "%": unit("ratio", 0.01, "%"),
  "J/kg": unit("energyPerMass", 1, "J/kg"),
  "J/g": unit("energyPerMass", 1000, "J/g"),
  "kJ/kg": unit("energyPerMass", 1000, "kJ/kg"),
  "J/mol": unit("energyPerMole", 1, "J/mol"),
  "kJ/mol": unit("energyPerMole", 1000, "kJ/mol"),
  "1/s": unit("rate", 1, "1/s"),
  "1/min": unit("rate", 1 / 60, "1/min"),
  W: unit("power", 1, "W"),
  "W/m^2": unit("flux", 1, "W/m²"),
  "m^3/s": unit("flow", 1, "m³/s"),
  "l/min": unit("flow", 1e-3 / 60, "l/min"),
  "Pa s": unit("viscosity", 1, "Pa s"),
  "1/K": unit("expansion", 1, "1/K"),
} as const satisfies Record<string, DisplayUnit>;

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

const METRIC: Record<Kind, DisplayUnitName> = {
  length: "mm",
  temperature: "degC",
  temperatureDifference: "degC difference",
  duration: "s",
  mass: "g",
  volume: "ml",
  area: "cm^2",
  speed: "m/s",
  density: "g/cm^3",
  conductivity: "W/(m K)",
  specificHeat: "J/(kg K)",
  conductance: "W/(m^2 K)",
  ratio: "%",
  energyPerMass: "J/g",
  energyPerMole: "kJ/mol",
  rate: "1/s",
  power: "W",
  flux: "W/m^2",
  flow: "l/min",
  viscosity: "Pa s",
  expansion: "1/K",
};

const SHOP_US: Record<Kind, DisplayUnitName> = {
  ...METRIC,
  length: "in",
  temperature: "degF",
  temperatureDifference: "degF difference",
  mass: "oz",
  volume: "floz",
  area: "in^2",
  speed: "mi/h",
  density: "oz/in^3",
};

/**
 * The unit in which a kind is shown in a system.
 *
 * @example unitFor("length", "shop-us") // "in"
 */
export function unitFor(kind: Kind, system: UnitSystem): DisplayUnitName {
  return (system === "metric" ? METRIC : SHOP_US)[kind];
}
