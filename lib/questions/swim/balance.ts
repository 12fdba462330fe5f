/** What pulls a bait down and what lifts it, and where. SI; places from the nose and above the axis. */
import type { Job, Metal } from "../../job/types.ts";
import type { BodyMeasures } from "../../shape/body.ts";

/** What the water is like, and everything of the bait that is not sure. */
export interface SwimCase {
  readonly job: Job;
  readonly water: number; // kg/m3
  /** Of the plastic alone, kg/m3. */
  readonly plastic: number;
  /** Volume of the bait over that of its shape. */
  readonly size: number;
  /** Drag over that of the formulas. */
  readonly drag: number;
}

export interface PartInWater {
  readonly name: string;
  readonly mass: number; // kg
  readonly volume: number; // m3
  readonly at: number; // m
  readonly up: number; // m
}

/** kg/m3, handbook values from memory; tungsten as sintered for weights. */
const METALS: Readonly<Record<Metal, number>> = {
  lead: 11340,
  tungsten: 17500,
  brass: 8450,
  steel: 7850,
  bismuth: 9780,
};
/** Table salt, kg/m3; CRC Handbook of Chemistry and Physics, from memory. */
const SALT = 2165;
/** Hollow glass spheres, kg/m3: 120 to 600 are sold. A guess. */
const HOLLOW = 250;

/**
 * Density of plastic with salt and hollow spheres, kg/m3.
 *
 * @param plastic kg/m3
 * @param salt share of the mass
 * @param hollow share of the mass
 * @example filledPlastic(1063, 0.2, 0) // 1183
 */
export function filledPlastic(plastic: number, salt: number, hollow: number): number {
  return 1 / ((1 - salt - hollow) / plastic + salt / SALT + hollow / HOLLOW);
}

/** The bait, its hook and its weights. */
export function partsInWater({ job, plastic, size }: SwimCase, shape: BodyMeasures): PartInWater[] {
  const { swim } = job;
  const volume = shape.volume * size;
  const { along, up } = shape.centroid;
  const body: PartInWater = {
    name: "body",
    mass: volume * filledPlastic(plastic, swim.salt, swim.hollow),
    volume,
    at: along,
    // sums of a symmetric body leave noise
    up: Math.abs(up) < 1e-6 ? 0 : up,
  };
  const metal = (
    one: { name: string; mass: number; at: number; below: number },
    density: number,
  ): PartInWater => ({
    name: one.name,
    mass: one.mass,
    volume: one.mass / density,
    at: one.at,
    up: -one.below,
  });
  return [
    body,
    ...(swim.hook ? [metal(swim.hook, METALS.steel)] : []),
    ...swim.weights.map((weight) => metal(weight, METALS[weight.metal])),
  ];
}

export interface Balance {
  readonly mass: number; // kg
  readonly volume: number; // m3
  /** Mass less that of the water it displaces, kg: what a scale would show under water. */
  readonly netMass: number;
  /** Net masses times how far they lie ahead of the middle, kg m: turns the nose down. */
  readonly ahead: number;
  /** Net masses times how far they lie below the axis, kg m: holds it level; negative: it turns its back down. */
  readonly below: number;
}

/**
 * Weight in water, and the moments of all parts around the middle of the area that the bait shows from above, where the
 * drag of a bait that sinks level acts.
 *
 * @param center of that area, m from the nose
 */
export function balanceOf(parts: readonly PartInWater[], water: number, center: number): Balance {
  const sum = (of: (part: PartInWater) => number) =>
    parts.reduce((total, part) => total + of(part), 0);
  const net = ({ mass, volume }: PartInWater) => mass - water * volume;
  return {
    mass: sum(({ mass }) => mass),
    volume: sum(({ volume }) => volume),
    netMass: sum(net),
    ahead: sum((part) => net(part) * (center - part.at)),
    below: -sum((part) => net(part) * part.up),
  };
}
