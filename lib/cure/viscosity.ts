/** Viscosity of a curing and of a filled resin. Pa s, T K, J/mol. */
import { findRoot } from "../numerics/roots.ts";
import { Checks } from "../units/check.ts";
import { GAS_CONSTANT } from "../units/constants.ts";

/**
 * Viscosity of the uncured mix at T, in Pa s.
 *
 *     eta = eta_at exp[E/R (1/T - 1/at)]
 *
 * @param known viscosity Pa s at the temperature `at` K, with its energy J/mol
 * @throws InputError when an input is out of range
 * @example freshViscosity({ viscosity: 1, at: 298.15, energy: 55000 }, 308.15) // 0.4868
 * @source Arrhenius-Andrade form, common practice
 */
export function freshViscosity(
  known: { readonly viscosity: number; readonly at: number; readonly energy: number },
  T: number,
): number {
  const checks = new Checks();
  checks.number("viscosity", known.viscosity, { above: 0 });
  checks.number("at", known.at, { above: 0 });
  checks.number("energy", known.energy, { least: 0 });
  checks.number("T", T, { above: 0 });
  checks.done();
  return known.viscosity * Math.exp((known.energy / GAS_CONSTANT) * (1 / T - 1 / known.at));
}

/** Exponents of the Castro-Macosko law; 1.5 and 1 are the usual seeds (from memory), a dial. */
export interface Thickening {
  readonly A: number;
  readonly B: number;
}
const USUAL: Thickening = { A: 1.5, B: 1 };

/**
 * How many times thicker a resin is at this cure than fresh, at the same temperature.
 *
 *     eta/eta0 = [gel / (gel - a)]^(A + B a)
 *
 * @param cure 0 to 1
 * @param gel cure at the gel point, 0 to 1
 * @returns ratio, 1 at the start; Infinity from the gel point on
 * @throws InputError when an input is out of range
 * @example thickening(0.3, 0.6) // 3.482
 * @source Castro & Macosko, AIChE J. 28 (1982) 250
 */
export function thickening(cure: number, gel: number, exponents: Thickening = USUAL): number {
  const checks = new Checks();
  checks.number("cure", cure, { least: 0, most: 1 });
  checks.number("gel", gel, { above: 0, most: 1 });
  checks.done();
  if (cure >= gel) return Number.POSITIVE_INFINITY;
  return (gel / (gel - cure)) ** (exponents.A + exponents.B * cure);
}

/**
 * Cure at which the resin is `ratio` times as thick as fresh: the inverse of `thickening`.
 *
 * @param ratio over 1
 * @throws InputError when an input is out of range
 * @example cureAtThickening(3.482, 0.6) // 0.3000
 */
export function cureAtThickening(
  ratio: number,
  gel: number,
  exponents: Thickening = USUAL,
): number {
  const checks = new Checks();
  checks.number("ratio", ratio, { above: 1, most: 1e9 });
  checks.number("gel", gel, { above: 0, most: 1 });
  checks.done();
  const target = Math.log(ratio);
  const grown = (a: number) => (exponents.A + exponents.B * a) * Math.log(gel / (gel - a)) - target;
  return findRoot(grown, 0, gel * (1 - 1e-14), 1e-14);
}

/**
 * How many times thicker a liquid becomes by filler.
 *
 *     eta/eta0 = (1 - phi/packing)^(-intrinsic packing)
 *
 * @param share filler by volume, 0 to below `packing`
 * @param packing densest packing of the powder, 0.52 to 0.8
 * @param intrinsic 2.5 for spheres
 * @throws InputError when the share is at or above packing (`filler_above_packing`)
 * @example fillerThickening(0.35, 0.637) // 3.560
 * @source Krieger & Dougherty, Trans. Soc. Rheol. 3 (1959) 137
 */
export function fillerThickening(share: number, packing: number, intrinsic = 2.5): number {
  const checks = new Checks();
  if (checks.number("packing", packing, { above: 0, most: 1 }) && share >= packing)
    checks.add({
      code: "filler_above_packing",
      path: "share",
      given: share,
      most: String(packing),
    });
  else checks.number("share", share, { least: 0 });
  checks.number("intrinsic", intrinsic, { above: 0 });
  checks.done();
  return (1 - share / packing) ** (-intrinsic * packing);
}
