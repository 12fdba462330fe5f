/** What a face exchanges, at one time. Symbols: T K, h W/(m2 K), flux W/m2 into the body. */
import { linearAt } from "../numerics/linear.ts";
import { STEFAN_BOLTZMANN } from "../units/constants.ts";
import { turnsOf } from "./law-times.ts";
import type { Boundary, OverTime } from "./problem.ts";

function valueAt(law: OverTime, t: number): number {
  if (typeof law === "number") return law;
  if (typeof law === "function") return law(t);
  const { t: at, value } = law;
  return linearAt(at, value, t);
}

const moves = (law: OverTime | undefined) => law !== undefined && typeof law !== "number";

/** true when the boundary changes with time. */
export function isMoving(b: Boundary): boolean {
  if (b.kind === "held") return moves(b.temperature);
  if (b.kind === "flux") return moves(b.flux);
  return b.kind === "exchange" && (moves(b.h) || moves(b.ambient));
}

/** The laws of a boundary. */
function lawsOf(b: Boundary): (OverTime | undefined)[] {
  if (b.kind === "held") return [b.temperature];
  if (b.kind === "flux") return [b.flux];
  return b.kind === "exchange" ? [b.h, b.ambient] : [];
}

/** Times between two others at which a boundary bends, jumps or turns: the steps must end there. */
export function boundaryTimes(b: Boundary, from: number, to: number): readonly number[] {
  if (!isMoving(b)) return NEVER;
  const times: number[] = [];
  for (const law of lawsOf(b)) times.push(...turnsOf(law, from, to));
  return times;
}

const NEVER: readonly number[] = [];

/**
 * A boundary at one time, as numbers: `h` Infinity holds the face at `ambient`, 0 lets only the flux through.
 */
export interface BoundaryNow {
  h: number;
  ambient: number;
  flux: number;
  /** emissivity times the Stefan-Boltzmann constant. */
  radiation: number;
}

export function boundaryNow(b: Boundary, t: number, out: BoundaryNow): void {
  out.h = 0;
  out.ambient = 0;
  out.flux = 0;
  out.radiation = 0;
  if (b.kind === "held") {
    out.h = Number.POSITIVE_INFINITY;
    out.ambient = valueAt(b.temperature, t);
  } else if (b.kind === "flux") out.flux = valueAt(b.flux, t);
  else if (b.kind === "exchange") {
    out.h = valueAt(b.h, t);
    out.ambient = valueAt(b.ambient, t);
    out.radiation = (b.emissivity ?? 0) * STEFAN_BOLTZMANN;
  }
}
