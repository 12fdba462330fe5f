/**
 * What mixing does to density, heat capacity and heat of reaction. Exact balances, no model.
 *
 * Symbols: w share by mass, phi share by volume; rho kg/m3, cp J/(kg K), heat J/kg.
 */
import { Checks } from "../units/check.ts";

function shares(
  given: Readonly<Record<string, number>>,
  densities: Readonly<Record<string, number>>,
) {
  const checks = new Checks();
  for (const [path, share] of Object.entries(given))
    checks.number(path, share, { least: 0, most: 1 });
  for (const [path, rho] of Object.entries(densities)) checks.number(path, rho, { above: 0 });
  checks.done();
}

/**
 * Share by volume of what makes up the share `mass` by mass.
 *
 *     phi = (w/rho_f) / (w/rho_f + (1-w)/rho_m)
 *
 * @param mass 0 to 1
 * @param matrix kg/m3
 * @param filler kg/m3
 * @throws InputError when an input is out of range
 * @example volumeShare(0.5, 1150, 2700) // 0.2987012987
 */
export function volumeShare(mass: number, matrix: number, filler: number): number {
  shares({ mass }, { matrix, filler });
  const v = mass / filler;
  return v / (v + (1 - mass) / matrix);
}

/**
 * Share by mass of what makes up the share `volume` by volume.
 *
 * @example massShare(0.35, 1150, 2700) // 0.5583
 */
export function massShare(volume: number, matrix: number, filler: number): number {
  shares({ volume }, { matrix, filler });
  const m = volume * filler;
  return m / (m + (1 - volume) * matrix);
}

/**
 * Share of filler by volume from the weighed density of a cast piece without bubbles.
 *
 *     phi = (rho - rho_m) / (rho_f - rho_m)
 *
 * @throws InputError when the density lies outside those of matrix and filler
 * @example shareFromDensity(1692.5, 1150, 2700) // 0.3500
 */
export function shareFromDensity(density: number, matrix: number, filler: number): number {
  shares({}, { matrix, filler });
  const checks = new Checks();
  const [least, most] = matrix < filler ? [matrix, filler] : [filler, matrix];
  checks.number("density", density, { least, most });
  if (matrix === filler) checks.add({ code: "same_density", path: "filler", given: filler });
  checks.done();
  return (density - matrix) / (filler - matrix);
}

/**
 * Density of a mix, kg/m3.
 *
 *     rho = phi rho_f + (1-phi) rho_m
 *
 * @param volume share of the filler by volume
 * @example mixtureDensity(0.35, 1150, 2700) // 1692.5
 */
export function mixtureDensity(volume: number, matrix: number, filler: number): number {
  shares({ volume }, { matrix, filler });
  return volume * filler + (1 - volume) * matrix;
}

/**
 * Specific heat of a mix, J/(kg K).
 *
 *     cp = w cp_f + (1-w) cp_m
 *
 * @param mass share of the filler by mass
 * @example mixtureSpecificHeat(0.5, 1800, 897) // 1348.5
 */
export function mixtureSpecificHeat(mass: number, matrix: number, filler: number): number {
  shares({ mass }, { matrix, filler });
  return mass * filler + (1 - mass) * matrix;
}

/**
 * Heat of reaction of a filled resin, J per kg of the whole.
 *
 *     heat = (1-w) heat_resin
 *
 * @param mass share of the filler by mass, 0 to 1
 * @param resin J/kg of resin and hardener
 * @throws InputError when an input is out of range
 * @example dilutedHeat(0.56, 480e3) // 211200
 */
export function dilutedHeat(mass: number, resin: number): number {
  shares({ mass }, {});
  const checks = new Checks();
  checks.number("resin", resin, { least: 0 });
  checks.done();
  return (1 - mass) * resin;
}

/**
 * Rise of temperature by full cure without heat loss, K.
 *
 *     rise = (1-w) heat / ((1-w) cp_m + w cp_f)
 *
 * @param mass share of the filler by mass, 0 to 1
 * @param heat J/kg of resin and hardener
 * @param matrix J/(kg K) of resin and hardener
 * @param filler J/(kg K)
 * @example adiabaticRise(0.5, 350e3, 1800, 897) // 129.7738228
 */
export function adiabaticRise(mass: number, heat: number, matrix: number, filler: number): number {
  return dilutedHeat(mass, heat) / mixtureSpecificHeat(mass, matrix, filler);
}
