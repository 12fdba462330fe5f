/**
 * Material properties as the time loop reads them: constants, or uniform tables over T with linear lookup.
 *
 * Symbols: T K, k W/(m K), c = rho cp J/(m3 K), enthalpy J/m3 counted from 0 degC.
 */

import type { Material, PropertyLaw } from "../materials/material.ts";
import { linearAt } from "../numerics/linear.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";

/** Table step in K for expressions and products of laws: linear lookup is wrong by less than 1e-5 K for smooth ones. */
const TABLE_STEP = 0.25;
/** Points of given tables count as evenly spaced when none is off by more than this share of their spacing. */
const UNEVEN = 1e-9;
const MOST_ENTRIES = 400_000;
/** Looks into each step at so many places for a peak of the heat capacity. */
const LOOKED_AT = 8;
/** Share of the enthalpy that a table may miss. */
const LEAST_MISSED = 1e-6;

export interface Properties {
  readonly constantConductivity: boolean;
  readonly constantCapacity: boolean;
  /** Used where constant. */
  readonly k: number;
  readonly c: number;
  /** Lowest T of the tables and entries per K; outside them the end values hold. */
  readonly T0: number;
  readonly Tlast: number;
  /** Between these the laws are known and above zero, K; -Infinity and Infinity where they are so everywhere. */
  readonly least: number;
  readonly most: number;
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
  return linearAt(at, value, T);
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
  const made = compile(material, Math.min(low, 200), Math.max(high, 600), 0.5 * (low + high));
  compiled.set(material, [...known, made]);
  return made;
}

