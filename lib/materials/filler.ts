/**
 * Conductivity of a resin with filler in it, by the models of the literature.
 *
 * Symbols: km, kf conductivity of matrix and filler W/(m K); phi share of the filler by volume.
 */
import { findRoot } from "../numerics/roots.ts";
import { Checks } from "../units/check.ts";

/** What is in the mix. */
export interface Filled {
  /** W/(m K), > 0. */
  readonly matrix: number;
  readonly filler: number;
  /** By volume, 0 to 1. */
  readonly share: number;
}

function check(mix: Filled): Checks {
  const checks = new Checks();
  checks.number("matrix", mix.matrix, { above: 0 });
  checks.number("filler", mix.filler, { above: 0 });
  checks.number("share", mix.share, { least: 0, most: 1 });
  return checks;
}

/**
 * Layers across the heat flow: the lowest that any arrangement can give.
 *
 *     1/k = phi/kf + (1-phi)/km
 *
 * @throws InputError when an input is out of range
 * @example seriesConductivity({ matrix: 0.2, filler: 237, share: 0.3 }) // 0.2856109906
 * @source Wiener, Abh. Sächs. Akad. Wiss. 32 (1912) 509
 */
export function seriesConductivity(mix: Filled): number {
  check(mix).done();
  return 1 / (mix.share / mix.filler + (1 - mix.share) / mix.matrix);
}

/**
 * Layers along the heat flow: the highest that any arrangement can give; far off for powder.
 *
 *     k = phi kf + (1-phi) km
 *
 * @throws InputError when an input is out of range
 * @example parallelConductivity({ matrix: 0.2, filler: 237, share: 0.1 }) // 23.88
 * @source Wiener 1912
 */
export function parallelConductivity(mix: Filled): number {
  check(mix).done();
  return mix.share * mix.filler + (1 - mix.share) * mix.matrix;
}

/**
 * Grains far apart from each other: a lower bound for powder in resin (the lower Hashin-Shtrikman bound).
 *
 *     k = km [kf + 2 km + 2 phi (kf - km)] / [kf + 2 km - phi (kf - km)]
 *
 * @throws InputError when an input is out of range
 * @example maxwellConductivity({ matrix: 0.2, filler: 237, share: 0.3 }) // 0.4562154364
 * @source Maxwell, A Treatise on Electricity and Magnetism, 1873, art. 314; bound: Hashin & Shtrikman, J. Appl. Phys. 33 (1962) 3125
 */
export function maxwellConductivity(mix: Filled): number {
  check(mix).done();
  const { matrix: km, filler: kf, share } = mix;
  return (km * (kf + 2 * km + 2 * share * (kf - km))) / (kf + 2 * km - share * (kf - km));
}

/**
 * Upper Hashin-Shtrikman bound: the filler is the connected phase. Foam-like, not powder.
 *
 * @example hashinShtrikmanUpper({ matrix: 0.2, filler: 237, share: 0.1 }) // 16.53744981
 * @source Hashin & Shtrikman, J. Appl. Phys. 33 (1962) 3125
 */
export function hashinShtrikmanUpper(mix: Filled): number {
  return maxwellConductivity({ matrix: mix.filler, filler: mix.matrix, share: 1 - mix.share });
}

/**
 * Grains of all sizes, one into the mix of the smaller ones: right for isolated metal powder up to about half the volume.
 *
 *     1 - phi = (kf - k)/(kf - km) (km/k)^(1/3)
 *
 * @throws InputError when an input is out of range
 * @example hanaiBruggeman({ matrix: 0.2, filler: 237, share: 0.3 }) // 0.5802856703
 * @source Bruggeman, Ann. Phys. 416 (1935) 636, differential form; Hanai, Kolloid-Z. 171 (1960) 23
 */
export function hanaiBruggeman(mix: Filled): number {
  check(mix).done();
  const { matrix: km, filler: kf, share } = mix;
  if (share === 0 || kf === km) return km;
  if (share === 1) return kf;
  const miss = (lnK: number) => {
    const k = Math.exp(lnK);
    return ((kf - k) / (kf - km)) * Math.cbrt(km / k) - (1 - share);
  };
  const [low, high] = km < kf ? [km, kf] : [kf, km];
  return Math.exp(findRoot(miss, Math.log(low), Math.log(high), 1e-14));
}

/**
 * Grains and matrix on the same footing: grains touch through from a third of the volume on, which oxidized powder
 * in resin does not. For comparison only.
 *
 *     phi (kf - k)/(kf + 2k) + (1-phi)(km - k)/(km + 2k) = 0
 *
 * @throws InputError when an input is out of range
 * @example symmetricBruggeman({ matrix: 0.2, filler: 237, share: 0.2 }) // 0.4962699148
 * @source Bruggeman, Ann. Phys. 416 (1935) 636, symmetric form
 */
