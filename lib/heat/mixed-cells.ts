/**
 * Cells cut by an outline whose heat capacity varies with T: the materials in a cell have one temperature, which is looked
 * for so that together they hold the cell's energy.
 *
 * Symbols: T K, E J (from 0 degC), C J/K, c J/(m3 K).
 */

import { doublesOf, integersOf } from "../numerics/typed-lists.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import { capacityAt, enthalpyAt, type Properties } from "./properties.ts";

/** Intervals of a table tried one after the other, before they are halved down to the right one. */
const MOST_JUMPS = 6;

/** Turns of Newton's method for several materials, halved where it leads out of what is known. */
const MOST_TURNS = 80;

/** What of a cell varies: materials with their volumes; what does not: J/K together. */
export interface MixedCell {
  readonly cell: number;
  readonly constant: number;
  readonly parts: readonly { readonly props: Properties; readonly volume: number }[];
}

export class MixedCells {
  private readonly cells: Int32Array;
  private readonly constant: Float64Array;
  private readonly first: Int32Array;
  private readonly volume: Float64Array;
  private readonly props: readonly Properties[];

  constructor(mixed: readonly MixedCell[]) {
    this.cells = integersOf(mixed, (m) => m.cell);
    this.constant = doublesOf(mixed, (m) => m.constant);
    this.first = new Int32Array(mixed.length + 1);
    for (let b = 0; b < mixed.length; b++)
      this.first[b + 1] = this.first[b] + mixed[b].parts.length;
    const parts = mixed.flatMap((m) => m.parts);
    this.volume = doublesOf(parts, (part) => part.volume);
    this.props = parts.map((part) => part.props);
  }

  /** T of every cell from its energy; the T before is where it is looked for first. */
  temperatures(u: Float64Array, T: Float64Array, before: Float64Array): void {
    const { cells, constant, first, volume, props } = this;
    for (let b = 0; b < cells.length; b++) {
      const i = cells[b];
      const k = first[b];
      const t =
        first[b + 1] === k + 1
          ? temperatureOf(props[k], volume[k], constant[b], u[i], before[b])
          : this.mixTemperature(b, u[i], before[b]);
      before[b] = t;
      T[i] = t;
    }
  }

  capacities(T: Float64Array, C: Float64Array): void {
    const { cells } = this;
    for (let b = 0; b < cells.length; b++) C[cells[b]] = this.capacity(b, T[cells[b]]);
  }

  /** The T of these cells alone. */
  read(T: Float64Array): Float64Array {
    return doublesOf(this.cells, (i) => T[i]);
  }

  private capacity(b: number, t: number): number {
    const { first, volume, props } = this;
    let c = this.constant[b];
    for (let k = first[b]; k < first[b + 1]; k++) c += volume[k] * capacityAt(props[k], t);
    return c;
  }

  private energy(b: number, t: number): number {
    const { first, volume, props } = this;
    let E = this.constant[b] * (t - ZERO_CELSIUS);
    for (let k = first[b]; k < first[b + 1]; k++) E += volume[k] * enthalpyAt(props[k], t);
    return E;
  }

  private mixTemperature(b: number, E: number, guess: number): number {
    let t = guess;
    let low = Number.NEGATIVE_INFINITY;
    let high = Number.POSITIVE_INFINITY;
    for (let tries = 0; tries < MOST_TURNS; tries++) {
      const more = E - this.energy(b, t);
      const d = more / this.capacity(b, t);
      if (d < 1e-8 && d > -1e-8) return t + d;
      if (more > 0) low = t;
      else high = t;
      // from one side of a narrow peak of a capacity to the other and back it would go on for good
      t = t + d > low && t + d < high ? t + d : 0.5 * (low + high);
    }
    return t;
  }
}

/**
 * T at which a volume of one material and a constant capacity hold E together. Within an interval of the table E is a
 * parabola over T, and its root is had at once; what is to be found is the interval.
 */
function temperatureOf(
  { T0, perKelvin, last, cTable, hTable }: Properties,
  volume: number,
  constant: number,
  E: number,
  guess: number,
): number {
  const step = 1 / perKelvin;
  let low = 0;
  let high = last - 1;
  const around = (guess - T0) * perKelvin;
  let k = around > 0 ? (around < high ? around | 0 : high) : 0;
  for (let tries = 0; ; tries++) {
    const c0 = cTable[k];
    const at = T0 + k * step;
    const more = E - constant * (at - ZERO_CELSIUS) - volume * hTable[k];
    const slope = constant + volume * c0;
    const bend = volume * (cTable[k + 1] - c0) * perKelvin;
    const square = slope * slope + 2 * bend * more;
    // in the form without cancellation; far outside of the interval its parabola may have no root
    const d = square > 0 ? (2 * more) / (slope + Math.sqrt(square)) : more / slope;
    if (more < 0) high = k - 1;
    else if (!(square > 0) || d > step) low = k + 1;
    else return at + d;
    // beyond the ends of the table its end intervals go on
    if (low > high) return at + d;
    const jump = k + Math.floor(d * perKelvin);
    k = tries < MOST_JUMPS && jump >= low && jump <= high ? jump : (low + high) >> 1;
  }
}
