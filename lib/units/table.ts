/**
 * The units of the workshop and of the kinds, by their dimensions, with their size in SI. A test holds every
 * line against mathjs.
 */
import { ZERO_CELSIUS } from "./constants.ts";

/** SI = (typed + offset) * factor. */
interface UnitFound {
  readonly factor: number;
  readonly offset: number;
  /** Powers of the base units, as one text to compare: `kg m s-3 K-1`. */
  readonly dimensions: string;
}

type Sizes = Readonly<Record<string, number | readonly [factor: number, offset: number]>>;

const SIZES: Readonly<Record<string, Sizes>> = {
  K: {
    K: 1,
    degC: [1, ZERO_CELSIUS],
    degF: [0.5555555555555556, 459.67],
  },
  "K-1": {
    "1/K": 1,
  },
  kg: {
    g: 0.001,
    gram: 0.001,
    grams: 0.001,
    kg: 1,
    lb: 0.45359237,
    lbm: 0.45359237,
    lbs: 0.45359237,
    mg: 0.000001,
    ounce: 0.028349523125,
    oz: 0.028349523125,
    t: 1000,
    tonne: 1000,
  },
  "kg m s-2": {
    N: 1,
  },
  "kg m s-3 K-1": {
    "W/(cm K)": 100,
    "W/(m K)": 1,
    "W/m/K": 1,
    "mW/(m K)": 0.001,
  },
  "kg m-1 s-1": {
    "Pa s": 1,
    "mPa s": 0.001,
  },
  "kg m-3": {
    "g/cm^3": 1000,
    "g/in^3": 61.0237440947323,
    "g/ml": 1000,
    "kg/l": 1000,
    "kg/m^3": 1,
    "oz/in^3": 1729.9940443877,
    "lb/ft^3": 16.0184633739601,
    "lb/in^3": 27679.9047102031,
  },
  "kg m2 s-2 mol-1": {
    "J/mol": 1,
    "kJ/mol": 1000,
  },
  "kg m2 s-3": {
    W: 1,
    kW: 1000,
  },
  "kg m2 s-3 A-1": {
    V: 1,
  },
  "kg s-3": {
    "W/m^2": 1,
    "kW/m^2": 1000,
  },
  "kg s-3 K-1": {
    "W/(m^2 K)": 1,
    "W/m^2/K": 1,
    "W/cm^2/K": 10000,
    "kW/(m^2 K)": 1000,
  },
  m: {
    cm: 0.01,
    dm: 0.1,
    feet: 0.3048,
    foot: 0.3048,
    ft: 0.3048,
    in: 0.0254,
    inch: 0.0254,
    inches: 0.0254,
    km: 1000,
    m: 1,
    mi: 1609.344,
    mil: 0.0000254,
    mm: 0.001,
    nm: 1e-9,
    um: 0.000001,
    yard: 0.9144,
    yards: 0.9144,
    yd: 0.9144,
  },
  "m s-1": {
    "cm/s": 0.01,
    "ft/min": 0.00508,
    "ft/s": 0.3048,
    "km/h": 0.277777777777778,
    "m/min": 0.0166666666666667,
    "m/s": 1,
    "mi/h": 0.44704,
    "mm/s": 0.001,
  },
  m2: {
    "cm^2": 0.0001,
    "ft^2": 0.09290304,
    "in^2": 0.00064516,
    "m^2": 1,
    "mm^2": 0.000001,
  },
  "m2 s-2": {
    "J/g": 1000,
    "J/kg": 1,
    "kJ/kg": 1000,
  },
  "m2 s-2 K-1": {
    "J/(g K)": 1000,
    "J/(kg K)": 1,
    "kJ/(kg K)": 1000,
  },
  m3: {
    L: 0.001,
    cc: 0.000001,
    cl: 0.00001,
    "cm^3": 0.000001,
    cup: 0.0002365882365,
    cups: 0.0002365882365,
    dl: 0.0001,
    floz: 0.0000295735295625,
    fluidounce: 0.0000295735295625,
    "ft^3": 0.028316846592,
    gallon: 0.003785411784,
    gallons: 0.003785411784,
    "in^3": 0.000016387064,
    l: 0.001,
    liter: 0.001,
    liters: 0.001,
    litre: 0.001,
    mL: 0.000001,
    "m^3": 1,
    ml: 0.000001,
    "mm^3": 1e-9,
    pint: 0.000473176473,
    pints: 0.000473176473,
    quart: 0.000946352946,
    quarts: 0.000946352946,
    tablespoon: 0.000015,
    tablespoons: 0.000015,
    teaspoon: 0.000005,
    teaspoons: 0.000005,
  },
  "m3 s-1": {
    "gallon/min": 0.0000630901964,
    "l/h": 2.77777777777778e-7,
    "l/min": 0.0000166666666666667,
    "m^3/s": 1,
    "ml/min": 1.66666666666667e-8,
    "ml/s": 0.000001,
  },
  s: {
    day: 86400,
    days: 86400,
    h: 3600,
    hour: 3600,
    hours: 3600,
    hr: 3600,
    hrs: 3600,
    min: 60,
    mins: 60,
    minute: 60,
    minutes: 60,
    ms: 0.001,
    s: 1,
    sec: 1,
    second: 1,
    seconds: 1,
    secs: 1,
    week: 604800,
    weeks: 604800,
  },
  "s-1": {
    "1/h": 0.000277777777777778,
    "1/min": 0.0166666666666667,
    "1/s": 1,
  },
};

const found = new Map<string, UnitFound>();
for (const [dimensions, sizes] of Object.entries(SIZES)) {
  for (const [unit, size] of Object.entries(sizes)) {
    const [factor, offset] = typeof size === "number" ? [size, 0] : size;
    found.set(unit, { factor, offset, dimensions });
  }
}

/** All units of the table. */
export const tableUnits: ReadonlyMap<string, UnitFound> = found;

/** A unit by its spelling; null: there is no such unit. */
export const findUnit = (text: string): UnitFound | null => tableUnits.get(text) ?? null;