export function symmetricBruggeman(mix: Filled): number {
  check(mix).done();
  const { matrix: km, filler: kf, share } = mix;
  // 2 k2 - b k - km kf = 0; the positive root, written so that nothing cancels when b is negative
  const b = (3 * share - 1) * kf + (2 - 3 * share) * km;
  const root = Math.sqrt(b * b + 8 * km * kf);
  return b >= 0 ? (b + root) / 4 : (2 * km * kf) / (root - b);
}

/** Grain shape and packing for Lewis & Nielsen. */
export interface Powder {
  /** 1.5 spheres, 2 cubes, about 3 irregular grains; short rods more. */
  readonly shape: number;
  /** Densest packing by volume: 0.637 spheres poured and shaken, 0.601 loose, 0.52 to 0.6 irregular powder. */
  readonly packing: number;
}

/** The model climbs without limit close to the packing: it is refused beyond this share of it. */
const NEAR_PACKING = 0.85;

/**
 * Lewis & Nielsen: grains that may not be packed closer than they can.
 *
 *     k = km (1 + A B phi)/(1 - B psi phi),   B = (kf/km - 1)/(kf/km + A),   psi = 1 + phi (1-pm)/pm2
 *
 * @param powder grain shape A and packing pm
 * @throws InputError (`filler_above_packing`) at and above the packing; (`filler_near_packing`) above 85 % of it, where
 *   the formula climbs without limit and says nothing
 * @example lewisNielsen({ matrix: 0.2, filler: 237, share: 0.3 }, { shape: 1.5, packing: 0.637 }) // 0.4672190693
 * @source Lewis & Nielsen, J. Appl. Polym. Sci. 14 (1970) 1449; Nielsen, Ind. Eng. Chem. Fundam. 13 (1974) 17
 */
export function lewisNielsen(mix: Filled, powder: Powder): number {
  const checks = check(mix);
  checks.number("shape", powder.shape, { above: 0, most: 100 });
  if (checks.number("packing", powder.packing, { above: 0, most: 1 })) {
    const most = NEAR_PACKING * powder.packing;
    if (mix.share >= powder.packing && powder.packing < 1)
      checks.add({
        code: "filler_above_packing",
        path: "share",
        given: mix.share,
        most: String(powder.packing),
      });
    else if (mix.share > most && powder.packing < 1)
      checks.add({
        code: "filler_near_packing",
        path: "share",
        given: mix.share,
        most: most.toPrecision(3),
      });
  }
  checks.done();
  const { matrix: km, filler: kf, share } = mix;
  const { shape: A, packing } = powder;
  const B = (kf / km - 1) / (kf / km + A);
  const psi = 1 + ((1 - packing) / (packing * packing)) * share;
  return (km * (1 + A * B * share)) / (1 - B * psi * share);
}

/**
 * Grains with a skin that hinders the heat: oxide, poor wetting. Maxwell with a conductance at the grain surface.
 *
 *     k = km [2 (g - b - 1) phi + g + 2b + 2] / [(1 - g + b) phi + g + 2b + 2],   g = kf/km, b = kf/(r h)
 *
 * @param skin grain radius m and conductance of its surface W/(m2 K)
 * @throws InputError when an input is out of range
 * @example hasselmanJohnson({ matrix: 0.2, filler: 237, share: 0.3 }, { radius: 25e-6, conductance: 1e7 }) // 0.4553409648
 * @source Hasselman & Johnson, J. Compos. Mater. 21 (1987) 508 (equation from memory)
 */
export function hasselmanJohnson(
  mix: Filled,
  skin: { readonly radius: number; readonly conductance: number },
): number {
  const checks = check(mix);
  checks.number("radius", skin.radius, { above: 0 });
  checks.number("conductance", skin.conductance, { above: 0 });
  checks.done();
  const g = mix.filler / mix.matrix;
  const b = mix.filler / (skin.radius * skin.conductance);
  const far = g + 2 * b + 2;
  return (mix.matrix * (2 * (g - b - 1) * mix.share + far)) / ((1 - g + b) * mix.share + far);
}

/**
 * Conductivity to reckon with for metal powder in resin: a band, since the models differ by a third.
 *
 * Low: the smaller of Hanai-Bruggeman and Lewis-Nielsen with spheres; high: the largest of these and Lewis-Nielsen with
 * irregular grains. `value` is the mean of the band.
 *
 * @param mix share up to 0.54 (85 % of a packing of 0.637)
 * @returns W/(m K); measured values of filled epoxies scatter as widely, so a plate test of the own mix is worth it
 * @throws InputError when the share is at, above or near the packing
 * @example filledConductivity({ matrix: 0.2, filler: 205, share: 0.4 }).low // 0.6978
 * @source Hanai-Bruggeman and Lewis-Nielsen as above; the choice of the band is ours
 */
export function filledConductivity(mix: Filled): {
  readonly value: number;
  readonly low: number;
  readonly high: number;
} {
  const spheres = lewisNielsen(mix, { shape: 1.5, packing: 0.637 });
  const grains = lewisNielsen(mix, { shape: 3, packing: 0.637 });
  const sizes = hanaiBruggeman(mix);
  const low = Math.min(spheres, sizes);
  const high = Math.max(grains, sizes);
  return { value: (low + high) / 2, low, high };
}
