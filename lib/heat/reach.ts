/**
 * Tables of all materials over the temperatures that a problem reaches: made for those that it names, made longer when a run
 * gets beyond them, and refused where a law is not above zero there.
 */

import type { Material, PropertyLaw } from "../materials/material.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import { InputError, type Problem } from "../units/problem.ts";
import type { HeatProblem } from "./problem.ts";
import { lawAt, type Properties, propertiesOf } from "./properties.ts";
import type { Scale } from "./scale.ts";

/** Temperatures beyond this are no answer of a law of conduction, K. */
const HOTTEST = 20_000;

/** Thrown by a run that gets beyond the tables of a material; `T` in K. */
export class BeyondTables extends Error {
  readonly T: number;
  constructor(T: number) {
    super(`the tables end before ${T} K`);
    this.name = "BeyondTables";
    this.T = T;
  }
}

/**
 * What `run` gives with tables that reach as far as it gets.
 *
 * @throws InputError with the temperature from which on a conductivity or heat capacity is not above zero
 */
export function withinTables<A>(
  problem: HeatProblem,
  scale: Scale,
  run: (properties: ReadonlyMap<string, Properties>) => A,
): A {
  let low = scale.lowest - 10;
  let high = scale.highest + 10;
  let { lowest, named: highest } = scale;
  for (;;) {
    const properties = new Map<string, Properties>();
    for (const [name, material] of Object.entries(problem.materials))
      properties.set(name, propertiesOf(material, low, high));
    const problems: Problem[] = [];
    for (const name of usedMaterials(problem)) {
      const p = properties.get(name);
      if (p && !(p.least <= lowest && p.most >= highest))
        problems.push(...gapsOf(name, problem.materials[name], p, lowest, highest));
    }
    if (problems.length > 0) throw new InputError(problems);
    try {
      return run(properties);
    } catch (error) {
      if (!(error instanceof BeyondTables) || error.T > HOTTEST) throw error;
      lowest = Math.min(lowest, error.T);
      highest = Math.max(highest, error.T);
      const more = 0.5 * (highest - lowest) + 50;
      low = Math.max(1, Math.min(low, lowest - more));
      high = Math.max(high, highest + more);
    }
  }
}

function usedMaterials({ block, shapes = [], layers = [], stages }: HeatProblem): Set<string> {
  const used = new Set<string>();
  for (const { material } of block ? [block, ...shapes] : layers) used.add(material);
  for (const { refill = [] } of stages)
    for (const { material } of refill) if (material !== undefined) used.add(material);
  return used;
}

/** Laws of a material that are not above zero somewhere between two temperatures. */
function gapsOf(
  name: string,
  material: Material,
  p: Properties,
  lowest: number,
  highest: number,
): Problem[] {
  const T = p.most < highest ? p.most + 1 / p.perKelvin : p.least - 1 / p.perKelvin;
  return (["conductivity", "density", "specificHeat"] as const)
    .filter((key) => !isGood(material[key], T))
    .map((key) => ({
      code: "law_not_positive",
      path: `materials.${name}.${key}`,
      given: Number(lawAt(material[key], T).toPrecision(3)),
      ...(p.most < highest
        ? { most: degC(p.most), least: degC(highest) }
        : { most: degC(p.least), least: degC(lowest) }),
    }));
}

const isGood = (law: PropertyLaw, T: number): boolean => {
  const value = lawAt(law, T);
  return value > 0 && value < Number.POSITIVE_INFINITY;
};

const degC = (T: number) => `${Number((T - ZERO_CELSIUS).toPrecision(4))} degC`;
