import type { Link } from "./grid-links.ts";
import type { Frame } from "./problem.ts";

/** Rows and columns of cells, what each holds, and the links that cross interfaces. */
export interface Grid {
  readonly frame: Frame;
  readonly nx: number;
  readonly ny: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly xc: Float64Array;
  readonly yc: Float64Array;
  readonly ax: Float64Array;
  readonly vx: Float64Array;
  readonly ly: Float64Array;
  /** Half resistances along x over k and times ly: center to the right face, left face to center. */
  readonly toRight: Float64Array;
  readonly toLeft: Float64Array;
  readonly regions: readonly string[];
  /** The field goes on evenly beyond the left or bottom face (a mirror, or the axis of a round body). */
  readonly evenX: boolean;
  readonly evenY: boolean;
  /** Region of the cell, or -1 - m for mixture m. */
  readonly content: Int32Array;
  /** Region of the cell's center. */
  readonly center: Int16Array;
  /** Region at a place, by the outlines themselves. */
  regionAt(x: number, y: number): number;
  readonly mixStart: Int32Array;
  readonly mixCell: Int32Array;
  readonly mixRegion: Int32Array;
  readonly mixShare: Float64Array;
  readonly links: readonly Link[];
  readonly faces: readonly Link[];
}
