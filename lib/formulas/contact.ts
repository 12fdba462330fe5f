/**
 * Two thick bodies that touch: exact solutions, as a check of the full solve.
 *
 * Symbols: k W/(m K), c = rho cp J/(m3 K), e = sqrt(k c) effusivity W s^(1/2)/(m2 K), T K, t s, q W/m2.
 */
import { erf, erfc, erfcx } from "../numerics/special-functions.ts";
import { Checks } from "../units/check.ts";

/** A body so thick that its far side stays as it is while two such bodies touch. */
export interface ThickBody {
  readonly k: number;
  /** rho cp, J/(m3 K). */
  readonly c: number;
  /** At the start, K. */
  readonly T: number;
}

/**
 * sqrt(k rho cp), W s^(1/2)/(m2 K).
 *
 * @example effusivity({ k: 0.16, c: 2e6 }) // 565.7
 */
export const effusivity = (body: { readonly k: number; readonly c: number }): number =>
  Math.sqrt(body.k * body.c);

function check(a: ThickBody, b: ThickBody, more: Readonly<Record<string, number>> = {}): void {
  const checks = new Checks();
  for (const [name, body] of [
    ["a", a],
    ["b", b],
  ] as const) {
    checks.number(`${name}.k`, body.k, { above: 0 });
    checks.number(`${name}.c`, body.c, { above: 0 });
    checks.number(`${name}.T`, body.T, { above: 0 });
  }
  for (const [path, given] of Object.entries(more)) checks.number(path, given, { above: 0 });
  checks.done();
}

/**
 * Temperature of the interface right after two thick bodies touch, in K.
 *
 *     Tc = (e1 T1 + e2 T2) / (e1 + e2)
 *
 * @param a first body: k, c > 0, T in K
 * @param b second body
 * @returns K; holds while the heated depth sqrt(4 k t/c) stays inside both
 * @throws InputError when an input is not positive
 * @example contactTemperature({ k: 0.15, c: 2e6, T: 448.15 }, { k: 0.8, c: 1.9e6, T: 303.15 }) // 347.7526799
 * @source Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, 2.15
 */
export function contactTemperature(a: ThickBody, b: ThickBody): number {
  check(a, b);
  const ea = effusivity(a);
  const eb = effusivity(b);
  return (ea * a.T + eb * b.T) / (ea + eb);
}

/**
 * Heat flux from a to b through a contact, `t` after they touch, in W/m2.
 *
 *     q = h (T1 - T2) exp(g2 t) erfc(g sqrt t),   g = h (1/e1 + 1/e2)
 *
 * Perfect contact: q = (T1 - T2) e1 e2/(e1 + e2) / sqrt(pi t).
 *
 * @param h contact conductance, W/(m2 K), > 0; Infinity: perfect
 * @param t s, > 0
 * @throws InputError when an input is not positive
 * @example contactFlux({ k: 0.15, c: 2e6, T: 448.15 }, { k: 0.8, c: 1.9e6, T: 303.15 }, 400, 1) // 23958.52170
 * @source Carslaw & Jaeger 1959, 2.15, with a resistance between the bodies
 */
export function contactFlux(a: ThickBody, b: ThickBody, h: number, t: number): number {
  check(a, b, h === Number.POSITIVE_INFINITY ? { t } : { h, t });
  const ea = effusivity(a);
  const eb = effusivity(b);
  if (h === Number.POSITIVE_INFINITY)
    return ((a.T - b.T) * ea * eb) / (ea + eb) / Math.sqrt(Math.PI * t);
  const g = h * (1 / ea + 1 / eb);
  return h * (a.T - b.T) * erfcx(g * Math.sqrt(t));
}

/**
 * Heat that has passed from a to b since they touched, in J/m2.
 *
 *     E = h (T1 - T2)/g2 [ exp(g2 t) erfc(g sqrt t) - 1 + 2 g sqrt(t/pi) ]
 *
 * @throws InputError when an input is out of range
 * @example contactHeat({ k: 0.15, c: 2e6, T: 448.15 }, { k: 0.8, c: 1.9e6, T: 303.15 }, 400, 1) // 31449.67859
 * @source integral of `contactFlux`
 */
export function contactHeat(a: ThickBody, b: ThickBody, h: number, t: number): number {
  check(a, b, { h, t });
  const g = h * (1 / effusivity(a) + 1 / effusivity(b));
  const x = g * Math.sqrt(t);
  return ((h * (a.T - b.T)) / (g * g)) * (erfcx(x) - 1 + (2 * x) / Math.sqrt(Math.PI));
}