/** First and last temperature of a law's own table, K; a function has none, a number needs none. */
function endsOf(law: PropertyLaw): readonly [number, number] {
  if (typeof law === "number") return [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  if (typeof law === "function") return [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  return [law.T[0], law.T[law.T.length - 1]];
}

/** The entries around a start between which all values are above zero; those beyond are replaced by the last good one. */
function holdsBetween(
  kTable: Float64Array,
  cTable: Float64Array,
  start: number,
): { first: number; last: number } {
  const good = (i: number) =>
    kTable[i] > 0 &&
    cTable[i] > 0 &&
    kTable[i] < Number.POSITIVE_INFINITY &&
    cTable[i] < Number.POSITIVE_INFINITY;
  let first = start;
  let last = start;
  while (first > 0 && good(first - 1)) first--;
  while (last < kTable.length - 1 && good(last + 1)) last++;
  for (const table of [kTable, cTable]) {
    table.fill(table[first], 0, first);
    table.fill(table[last], last + 1);
  }
  return { first, last };
}

/**
 * The step that misses nothing: laws are given as straight pieces, their points lie evenly, and of density and specific heat
 * one at most varies, so that conductivity and capacity bend at points of the tables alone; undefined for other laws.
 */
function exactStep({ conductivity, density, specificHeat }: Material): number | undefined {
  const laws = [conductivity, density, specificHeat];
  if (laws.some((law) => typeof law === "function")) return undefined;
  if (!isConstant(density) && !isConstant(specificHeat)) return undefined;
  const points = laws.flatMap((law) => (typeof law === "object" ? law.T : []));
  const spacing = Math.min(...laws.map(finestSpacing));
  const isEven = (T: number) => {
    const steps = (T - points[0]) / spacing;
    return Math.abs(steps - Math.round(steps)) < UNEVEN;
  };
  return points.every(isEven) ? spacing : undefined;
}

/** Step of the tables: the points of a given table are resolved, and so are peaks of an expression that hold enthalpy. */
function tableStep(material: Material, low: number, high: number) {
  const { conductivity, density, specificHeat } = material;
  const exact = exactStep(material);
  if (exact !== undefined && (high - low) / exact < MOST_ENTRIES) return exact;
  const finest = Math.min(
    finestSpacing(conductivity),
    finestSpacing(density),
    finestSpacing(specificHeat),
  );
  const shortest = (high - low) / MOST_ENTRIES;
  let step = Math.max(Math.min(TABLE_STEP, finest / 16), shortest);
  if (typeof density !== "function" && typeof specificHeat !== "function") return step;
  // a peak narrower than the step holds an enthalpy that the trapezoids of the table would miss or make up
  const c = (T: number) => lawAt(density, T) * lawAt(specificHeat, T);
  for (let parts = LOOKED_AT; step > shortest; step = Math.max(shortest, step / 2), parts = 2)
    if (trapezoidsMiss(c, low, high, step, parts) < LEAST_MISSED) break;
  return step;
}

/** What trapezoids of one step miss against those of `parts` in each, as a share of the whole. */
function trapezoidsMiss(
  c: (T: number) => number,
  low: number,
  high: number,
  step: number,
  parts: number,
): number {
  const count = Math.ceil((high - low) / step);
  let missed = 0;
  let whole = 0;
  let before = c(low);
  for (let i = 0; i < count; i++) {
    const T = low + i * step;
    const after = c(T + step);
    let fine = 0.5 * (before + after);
    for (let k = 1; k < parts; k++) fine += c(T + (k / parts) * step);
    fine /= parts;
    missed += Math.abs(fine - 0.5 * (before + after));
    whole += Math.abs(fine);
    before = after;
  }
  return missed / whole;
}

/** The lowest temperature of the tables: below `low`, a whole number of steps from the first point of a given table. */
function aligned(
  { conductivity, density, specificHeat }: Material,
  low: number,
  step: number,
): number {
  const table = [specificHeat, density, conductivity].find((law) => typeof law === "object");
  if (typeof table !== "object") return low;
  return table.T[0] - Math.ceil((table.T[0] - low) / step) * step;
}

/** @param middle a temperature that occurs, K: where the laws must hold first */
function compile(material: Material, low: number, high: number, middle: number): Properties {
  const { conductivity, density, specificHeat } = material;
  const constantConductivity = isConstant(conductivity);
  const constantCapacity = isConstant(density) && isConstant(specificHeat);
  const reference = ZERO_CELSIUS + 25;
  const tables =
    constantConductivity && constantCapacity ? NO_TABLES : tablesOf(material, low, high, middle);
  // one by one: made for each member of a range, and spreading objects takes longer than the tables
  return {
    constantConductivity,
    constantCapacity,
    k: constantConductivity ? lawAt(conductivity, reference) : 0,
    c: constantCapacity ? lawAt(density, reference) * lawAt(specificHeat, reference) : 0,
    T0: tables.T0,
    Tlast: tables.Tlast,
    least: tables.least,
    most: tables.most,
    perKelvin: tables.perKelvin,
    last: tables.last,
    kTable: tables.kTable,
    cTable: tables.cTable,
    hTable: tables.hTable,
    startOf: tables.startOf,
    perEnthalpy: tables.perEnthalpy,
    density: lawAt(density, reference),
    source: material.source ?? 0,
  };
}

type Tables = Omit<
  Properties,
  "constantConductivity" | "constantCapacity" | "k" | "c" | "density" | "source"
>;

/** Where all is constant: any T will do. */
const NO_TABLES: Tables = {
  T0: Number.NEGATIVE_INFINITY,
  Tlast: Number.POSITIVE_INFINITY,
  least: Number.NEGATIVE_INFINITY,
  most: Number.POSITIVE_INFINITY,
  perKelvin: 1,
  last: 0,
  kTable: new Float64Array(0),
  cTable: new Float64Array(0),
  hTable: new Float64Array(0),
  startOf: new Int32Array(0),
  perEnthalpy: 0,
};

function tablesOf(material: Material, low: number, high: number, middle: number): Tables {
  const { conductivity, density, specificHeat } = material;
  const step = tableStep(material, low, high);
  // points of a table that are evenly spaced then fall on entries
  const T0 = aligned(material, low, step);
  const last = Math.ceil((high - T0) / step);
  const Tlast = T0 + last * step;
  const kTable = new Float64Array(last + 1);
  const cTable = new Float64Array(last + 1);
  const hTable = new Float64Array(last + 1);
  for (let i = 0; i <= last; i++) {
    const T = T0 + i * step;
    kTable[i] = lawAt(conductivity, T);
    cTable[i] = lawAt(density, T) * lawAt(specificHeat, T);
  }
  const reach = holdsBetween(kTable, cTable, Math.round((middle - T0) / step));
  const ends = [conductivity, density, specificHeat].map(endsOf);
  const fromStart = reach.first === 0 && ends.every(([a]) => a >= T0);
  const toEnd = reach.last === last && ends.every(([, b]) => b <= Tlast);
  for (let i = 1; i <= last; i++)
    hTable[i] = hTable[i - 1] + 0.5 * step * (cTable[i - 1] + cTable[i]);
  const offset = tabledEnthalpy({ T0, perKelvin: 1 / step, last, cTable, hTable }, ZERO_CELSIUS);
  for (let i = 0; i <= last; i++) hTable[i] -= offset;
  const count = 2 * last;
  const perEnthalpy = count / (hTable[last] - hTable[0]);
  const startOf = new Int32Array(count + 1);
  for (let m = 0, k = 0; m <= count; m++) {
    while (k < last - 1 && hTable[k + 1] <= hTable[0] + m / perEnthalpy) k++;
    startOf[m] = k;
  }
  return {
    T0,
    Tlast,
    least: fromStart ? Number.NEGATIVE_INFINITY : T0 + reach.first * step,
    most: toEnd ? Number.POSITIVE_INFINITY : T0 + reach.last * step,
    perKelvin: 1 / step,
    last,
    kTable,
    cTable,
    hTable,
    startOf,
    perEnthalpy,
  };
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
  return tabledEnthalpy(p, T);
}

function tabledEnthalpy(
  {
    T0,
    perKelvin,
    last,
    cTable,
    hTable,
  }: Pick<Properties, "T0" | "perKelvin" | "last" | "cTable" | "hTable">,
  T: number,
): number {
  const s = (T - T0) * perKelvin;
  if (!(s > 0)) return hTable[0] + (s / perKelvin) * cTable[0];
  if (s >= last) return hTable[last] + ((s - last) / perKelvin) * cTable[last];
  const i = s | 0;
  const f = s - i;
  const c = cTable[i];
  return hTable[i] + (f / perKelvin) * (c + 0.5 * f * (cTable[i + 1] - c));
}

/** While the capacity grows by less than this share of itself, the series of the root holds to 1e-13 of it. */
const SLIGHT_BEND = 2e-3;

/**
 * Rise of temperature that takes up the energy `more` where the capacity is c at first and grows by `bend` for each kelvin, K: the
 * energy is a parabola over T. Within a short interval of a table it hardly bends, and the first terms of its root's series are it.
 */
export function riseIn(c: number, bend: number, more: number): number {
  const square = c * c;
  const grown = bend * more;
  // in the form without cancellation
  if (!(Math.abs(grown) < SLIGHT_BEND * square))
    return (2 * more) / (c + Math.sqrt(square + 2 * grown));
  const perC = 1 / c;
  const e = 0.5 * grown * perC * perC;
  return more * perC * (1 - e * (1 - e * (2 - e * (5 - e * 14))));
}
