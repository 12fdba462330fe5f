/**
 * What the probes read through a run, for plots: kept as the cubics of the steps, and laid out as points once somebody looks.
 * Most runs are asked for a time or an extreme alone.
 */
import { type Cubic, hermite } from "../numerics/hermite.ts";

/** A cubic with one slope off by d leaves its line by 4/27 of d h. */
export const CUBIC_REACH = 27 / 4;

/** Where a step's cubic bends, there are points between its ends: lines from point to point then miss it by this share of the span. */
const MISSED = 2e-4;
const MOST_BETWEEN = 12;

/** Of each probe in a row: values and slopes at the step's start and end. */
const NUMBERS = 4;

export class Trace {
  /** Rows: a time, what has passed since the row before (0: a stage begins), then the numbers of each probe. */
  private readonly rows: number[] = [];
  private readonly probes: number;
  private laid: readonly Float64Array[] | undefined = undefined;

  private readonly missed: number;

  /**
   * @param probes how many are read
   * @param span of the temperatures that can occur, K
   */
  constructor(probes: number, span: number) {
    this.probes = probes;
    this.missed = MISSED * span;
  }

  /** A step of h seconds ends, or a stage begins (h = 0); then comes `probe` for each. */
  row(end: number, h: number): void {
    this.rows.push(end, h);
    this.laid = undefined;
  }

  /** The next probe: values K and slopes K/s of its cubic at the start and the end. */
  probe(y0: number, d0: number, y1: number, d1: number): void {
    this.rows.push(y0, d0, y1, d1);
  }

  /** Of all points, s: 0; K of a probe: 1 and on. */
  column(c: number): Float64Array {
    this.laid ??= this.layOut();
    return this.laid[c];
  }

  private layOut(): Float64Array[] {
    const { rows, probes, missed } = this;
    const columns = Array.from({ length: probes + 1 }, (): number[] => []);
    const cubic: Cubic = { h: 0, y0: 0, d0: 0, y1: 0, d1: 0 };
    const take = (row: number, p: number) => {
      const at = row + 2 + NUMBERS * p;
      cubic.h = rows[row + 1];
      cubic.y0 = rows[at];
      cubic.d0 = rows[at + 1];
      cubic.y1 = rows[at + 2];
      cubic.d1 = rows[at + 3];
    };
    for (let row = 0; row < rows.length; row += 2 + NUMBERS * probes) {
      const [end, h] = [rows[row], rows[row + 1]];
      let bend = 0;
      for (let p = 0; p < probes; p++) {
        take(row, p);
        const line = cubic.y1 - cubic.y0;
        const off = Math.max(Math.abs(cubic.d0 * h - line), Math.abs(cubic.d1 * h - line));
        bend = Math.max(bend, off / CUBIC_REACH);
      }
      const parts = Math.min(MOST_BETWEEN, Math.max(1, Math.ceil(Math.sqrt(bend / missed))));
      // where a stage begins there is one point
      for (let k = h > 0 ? 1 : parts; k <= parts; k++) {
        columns[0].push(k === parts ? end : end - h + (k / parts) * h);
        for (let p = 0; p < probes; p++) {
          take(row, p);
          columns[p + 1].push(k === parts ? cubic.y1 : hermite(cubic, k / parts));
        }
      }
    }
    return columns.map((column) => new Float64Array(column));
  }
}
