/**
 * The kinds of quantity: for each the unit of its value inside the library (SI, kelvin), the unit that is proposed
 * when none was typed, the units in which it is shown, and the spellings of the workshop that belong to it alone.
 *
 * The only table of kinds; sizes of units stand in `table.ts`.
 */
export interface KindOfQuantity {
  /** The unit of the value in the library. */
  readonly si: string;
  /** The unit that is proposed when none was given. */
  readonly propose: string;
  /** In which it is shown in millimeters and degC, and in inches and degF where that is another. */
  readonly metric: string;
  readonly shop?: string;
  /** Units in which a bare number of this kind is likely meant. */
  readonly likely?: readonly string[];
  /** Spellings that only mean something for this kind: `F` is a farad elsewhere. */
  readonly spellings?: Readonly<Record<string, string>>;
  /** True where `1 h 30 min` or `2 lb 3 oz` may be typed. */
  readonly sums?: boolean;
}

/** Every kind of quantity: its SI unit and the units in which it is proposed and shown. */
export const kinds = {
  length: {
    si: "m",
    propose: "mm",
    metric: "mm",
    shop: "in",
    likely: ["mm", "in", "cm"],
    spellings: { thou: "mil" },
    sums: true,
  },
  temperature: {
    si: "K",
    propose: "degC",
    metric: "degC",
    shop: "degF",
    likely: ["degC", "degF"],
    spellings: { C: "degC", F: "degF", c: "degC", f: "degF" },
  },
  temperatureDifference: {
    si: "K",
    propose: "K",
    metric: "degC difference",
    shop: "degF difference",
    spellings: { C: "degC", F: "degF", c: "degC", f: "degF" },
  },
  duration: {
    si: "s",
    propose: "s",
    metric: "s",
    likely: ["s", "min", "h"],
    spellings: { d: "day", '"': "s" },
    sums: true,
  },
  mass: {
    si: "kg",
    propose: "g",
    metric: "g",
    shop: "oz",
    likely: ["g", "kg", "oz", "lb"],
    sums: true,
  },
  volume: { si: "m^3", propose: "ml", metric: "ml", shop: "floz", sums: true },
  area: { si: "m^2", propose: "cm^2", metric: "cm^2", shop: "in^2" },
  speed: {
    si: "m/s",
    propose: "m/s",
    metric: "m/s",
    shop: "mi/h",
    spellings: { mph: "mi/h", kmh: "km/h" },
  },
  density: { si: "kg/m^3", propose: "kg/m^3", metric: "g/cm^3", shop: "oz/in^3" },
  conductivity: {
    si: "W/(m K)",
    propose: "W/(m K)",
    metric: "W/(m K)",
    // mK would be a millikelvin: a thousand times too much
    spellings: { "W/mK": "W/(m K)", "W/m K": "W/(m K)", "W/mC": "W/(m K)" },
  },
  specificHeat: {
    si: "J/(kg K)",
    propose: "J/(kg K)",
    metric: "J/(kg K)",
    spellings: {
      "J/kgK": "J/(kg K)",
      "kJ/kgK": "kJ/(kg K)",
      "J/gK": "J/(g K)",
      "J/kg K": "J/(kg K)",
      "kJ/kg K": "kJ/(kg K)",
      "J/g K": "J/(g K)",
    },
  },
  conductance: {
    si: "W/(m^2 K)",
    propose: "W/(m^2 K)",
    metric: "W/(m^2 K)",
    spellings: {
      "W/m2K": "W/(m^2 K)",
      "W/m^2K": "W/(m^2 K)",
      "W/m^2 K": "W/(m^2 K)",
      "W/m2 K": "W/(m^2 K)",
    },
  },
  ratio: { si: "1", propose: "%", metric: "%" },
  energyPerMass: { si: "J/kg", propose: "J/g", metric: "J/g" },
  energyPerMole: { si: "J/mol", propose: "kJ/mol", metric: "kJ/mol" },
  rate: { si: "1/s", propose: "1/s", metric: "1/s" },
  power: { si: "W", propose: "W", metric: "W" },
  flux: { si: "W/m^2", propose: "W/m^2", metric: "W/m^2" },
  flow: { si: "m^3/s", propose: "l/min", metric: "l/min" },
  viscosity: {
    si: "Pa s",
    propose: "Pa s",
    metric: "Pa s",
    spellings: { mPas: "mPa s", Pas: "Pa s", cP: "mPa s", cps: "mPa s" },
  },
  expansion: { si: "1/K", propose: "1/K", metric: "1/K" },
} as const satisfies Record<string, KindOfQuantity>;

/** A kind of quantity, such as `length` or `heatFlux`. */
export type Kind = keyof typeof kinds;
