/**
 * The published sets of rate constants, by name, in SI. The constants stand in data/materials/cure-laws.json as
 * they were printed, with the unit they were printed in; here they are converted.
 */

import written from "../../data/materials/cure-laws.json" with { type: "json" };
import { ZERO_CELSIUS } from "../units/constants.ts";
import { InputError } from "../units/problem.ts";
import type { RateSpec, VitrificationCap } from "./rate-form.ts";

/** A published rate law with the heat that belongs to it. */
export interface PublishedLaw {
  readonly name: string;
  readonly about: string;
  readonly spec: RateSpec;
  /** Heat of full cure, J/kg of what `about` says, else of resin and hardener. */
  readonly heat: number;
  /** Cure to start from: above 0 for laws that never start by themselves. */
  readonly initial: number;
  /** Range of temperatures that the constants were measured in, K. */
  readonly from: number;
  readonly to: number;
  /** Key into data/SOURCES.md. */
  readonly source: string;
}

/** An isothermal measurement of the room-temperature epoxies: constants at this one temperature. */
export interface IsothermalCure {
  readonly hardener: string;
  readonly T: number; // K
  readonly spec: RateSpec;
  readonly source: string;
}

const PER_SECOND: Readonly<Record<string, number>> = {
  "1/s": 1,
  "1/min": 1 / 60,
  "m^3/(mol s)": 1,
};
const J_PER_KJ = 1000;

/** A law as the data file writes it. */
interface WrittenLaw {
  readonly name: string;
  readonly law: string;
  readonly about: string;
  readonly unit: string;
  readonly A?: number;
  readonly A1?: number;
  readonly A2?: number;
  readonly A3?: number;
  readonly E?: number;
  readonly E1?: number;
  readonly E2?: number;
  readonly E3?: number;
  readonly n?: number;
  readonly m?: number;
  readonly B?: number;
  readonly switchAt?: number;
  readonly concentration?: number;
  readonly ratio?: number;
  readonly cap?: { readonly kind: string } & Readonly<Record<string, number | string>>;
  readonly heat: number;
  readonly initial?: number;
  readonly fromDegC: number;
  readonly toDegC: number;
  readonly source: string;
}

function specFrom(law: WrittenLaw): RateSpec {
  const perSecond = PER_SECOND[law.unit];
  const rate = (A?: number) => A! * perSecond;
  const energy = (E?: number) => E! * J_PER_KJ;
  const cap = law.cap === undefined ? {} : { cap: law.cap as unknown as VitrificationCap };
  switch (law.law) {
    case "piecewise":
      return {
        law: "piecewise",
        A1: rate(law.A1),
        E1: energy(law.E1),
        A2: rate(law.A2),
        E2: energy(law.E2),
        A3: rate(law.A3),
        E3: energy(law.E3),
        B: law.B!,
        switchAt: law.switchAt!,
        ...cap,
      };
    case "second-order":
      return {
        law: "second-order",
        A: rate(law.A),
        E: energy(law.E),
        concentration: law.concentration!,
        ratio: law.ratio!,
        ...cap,
      };
    case "nth-order":
      return { law: "nth-order", A: rate(law.A), E: energy(law.E), n: law.n!, ...cap };
    default:
      return {
        law: "autocatalytic",
        A1: rate(law.A1),
        E1: energy(law.E1),
        A2: rate(law.A2),
        E2: energy(law.E2),
        m: law.m!,
        n: law.n!,
        ...cap,
      };
  }
}

/** Every published law, in the order of the data file. */
export const publishedLaws: readonly PublishedLaw[] = (
  written.laws as unknown as readonly WrittenLaw[]
).map((law) => ({
  name: law.name,
  about: law.about,
  spec: specFrom(law),
  heat: law.heat * J_PER_KJ,
  initial: law.initial ?? 0,
  from: law.fromDegC + ZERO_CELSIUS,
  to: law.toDegC + ZERO_CELSIUS,
  source: law.source,
}));

/**
 * The isothermal measurements on an epoxy with three short diamines, 25 to 100 degC. Each set holds at its own
 * temperature only (E = 0): the exponents swing between temperatures, so the curve is sound and the single
 * constants are not.
 */
export const isothermalCures: readonly IsothermalCure[] = written.isothermal.map((set) => ({
  hardener: set.hardener,
  T: set.atDegC + ZERO_CELSIUS,
  spec: {
    law: "autocatalytic",
    A1: 10 ** set.log10k1,
    E1: 0,
    A2: 10 ** set.log10k2,
    E2: 0,
    m: set.m,
    n: set.n,
    final: set.final,
  },
  source: set.source,
}));

/**
 * A published rate law by its name.
 *
 * @throws InputError (`unknown_word`) naming the laws that there are
 * @example publishedLaw("glass-polyester").heat // 77500
 */
export function publishedLaw(name: string): PublishedLaw {
  const found = publishedLaws.find((law) => law.name === name);
  if (!found)
    throw new InputError([
      {
        code: "unknown_word",
        path: "law",
        given: name,
        possible: publishedLaws.map((law) => law.name),
      },
    ]);
  return found;
}
