/**
 * The kinds of quantity that a person may type, each with the unit of its value inside the library (SI, kelvin),
 * a unit to propose when none was given, and the spellings of the workshop that belong to it alone.
 */
export interface KindOfQuantity {
  /** The unit of the value in the library. */
  readonly si: string;
  /** The unit that is proposed when none was given. */
  readonly propose: string;
  /** Spellings that only mean something for this kind: `F` is a farad elsewhere. */
  readonly spellings?: Readonly<Record<string, string>>;
  /** True where `1 h 30 min` or `2 lb 3 oz` may be typed. */
  readonly sums?: boolean;
}

export const kinds = {
  length: { si: "m", propose: "mm", spellings: { thou: "mil" }, sums: true },
  temperature: {
    si: "K",
    propose: "degC",
    spellings: { C: "degC", F: "degF", c: "degC", f: "degF" },
  },
  temperatureDifference: {
    si: "K",
    propose: "K",
    spellings: { C: "degC", F: "degF", c: "degC", f: "degF" },
  },
  duration: { si: "s", propose: "s", spellings: { d: "day", '"': "s" }, sums: true },
  mass: { si: "kg", propose: "g", sums: true },
  volume: { si: "m^3", propose: "ml", sums: true },
  area: { si: "m^2", propose: "cm^2" },
  speed: { si: "m/s", propose: "m/s", spellings: { mph: "mi/h", kmh: "km/h" } },
  density: { si: "kg/m^3", propose: "kg/m^3" },
  conductivity: {
    si: "W/(m K)",
    propose: "W/(m K)",
    // mK would be a millikelvin: a thousand times too much
    spellings: { "W/mK": "W/(m K)", "W/m K": "W/(m K)", "W/mC": "W/(m K)" },
  },
  specificHeat: {
    si: "J/(kg K)",
    propose: "J/(kg K)",
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
    spellings: {
      "W/m2K": "W/(m^2 K)",
      "W/m^2K": "W/(m^2 K)",
      "W/m^2 K": "W/(m^2 K)",
      "W/m2 K": "W/(m^2 K)",
    },
  },
  ratio: { si: "1", propose: "%" },
  energyPerMass: { si: "J/kg", propose: "J/g" },
  energyPerMole: { si: "J/mol", propose: "kJ/mol" },
  rate: { si: "1/s", propose: "1/s" },
  power: { si: "W", propose: "W" },
  flux: { si: "W/m^2", propose: "W/m^2" },
  flow: { si: "m^3/s", propose: "l/min" },
  viscosity: {
    si: "Pa s",
    propose: "Pa s",
    spellings: { mPas: "mPa s", Pas: "Pa s", cP: "mPa s", cps: "mPa s" },
  },
  expansion: { si: "1/K", propose: "1/K" },
} as const satisfies Record<string, KindOfQuantity>;

export type Kind = keyof typeof kinds;
