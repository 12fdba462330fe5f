/**
 * The four problems that the engine is measured on, with converged answers of independent general-purpose solvers
 * (finite elements and method of lines, several refinements agreeing to the digits given).
 */
import { type HeatProblem, readSolveProblem } from "../../lib/index.ts";

const mold = { conductivity: 0.9, density: 1700, specificHeat: 1100 };
const plastisol = { conductivity: 0.16, density: 1000, specificHeat: "1500 + 2.5*T" };
const air = { h: 10, ambient: 22 };

/** P1: hot plastisol between two mold halves. */
export const layeredSlab = {
  frame: "slab",
  materials: { mold, plastisol },
  layers: [
    { name: "lower", material: "mold", thickness: 0.04, initial: 25, contact: 2000 },
    { name: "bait", material: "plastisol", thickness: 0.012, initial: 175, contact: 2000 },
    { name: "upper", material: "mold", thickness: 0.04, initial: 25 },
  ],
  boundary: { left: air, right: air },
  until: 1800,
  probes: { center: [0.046], wall: [0.04, "left"] },
  times: [60, 120, 300, 600, 1800],
  crossings: [{ probe: "center", below: 50 }],
};
export const LAYERED_SLAB_S = 1048.6465;

/** P2: an ellipse of plastisol in a block, perfect contact or 1000 W/(m2 K). */
export const ellipseInBlock = (contact?: number) => ({
  frame: "section",
  materials: { mold, plastisol },
  block: { width: 0.08, height: 0.06, material: "mold", initial: 25 },
  shapes: [
    {
      name: "bait",
      ellipse: [0.028, 0.016],
      center: [0.04, 0.03],
      material: "plastisol",
      initial: 175,
      ...(contact === undefined ? {} : { contact }),
    },
  ],
  boundary: { left: air, right: air, top: air, bottom: air },
  until: 1000,
  probes: { center: [0.04, 0.03] },
  times: [60, 120, 300, 600],
  crossings: [{ probe: "center", below: 50 }],
});
export const ELLIPSE_S = { perfect: 666.69735, film: 683.27265 };

const resin = {
  ...mold,
  cure: {
    law: "autocatalytic",
    A1: 1e4,
    E1: 55_000,
    A2: 8.28e5,
    E2: 50_000,
    m: 0.8,
    n: 1.4,
    heat: 90_000,
    initial: 0,
  },
};
const room = { h: 8, ambient: 23 };

/** P4: a slab and a square of curing resin in air. */
export const curingSlab = {
  frame: "slab",
  materials: { resin },
  layers: [{ name: "resin", material: "resin", thickness: 0.05, initial: 23 }],
  boundary: { left: room, right: room },
  until: 6000,
  probes: { center: [0.025] },
};
export const CURING_SLAB = { peakC: 101.26792, peakS: 2198.644 };
export const curingSquare = {
  frame: "section",
  materials: { resin },
  block: { width: 0.06, height: 0.06, material: "resin", initial: 23 },
  boundary: { left: room, right: room, top: room, bottom: room },
  until: 6000,
  probes: { center: [0.03, 0.03] },
};
export const CURING_SQUARE = { peakC: 99.37033, peakS: 2230.351 };

export const problemOf = (json: object, more: Partial<HeatProblem> = {}): HeatProblem => ({
  ...readSolveProblem(json),
  ...more,
});

/** The same problem on a grid that was never asked for: the engine keeps grids, and a first answer has to make its own. */
export const withNewGrid = (problem: HeatProblem, call: number): HeatProblem => ({
  ...problem,
  resolution: (problem.resolution ?? 1) * (1 + call * 1e-12),
});
