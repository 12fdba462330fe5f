/** What a march over one grid found and keeps on the way. Times in s, temperatures in K. */
import type { Snapshot } from "./problem.ts";

/** What one grid found; times in s, temperatures in K. */
export interface Marched {
  readonly times: Float64Array;
  readonly values: readonly Float64Array[];
  readonly cures: readonly Float64Array[];
  /** 1 at each of `times` where the probe's place held something, else 0. */
  readonly holds: readonly Uint8Array[];
  readonly crossings: (number | null)[];
  readonly max: Float64Array;
  readonly maxTime: Float64Array;
  readonly min: Float64Array;
  readonly minTime: Float64Array;
  readonly stageEnds: number[];
  readonly trace: Recorder;
  readonly snapshots: Snapshot[];
  steps: number;
  rejected: number;
  timeError: number;
  imbalance: number;
  end: number;
  stopped: boolean;
}

/** A table that grows: time and one column for each probe. */
export class Recorder {
  readonly columns: number;
  rows = 0;
  #data: Float64Array;
  constructor(columns: number) {
    this.columns = columns;
    this.#data = new Float64Array(columns * 48);
  }
  /** Appends a row: the time, then the values. */
  add(time: number, values: Float64Array): void {
    const { columns } = this;
    if ((this.rows + 1) * columns > this.#data.length) {
      const more = new Float64Array(this.#data.length * 2);
      more.set(this.#data);
      this.#data = more;
    }
    const at = this.rows * columns;
    this.#data[at] = time;
    for (let p = 1; p < columns; p++) this.#data[at + p] = values[p - 1];
    this.rows++;
  }
  column(c: number): Float64Array {
    const out = new Float64Array(this.rows);
    for (let r = 0; r < this.rows; r++) out[r] = this.#data[r * this.columns + c];
    return out;
  }
}
