/** Drag of plain bodies in steady flow. `Re` is speed times size over kinematic viscosity. */
import { monotoneCubic } from "../numerics/monotone.ts";

/**
 * Drag coefficient of a smooth sphere, of its frontal area.
 *
 * @param Re by the diameter, > 0, up to 2e5
 * @example sphereDrag(1000) // 0.46
 * @source Brown & Lawler, Sphere drag and settling velocity revisited, J. Environ. Eng. 129 (2003) 222; recalled
 */
export function sphereDrag(Re: number): number {
  return (24 / Re) * (1 + 0.15 * Re ** 0.681) + 0.407 / (1 + 8710 / Re);
}

/**
 * Drag coefficient of a long smooth cylinder across the flow, of its frontal area.
 *
 * @param Re by the diameter, 1e-4 to 2e5
 * @example cylinderDrag(1000) // 0.96
 * @source Sucker & Brauer, Waerme- und Stoffuebertragung 8 (1975) 149; recalled
 */
export function cylinderDrag(Re: number): number {
  return 1.18 + 6.8 / Re ** 0.89 + 1.96 / Math.sqrt(Re) - (4e-4 * Re) / (1 + 3.64e-7 * Re * Re);
}

/**
 * What flow around the ends leaves of a long cylinder's drag.
 *
 * @param slenderness length over diameter, > 0
 * @example cylinderEnds(5) // 0.62
 * @source Hoerner, Fluid-Dynamic Drag, 1965, as in White, Fluid Mechanics, table of cylinders (1.20 for an endless one); from memory
 */
export function cylinderEnds(slenderness: number): number {
  return ends(Math.log(Math.max(slenderness, 1)));
}

const MEASURED = [
  [1, 0.64],
  [2, 0.68],
  [5, 0.74],
  [10, 0.82],
  [20, 0.91],
  [40, 0.98],
  [1000, 1.2],
];
const ends = monotoneCubic(
  MEASURED.map(([slenderness]) => Math.log(slenderness)),
  MEASURED.map(([, drag]) => drag / 1.2),
);

/**
 * Drag across the flow of an oval section over that of a round one as wide.
 *
 * @param ratio across the flow over along it, > 0
 * @example ovalDrag(1) // 1
 * @source Hoerner, Fluid-Dynamic Drag, 1965: proportional to the ratio where it is long in the flow, 1.7 at the most; from memory
 */
export function ovalDrag(ratio: number): number {
  return Math.min(1.7, ratio < 1 ? Math.max(0.25, ratio) : Math.sqrt(ratio));
}

/**
 * Drag coefficient of a slender body along the flow, of its wetted surface.
 *
 * @param Re by the length, > 0
 * @param slenderness length over diameter, > 1
 * @example streamlinedDrag(1e4, 6) // 0.0151
 * @source Blasius' friction, 1.328/sqrt(Re), with Hoerner's form factor 1 + 1.5 (d/l)^1.5 + 7 (d/l)^3; from memory
 */
export function streamlinedDrag(Re: number, slenderness: number): number {
  const thick = 1 / Math.max(slenderness, 1);
  return (1.328 / Math.sqrt(Re)) * (1 + 1.5 * thick ** 1.5 + 7 * thick ** 3);
}
