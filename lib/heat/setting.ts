import type { Boundary, EndLoss, Side } from "./problem.ts";

/** What fills the grid and surrounds it during one stage. */
export interface Setting {
  /** Material of each region; undefined: empty space. */
  readonly fill: readonly (string | undefined)[];
  readonly boundary: Readonly<Record<Side, Boundary>>;
  readonly exposed: Boundary;
  readonly ends: EndLoss | undefined;
  /** Contact conductance between two regions, W/(m2 K); Infinity for perfect contact. */
  contact(regionA: number, regionB: number): number;
}

export const SIDES: readonly Side[] = ["left", "right", "top", "bottom"];
/** Place of `exposed` after the four sides. */
export const EXPOSED = 4;
