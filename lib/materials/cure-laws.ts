/**
 * Published cure kinetics as data, with the unit conversions made visible: constants stand in
 * data/materials/cure-laws.json as their source prints them, and are brought to 1/s and J/mol here.
 */
import file from "../../data/materials/cure-laws.json" with { type: "json" };
import { InputError } from "../units/problem.ts";

/** Rate constants per second, energies in J/mol: what `makeRateLaw` in lib/cure takes. */
export type CureLaw = { readonly cap?: LinearCap } & (
  | { readonly law: "nth-order"; readonly A: number; readonly E: number; readonly n: number }
  | {
      readonly law: "autocatalytic";
      readonly A1: number;
      readonly E1: number;
      readonly A2: number;
      readonly E2: number;
      readonly m: number;
      readonly n: number;
    }
  | {
      readonly law: "piecewise";
      readonly A1: number;
      readonly E1: number;
      readonly A2: number;
      readonly E2: number;
      readonly B: number;
      readonly A3: number;
      readonly E3: number;
      readonly switchAt: number;
    }
  | {
      readonly law: "second-order";
      readonly A: number; // m3/(mol s)
      readonly E: number;
      readonly concentration: number; // mol/m3
      readonly ratio: number;
    }
);

interface LinearCap {
  readonly kind: "linear";
  readonly C: number;
  readonly intercept: number;
  readonly slope: number; // 1/K
}

export interface PublishedCure {
  readonly name: string;
  /** What it was measured on. */
  readonly about: string;
  readonly law: CureLaw;
  /** Heat of full cure, J per kg of what the source weighed. */
  readonly heat: number;
  /** Cure at the start: above 0 where the law would never begin. */
  readonly initial: number;
  /** Range of temperature in which it was fitted, K. */
  readonly from: number;
  readonly to: number;
  readonly source: string;
}

type Written = (typeof file.laws)[number];

/** Seconds in the unit of time that the rate constants are printed in. */
const SECONDS: Readonly<Record<string, number>> = { "1/min": 60, "1/s": 1, "m^3/(mol s)": 1 };

function published(written: Written): PublishedCure {
  const perSecond = 1 / SECONDS[written.unit];
  const constants: Record<string, unknown> = { law: written.law };
  for (const [key, given] of Object.entries(written)) {
    if (/^A\d?$/.test(key)) constants[key] = (given as number) * perSecond;
    else if (/^E\d?$/.test(key))
      constants[key] = (given as number) * 1000; // kJ/mol
    else if (/^(?:m|n|B|switchAt|concentration|ratio|cap)$/.test(key)) constants[key] = given;
  }
  return {
    name: written.name,
    about: written.about,
    law: constants as unknown as CureLaw,
    heat: written.heat * 1000,
    initial: "initial" in written ? (written.initial as number) : 0,
    from: written.fromDegC + 273.15,
    to: written.toDegC + 273.15,
    source: written.source,
  };
}

/** Every published law. */
export const publishedCures: readonly PublishedCure[] = file.laws.map(published);

/**
 * The published cure law of that name; a resin of the catalog names its own in `resin.law`.
 *
 * @throws InputError `unknown_cure_law` with the possible names
 * @example publishedCure("epoxy-amine").law.law // "autocatalytic"
 */
export function publishedCure(name: string, path = "law"): PublishedCure {
  const found = publishedCures.find((cure) => cure.name === name);
  if (found) return found;
  throw new InputError([
    { code: "unknown_cure_law", path, given: name, possible: publishedCures.map((c) => c.name) },
  ]);
}

/** (k1 + k2 a^m)(1-a)^(n/2)(final-a)^(n/2) at one temperature, k in 1/s. */
export interface IsothermalCure {
  readonly hardener: string;
  readonly T: number; // K
  readonly k1: number;
  readonly k2: number;
  readonly m: number;
  readonly n: number;
  readonly final: number;
  readonly source: string;
}

/** Three room-temperature epoxies, each measured at five temperatures; the fits are degenerate: use the curves. */
export const isothermalCures: readonly IsothermalCure[] = file.isothermal.map((row) => ({
  hardener: row.hardener,
  T: row.atDegC + 273.15,
  k1: 10 ** row.log10k1,
  k2: 10 ** row.log10k2,
  m: row.m,
  n: row.n,
  final: row.final,
  source: row.source,
}));
