/**
 * A material of the catalog: every value with its spread and its source, in SI and kelvin.
 *
 * Plain data: it can be stored, sent to a worker and compared. `toMaterial` (lib/materials/to-material.ts) makes of it what
 * the engine takes.
 */

/** A property with its spread. `low <= value <= high`, in the unit of the property. */
export interface Spread {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Key into data/SOURCES.md. */
  readonly source: string;
  /** True when nothing better than an engineering guess was at hand: a dial, and shown as a guess. */
  readonly guess?: boolean;
}

/** A property that changes with temperature: the spread at `at`, times a factor that is linear between points. */
export interface SpreadOverT extends Spread {
  /** Temperature at which value, low and high hold, K. */
  readonly at?: number;
  /** Factor by temperature, constant outside the table; left out: the same at every temperature. */
  readonly shape?: { readonly T: readonly number[]; readonly factor: readonly number[] };
}

type MaterialFamily =
  | "plastisol"
  | "resin"
  | "silicone"
  | "clay"
  | "plaster"
  | "metal"
  | "wood"
  | "fluid";

/** What a soft plastisol has besides its heat properties. */
export interface PlastisolTraits {
  /** No longer flows below this on cooling, K. */
  readonly setTemperature: Spread;
  /** Coldest interface that still bonds to a fresh shot, K. */
  readonly bondTemperature: Spread;
  /** Volume expansion, 1/K. */
  readonly expansion: Spread;
  /** Activation energy of discoloring, J/mol. */
  readonly degradationEnergy: Spread;
  /** Time at `degradationAt` until it yellows, s. */
  readonly degradationTime: Spread;
  /** K. */
  readonly degradationAt: number;
  /** Hot enough to pour or inject, and no hotter, K. */
  readonly pourLeast: number;
  readonly pourMost: number;
  /** Viscosity of the clear hot melt, Pa s, at `viscosityAt` (K), with its activation energy (J/mol). */
  readonly viscosity: Spread;
  readonly viscosityAt: number;
  readonly viscosityEnergy: Spread;
  /** Time for full healing of an interface at `healingAt` (K), s, and its activation energy, J/mol. */
  readonly healingTime: Spread;
  readonly healingAt: number;
  readonly healingEnergy: Spread;
}

/** What a reacting resin has besides. Energies per kg of resin and hardener, without filler. */
export interface ResinTraits {
  /** Name of the rate law among the published ones. */
  readonly law: string;
  /** Heat of full cure per kg of resin and hardener, J/kg. */
  readonly heatOfReaction: Spread;
  /** Cure at which it gels, 0 to 1. */
  readonly gelCure: Spread;
  /** Glass transition uncured and fully cured, K, and the curvature between. */
  readonly glassUncured: Spread;
  readonly glassCured: Spread;
  readonly glassCurvature: Spread;
  /** Glass transition reached after the cure that the name of the entry states, K. */
  readonly glassReached: Spread;
  /** Viscosity of the fresh mix without filler at 25 degC, Pa s, with its activation energy, J/mol. */
  readonly viscosity: Spread;
  readonly viscosityEnergy: Spread;
  /** Activation energy kept when a pot life is matched, J/mol. */
  readonly activationEnergy: Spread;
  /** Pot life of `potLifeMass` kg at 25 degC, as data sheets of this sort state it, s. */
  readonly potLife: Spread;
  readonly potLifeMass: number;
  /** Parts of hardener to 100 parts of resin, by weight. */
  readonly hardenerParts: Spread;
}

/** Filler in a resin. */
export interface FillerTraits {
  readonly kind: string;
  /** Share of the volume, 0 to 1. */
  readonly volumeShare: Spread;
  /** Share of the mass, 0 to 1. */
  readonly massShare: Spread;
  readonly conductivity: Spread;
  readonly density: Spread;
  readonly specificHeat: Spread;
  /** Grain diameter, m. */
  readonly grain: Spread;
  /** Conductivity, density and specific heat of the resin between the grains. */
  readonly matrix: {
    readonly conductivity: Spread;
    readonly density: Spread;
    readonly specificHeat: Spread;
  };
}

/** A material of the catalog or of a job file: each property with its spread and its source. */
export interface MaterialEntry {
  readonly name: string;
  /** Other names under which it is found. */
  readonly aliases: readonly string[];
  readonly family: MaterialFamily;
  /** It soaks up water. */
  readonly porous?: true;
  /** k, W/(m K). */
  readonly conductivity: SpreadOverT;
  /** rho, kg/m3. */
  readonly density: SpreadOverT;
  /** cp, J/(kg K). */
  readonly specificHeat: SpreadOverT;
  readonly emissivity: Spread;
  /** Hottest that a mold face, master or bed of it should get, K. */
  readonly wallLimit?: Spread;
  /** Linear shrinkage of the casting step, share of length; negative when it grows. */
  readonly shrinkage?: Spread;
  readonly plastisol?: PlastisolTraits;
  readonly resin?: ResinTraits;
  readonly filler?: FillerTraits;
}

/** Which end of a property's spread is taken. */
export type Pick = "low" | "value" | "high";
