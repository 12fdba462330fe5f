/** Small steady formulas: fins, sleeves, contact as a thickness. SI: W, m, W/(m K), W/(m2 K), K. */
import { Checks } from "../units/check.ts";

/**
 * Heat that a round pin carries off, W.
 *
 *     long: q = sqrt(h P k A) dT      short: q = M [sinh mL + (h/mk) cosh mL] / [cosh mL + (h/mk) sinh mL]
 *
 * @param pin diameter m, k, h; `length` m, left out: long enough not to matter; all > 0
 * @param excess temperature of the root less that of the air, K
 * @throws InputError when an input is not positive
 * @example pinHeat({ diameter: 0.005, k: 398, h: 100 }, 75) // 8.309553397
 * @source Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, 3.6
 */
export function pinHeat(
  pin: {
    readonly diameter: number;
    readonly k: number;
    readonly h: number;
    readonly length?: number;
  },
  excess: number,
): number {
  const checks = new Checks();
  for (const [path, given] of Object.entries(pin)) checks.number(path, given, { above: 0 });
  checks.number("excess", excess);
  checks.done();
  const perimeter = Math.PI * pin.diameter;
  const area = (Math.PI / 4) * pin.diameter ** 2;
  const M = Math.sqrt(pin.h * perimeter * pin.k * area) * excess;
  if (pin.length === undefined) return M;
  const m = Math.sqrt((pin.h * perimeter) / (pin.k * area));
  const t = Math.tanh(m * pin.length);
  const tip = pin.h / (m * pin.k);
  return (M * (t + tip)) / (1 + tip * t);
}

/**
 * Temperature of a heated wire or pipe inside a sleeve, K.
 *
 *     T = T_air + Q [ 1/(h 2 pi r2 L) + ln(r2/r1)/(2 pi k L) ]
 *
 * @param sleeve inner and outer radius m, length m, k, h; all > 0
 * @param heat W
 * @param air K
 * @throws InputError when an input is out of range
 * @example sleeveTemperature({ inner: 0.0015, outer: 0.0035, length: 5, k: 0.15, h: 12 }, 80, 303.15) // 378.1646297
 * @source Incropera & DeWitt, 3.3; thickest useless sleeve: outer radius k/h
 */
export function sleeveTemperature(
  sleeve: {
    readonly inner: number;
    readonly outer: number;
    readonly length: number;
    readonly k: number;
    readonly h: number;
  },
  heat: number,
  air: number,
): number {
  const checks = new Checks();
  for (const [path, given] of Object.entries(sleeve)) checks.number(path, given, { above: 0 });
  checks.number("outer", sleeve.outer, { least: sleeve.inner });
  checks.number("heat", heat);
  checks.number("air", air, { above: 0 });
  checks.done();
  const { inner, outer, length, k, h } = sleeve;
  const turn = 2 * Math.PI * length;
  return air + heat * (1 / (h * turn * outer) + Math.log(outer / inner) / (turn * k));
}

/**
 * Outer radius of a sleeve at which most heat gets out, m: a thinner cover cools, a thicker one insulates.
 *
 *     r = k/h
 *
 * @throws InputError when an input is out of range
 * @example criticalRadius(0.15, 12) // 0.0125
 * @source Incropera & DeWitt, 3.3
 */
export function criticalRadius(k: number, h: number): number {
  const checks = new Checks();
  checks.number("k", k, { above: 0 });
  checks.number("h", h, { above: 0 });
  checks.done();
  return k / h;
}

/**
 * Thickness of solid that hinders the heat as much as a contact, m.
 *
 *     L = k/h
 *
 * @param k of the solid
 * @param contact conductance of the contact, W/(m2 K)
 * @example contactAsThickness(237, 11000) // 0.02154545455
 * @source Çengel & Ghajar, Heat and Mass Transfer 5e, example 3-4
 */
export function contactAsThickness(k: number, contact: number): number {
  return criticalRadius(k, contact);
}