/**
 * Temperature in body a at a distance from the contact, in K. For body b, swap the two.
 *
 * @param depth from the interface into a, m, >= 0
 * @param h contact conductance, W/(m2 K); Infinity: perfect
 * @param t s, > 0
 * @throws InputError when an input is out of range
 * @example temperatureNearContact({ k: 0.15, c: 2e6, T: 448.15 }, { k: 0.8, c: 1.9e6, T: 303.15 }, 0, 400, 1) // 389.2246001
 * @source Carslaw & Jaeger 1959, 2.15
 */
export function temperatureNearContact(
  a: ThickBody,
  b: ThickBody,
  depth: number,
  h: number,
  t: number,
): number {
  check(a, b, h === Number.POSITIVE_INFINITY ? { t } : { h, t });
  const checks = new Checks();
  checks.number("depth", depth, { least: 0 });
  checks.done();
  const ea = effusivity(a);
  const eb = effusivity(b);
  const X = depth / (2 * Math.sqrt((a.k / a.c) * t));
  const reach = ((b.T - a.T) * eb) / (ea + eb);
  if (h === Number.POSITIVE_INFINITY) return a.T + reach * erfc(X);
  // erfc(X) - exp(H x + H2 a t) erfc(X + H sqrt(a t)), with H sqrt(a t) = g sqrt t
  const g = h * (1 / ea + 1 / eb) * Math.sqrt(t);
  return a.T + reach * (erfc(X) - Math.exp(-X * X) * erfcx(X + g));
}

/**
 * Temperature in a thick body whose face is suddenly held at another temperature, in K.
 *
 *     T = face + (T0 - face) erf(x / 2 sqrt(a t))
 *
 * @param body at T0; `face` K; `depth` m; `t` s
 * @throws InputError when an input is out of range
 * @example thickBodyHeld({ k: 45, c: 45 / 1.4e-5, T: 308.15 }, 523.15, 0.025, 30) // 391.6489821
 * @source Carslaw & Jaeger 1959, 2.4; example: Holman, Heat Transfer, ex. 4-2
 */
export function thickBodyHeld(body: ThickBody, face: number, depth: number, t: number): number {
  check(body, body, { face, t });
  return face + (body.T - face) * erf(depth / (2 * Math.sqrt((body.k / body.c) * t)));
}

/**
 * Temperature in a thick body whose face is suddenly heated by a constant flux, in K.
 *
 *     T = T0 + (2q/k) sqrt(a t/pi) exp(-x2/4at) - (q x/k) erfc(x/2 sqrt(a t))
 *
 * @throws InputError when an input is out of range
 * @example thickBodyHeated({ k: 45, c: 45 / 1.4e-5, T: 308.15 }, 3.2e5, 0, 30) // 472.5936732
 * @source Carslaw & Jaeger 1959, 2.9; example: Holman, Heat Transfer, ex. 4-2
 */
export function thickBodyHeated(body: ThickBody, flux: number, depth: number, t: number): number {
  check(body, body, { t });
  const at = (body.k / body.c) * t;
  return (
    body.T +
    ((2 * flux) / body.k) * Math.sqrt(at / Math.PI) * Math.exp((-depth * depth) / (4 * at)) -
    ((flux * depth) / body.k) * erfc(depth / (2 * Math.sqrt(at)))
  );
}

/**
 * Temperature in a thick body that suddenly meets air or water, in K.
 *
 *     T = T0 + (air - T0) [erfc X - exp(h x/k + h2 a t/k2) erfc(X + h sqrt(a t)/k)],   X = x/2 sqrt(a t)
 *
 * @param h W/(m2 K), > 0
 * @throws InputError when an input is out of range
 * @example thickBodyInAir({ k: 215, c: 215 / 8.4e-5, T: 473.15 }, 343.15, 525, 0.04, 3000) // 396.3116144
 * @source Carslaw & Jaeger 1959, 2.7; example: Holman, Heat Transfer, ex. 4-5
 */
export function thickBodyInAir(
  body: ThickBody,
  air: number,
  h: number,
  depth: number,
  t: number,
): number {
  check(body, body, { air, h, t });
  const root = Math.sqrt((body.k / body.c) * t);
  const X = depth / (2 * root);
  return body.T + (air - body.T) * (erfc(X) - Math.exp(-X * X) * erfcx(X + (h * root) / body.k));
}
