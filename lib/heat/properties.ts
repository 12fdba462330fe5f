/**
 * Material properties as the time loop reads them: constants, or uniform tables over T with linear lookup.
 *
 * Symbols: T K, k W/(m K), c = rho cp J/(m3 K), enthalpy J/m3 counted from 0 degC.
 */
import type { Material, PropertyLaw } from "../materials/material.ts";

export const ZERO_CELSIUS = 273.15;

/** Table step in K: fine enough that linear lookup is wrong by less than 1e-5 K for smooth laws. */
const TABLE_STEP = 0.25;
const MOST_ENTRIES = 60_000;

export interface Properties {
  readonly constantConductivity: boolean;
  readonly constantCapacity: boolean;
  /** Used where constant. */
  readonly k: number;
  readonly c: number;
  /** Lowest T of the tables and entries per K; outside them the end values hold. */
  readonly T0: number;
  readonly Tlast: number;
  readonly perKelvin: number;
  readonly last: number;
  readonly kTable: Float64Array;
  readonly cTable: Float64Array;
  readonly hTable: Float64Array;
  /** Looking up T from enthalpy: entry for each equal step of it, the table interval where that step begins. */
  readonly startOf: Int32Array;
  readonly perEnthalpy: number;
  /** Density at 25 degC, kg/m3: the mass that carries the heat of cure. */
  readonly density: number;
  readonly source: number;
}

/** A property law at T in K. */
export function lawAt(law: PropertyLaw, T: number): number {
  if (typeof law === "number") return law;
  if (typeof law === "function") return law(T);
  const { T: at, value } = law;
  const n = at.length;
  if (T <= at[0]) return value[0];
  if (T >= at[n - 1]) return value[n - 1];
  let low = 0;
  let high = n - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (at[mid] <= T) low = mid;
    else high = mid;
  }
  const s = (T - at[low]) / (at[high] - at[low]);
  return value[low] + s * (value[high] - value[low]);
}

const isConstant = (law: PropertyLaw) =>
  typeof law === "number" ||
  (typeof law === "object" && law.value.every((v) => v === law.value[0]));

/** Smallest distance between two points of a tabled law, K; Infinity for other laws. */
function finestSpacing(law: PropertyLaw): number {
  if (typeof law !== "object") return Number.POSITIVE_INFINITY;
  let d = Number.POSITIVE_INFINITY;
  for (let i = 1; i < law.T.length; i++) d = Math.min(d, law.T[i] - law.T[i - 1]);
  return d;
}

const compiled = new WeakMap<Material, Properties[]>();

/** Tables of a material that reach at least from `low` to `high` K; made once for each material object. */
export function propertiesOf(material: Material, low: number, high: number): Properties {
  const known = compiled.get(material) ?? [];
  for (const p of known) if (p.T0 <= low && p.Tlast >= high) return p;
  const made = compile(material, Math.min(low, 200), Math.max(high, 600));
  compiled.set(material, [...known, made]);
  return made;
}

const NONE = new Float64Array(0);
const NO_PLACES = new Int32Array(0);

function compile(material: Material, low: number, high: number): Properties {
  const { conductivity, density, specificHeat } = material;
  const constantConductivity = isConstant(conductivity);
  const constantCapacity = isConstant(density) && isConstant(specificHeat);
  const reference = ZERO_CELSIUS + 25;
  const common = {
    constantConductivity,
    constantCapacity,
    k: constantConductivity ? lawAt(conductivity, reference) : 0,
    c: constantCapacity ? lawAt(density, reference) * lawAt(specificHeat, reference) : 0,
    density: lawAt(density, reference),
    source: material.source ?? 0,
  };
  if (constantConductivity && constantCapacity) {
    // no table needed: any T will do
    const T0 = Number.NEGATIVE_INFINITY;
    const Tlast = Number.POSITIVE_INFINITY;
    return {
      ...common,
      T0,
      Tlast,
      perKelvin: 1,
      last: 0,
      kTable: NONE,
      cTable: NONE,
      hTable: NONE,
      startOf: NO_PLACES,
      perEnthalpy: 0,
    };
  }
  const finest = Math.min(
    finestSpacing(conductivity),
    finestSpacing(density),
    finestSpacing(specificHeat),
  );
  const step = Math.max(Math.min(TABLE_STEP, finest / 16), (high - low) / MOST_ENTRIES);
  const last = Math.ceil((high - low) / step);
  const kTable = new Float64Array(last + 1);
  const cTable = new Float64Array(last + 1);
  const hTable = new Float64Array(last + 1);
  for (let i = 0; i <= last; i++) {
    const T = low + i * step;
    kTable[i] = lawAt(conductivity, T);
    cTable[i] = lawAt(density, T) * lawAt(specificHeat, T);
  }
  for (let i = 1; i <= last; i++)
    hTable[i] = hTable[i - 1] + 0.5 * step * (cTable[i - 1] + cTable[i]);
  const Tlast = low + last * step;
  const tables = { T0: low, Tlast, perKelvin: 1 / step, last, kTable, cTable, hTable };
  const offset = enthalpyAt(
    { ...common, ...tables, startOf: NO_PLACES, perEnthalpy: 0 },
    ZERO_CELSIUS,
  );
  for (let i = 0; i <= last; i++) hTable[i] -= offset;
  const count = 2 * last;
  const perEnthalpy = count / (hTable[last] - hTable[0]);
  const startOf = new Int32Array(count + 1);
  for (let m = 0, k = 0; m <= count; m++) {
    while (k < last - 1 && hTable[k + 1] <= hTable[0] + m / perEnthalpy) k++;
    startOf[m] = k;
  }
  return { ...common, ...tables, startOf, perEnthalpy };
}

export function conductivityAt(p: Properties, T: number): number {
  if (p.constantConductivity) return p.k;
  const s = (T - p.T0) * p.perKelvin;
  if (!(s > 0)) return p.kTable[0];
  if (s >= p.last) return p.kTable[p.last];
  const i = s | 0;
  const k = p.kTable[i];
  return k + (s - i) * (p.kTable[i + 1] - k);
}

/** dk/dT, W/(m K2). */
export function conductivitySlopeAt(p: Properties, T: number): number {
  if (p.constantConductivity) return 0;
  const s = (T - p.T0) * p.perKelvin;
  if (!(s > 0) || s >= p.last) return 0;
  const i = s | 0;
  return (p.kTable[i + 1] - p.kTable[i]) * p.perKelvin;
}

export function capacityAt(p: Properties, T: number): number {
  if (p.constantCapacity) return p.c;
  const s = (T - p.T0) * p.perKelvin;
  if (!(s > 0)) return p.cTable[0];
  if (s >= p.last) return p.cTable[p.last];
  const i = s | 0;
  const c = p.cTable[i];
  return c + (s - i) * (p.cTable[i + 1] - c);
}

export function enthalpyAt(p: Properties, T: number): number {
  if (p.constantCapacity) return p.c * (T - ZERO_CELSIUS);
  const s = (T - p.T0) * p.perKelvin;
  if (!(s > 0)) return p.hTable[0] + (s / p.perKelvin) * p.cTable[0];
  if (s >= p.last) return p.hTable[p.last] + ((s - p.last) / p.perKelvin) * p.cTable[p.last];
  const i = s | 0;
  const f = s - i;
  const c = p.cTable[i];
  return p.hTable[i] + (f / p.perKelvin) * (c + 0.5 * f * (p.cTable[i + 1] - c));
}
