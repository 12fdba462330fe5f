/** Fresh and sea water as a bait meets them. */
import { ZERO_CELSIUS } from "../units/constants.ts";

/**
 * Density of fresh water, kg/m3.
 *
 * @param T K, 273 to 313
 * @example freshWater(293.15) // 998.2
 * @source Tanaka et al., Recommended table for the density of water, Metrologia 38 (2001) 301 (the CIPM formula); recalled
 */
export function freshWater(T: number): number {
  const t = T - ZERO_CELSIUS;
  return 999.97495 * (1 - ((t - 3.983035) ** 2 * (t + 301.797)) / (522528.9 * (t + 69.34881)));
}

/**
 * Density of sea water of 35 g of salt to the kilogram, kg/m3.
 *
 * @param T K, 273 to 303; right to 0.3 kg/m3
 * @example seaWater(278.15) // 1027.7
 * @source straight line through two check values of the equation of state of seawater EOS-80 (UNESCO, Technical papers in
 * marine science 44, 1983: 1027.675 at 5 degC, 1023.343 at 25 degC), over fresh water; recalled
 */
export function seaWater(T: number): number {
  const t = T - ZERO_CELSIUS;
  return freshWater(T) + 27.708 - 0.0707 * (t - 5);
}

/**
 * Dynamic viscosity of water, Pa s; sea water has 8 % more.
 *
 * @param T K, 273 to 373
 * @example waterViscosity(293.15) * 1000 // 1.00
 * @source Al-Shemmeri, Engineering Fluid Mechanics, 2012: 2.414e-5 10^(247.8/(T - 140)), within 2.5 %; recalled
 */
export function waterViscosity(T: number): number {
  return 2.414e-5 * 10 ** (247.8 / (T - 140));
}
