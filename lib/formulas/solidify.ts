/**
 * Freezing of a half-space: exact solutions of Stefan, Neumann and Schwarz. Soft plastisol needs no latent heat; wax
 * does, and these check any solver that claims to handle it.
 *
 * Symbols: k W/(m K), c = rho cp J/(m3 K), a = k/c m2/s, L J/kg, T K, front at 2 lambda sqrt(a t).
 */
import { findRoot } from "../numerics/roots.ts";
import { erf, erfc } from "../numerics/special-functions.ts";
import { Checks } from "../units/check.ts";

const SQRT_PI = Math.sqrt(Math.PI);

/**
 * Front constant of a liquid at its melting point that freezes on a cold face.
 *
 *     lambda exp(lambda2) erf(lambda) = St/sqrt(pi),   St = c (Tm - Ts)/(rho L)
 *
 * @param stefan St, > 0
 * @throws InputError when an input is out of range
 * @example stefanRoot(1) // 0.6200626333
 * @source Stefan 1891; Carslaw & Jaeger 1959, 11.2
 */
export function stefanRoot(stefan: number): number {
  const checks = new Checks();
  checks.number("stefan", stefan, { above: 0, most: 1e6 });
  checks.done();
  const miss = (l: number) => l * Math.exp(l * l) * erf(l) - stefan / SQRT_PI;
  return findRoot(miss, 1e-9, 5, 1e-15);
}

/**
 * A liquid that freezes from a face held cold: conductivities W/(m K), heat capacities J/(m3 K),
 * temperatures K.
 */
export interface Freezing {
  /** Of solid and liquid. */
  readonly kSolid: number;
  readonly cSolid: number;
  readonly kLiquid: number;
  readonly cLiquid: number;
  /** kg/m3, the same for both. */
  readonly density: number;
  /** J/kg. */
  readonly latentHeat: number;
  readonly melting: number; // K
  /** Of the liquid at the start, K, at or above `melting`. */
  readonly liquid: number;
}

/**
 * Front constant of a superheated liquid that freezes on a face held at `face`.
 *
 *     e^(-l2)/erf l - (kl/ks) sqrt(as/al) (Ti-Tm)/(Tm-T0) e^(-l2 as/al)/erfc(l sqrt(as/al)) = l sqrt(pi) L rho/(c_s (Tm-T0))
 *
 * @param face K, below `melting`
 * @returns lambda; front at 2 lambda sqrt(a_solid t)
 * @throws InputError when an input is out of range
 * @example neumannRoot({ kSolid: 0.22, cSolid: 1.9e6, kLiquid: 0.16, cLiquid: 2e6, density: 950, latentHeat: 120000,
 * melting: 353.15, liquid: 423.15 }, 303.15) // 0.3278869601
 * @source Carslaw & Jaeger 1959, 11.2 (Neumann)
 */
export function neumannRoot(f: Freezing, face: number): number {
  checkFreezing(f, face);
  const ratio = Math.sqrt(f.kSolid / f.cSolid / (f.kLiquid / f.cLiquid));
  const span = f.melting - face;
  const heat = (SQRT_PI * f.latentHeat * f.density) / (f.cSolid * span);
  const liquid = (f.kLiquid / f.kSolid) * ratio * ((f.liquid - f.melting) / span);
  const miss = (l: number) =>
    Math.exp(-l * l) / erf(l) -
    (liquid * Math.exp(-((l * ratio) ** 2))) / erfc(l * ratio) -
    l * heat;
  return findRoot(miss, 1e-9, 5 / Math.max(1, ratio), 1e-15);
}

/**
 * Front constant and face temperature of a superheated liquid that freezes against a thick cool mold.
 *
 *     e_mold (Tw - Tb) = e_solid (Tm - Tw)/erf l, with Neumann's condition at the front
 *
 * @param mold k, c and start temperature (K) of the mold
 * @returns lambda, and the constant temperature of the face in K
 * @throws InputError when an input is out of range
 * @example schwarzRoot({ kSolid: 2, cSolid: 2e6, kLiquid: 0.6, cLiquid: 4e6, density: 1000, latentHeat: 334e3,
 * melting: 273.15, liquid: 278.15 }, { k: 50, c: 3.6e6, T: 253.15 }).lambda // 0.1720
 * @source Schwarz 1931; Carslaw & Jaeger 1959, 11.2 VI
 */
export function schwarzRoot(
  f: Freezing,
  mold: { readonly k: number; readonly c: number; readonly T: number },
): { readonly lambda: number; readonly face: number } {
  checkFreezing(f, mold.T);
  const checks = new Checks();
  checks.number("mold.k", mold.k, { above: 0 });
  checks.number("mold.c", mold.c, { above: 0 });
  checks.done();
  const eMold = Math.sqrt(mold.k * mold.c);
  const eSolid = Math.sqrt(f.kSolid * f.cSolid);
  const faceAt = (l: number) =>
    (eMold * mold.T * erf(l) + eSolid * f.melting) / (eMold * erf(l) + eSolid);
  const ratio = Math.sqrt(f.kSolid / f.cSolid / (f.kLiquid / f.cLiquid));
  const miss = (l: number) =>
    ((f.melting - faceAt(l)) * Math.exp(-l * l)) / erf(l) -
    (f.kLiquid / f.kSolid) *
      ratio *
      (f.liquid - f.melting) *
      (Math.exp(-((l * ratio) ** 2)) / erfc(l * ratio)) -
    (l * SQRT_PI * f.latentHeat * f.density) / f.cSolid;
  const lambda = findRoot(miss, 1e-9, 5 / Math.max(1, ratio), 1e-15);
  return { lambda, face: faceAt(lambda) };
}

function checkFreezing(f: Freezing, face: number): void {
  const checks = new Checks();
  for (const path of ["kSolid", "cSolid", "kLiquid", "cLiquid", "density", "latentHeat"] as const)
    checks.number(path, f[path], { above: 0 });
  checks.number("melting", f.melting, { above: face });
  checks.number("liquid", f.liquid, { least: f.melting });
  checks.number("face", face, { above: 0 });
  checks.done();
}
