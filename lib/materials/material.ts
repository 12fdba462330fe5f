/**
 * What the engine needs to know of a material. SI and kelvin throughout.
 *
 * Symbols: k W/(m K), rho kg/m3, cp J/(kg K), T K.
 */

/**
 * A property over temperature: one number, a table (linear between its points, constant outside them),
 * or a function of T in K.
 */
export type PropertyLaw =
  | number
  | { readonly T: readonly number[]; readonly value: readonly number[] }
  | ((T: number) => number);

/**
 * How fast a resin cures. `cure` is the converted share, 0 to 1.
 *
 * `evaluate` writes three numbers to `out`: the rate in 1/s, its derivative with respect to cure in 1/s, and
 * with respect to T in 1/(s K). It allocates nothing: the stepper calls it for each cell and stage.
 */
export interface RateLaw {
  /** @param T K */
  evaluate(cure: number, T: number, out: Float64Array): void;
  /** The same at many places at once, for a law that is quicker so; left out: one by one. */
  evaluateAt?(cure: Float64Array, T: Float64Array, places: RatePlaces): void;
}

/** Where a law is wanted, and what it gave there last. */
export interface RatePlaces {
  /** Place of each cure in the list that is handed over, and of its temperature in its own. */
  readonly at: Int32Array;
  readonly cells: Int32Array;
  /** 1/s. */
  readonly rate: Float64Array;
  /** Its slope by cure, 1/s. */
  readonly byCure: Float64Array;
  /** Its slope by temperature, 1/(s K). */
  readonly byT: Float64Array;
  /** Whether the slopes are wanted as well; else they stay as they are. */
  withSlopes: boolean;
}

/** How a material cures and what heat it sets free. */
export interface CureOfMaterial {
  readonly law: RateLaw;
  /** Heat set free by full cure, J per kg of this material (filler included). */
  readonly heat: number;
  /** Cure at the start, 0 to 1. */
  readonly initial: number;
}

/**
 * What the engine needs to know of a material. SI; properties are numbers or functions of the temperature
 * in K.
 */
export interface Material {
  readonly name: string;
  /** k, W/(m K). */
  readonly conductivity: PropertyLaw;
  /** rho, kg/m3. */
  readonly density: PropertyLaw;
  /** cp, J/(kg K). */
  readonly specificHeat: PropertyLaw;
  /** Constant volumetric heat source, W/m3. */
  readonly source?: number;
  readonly cure?: CureOfMaterial;
}
