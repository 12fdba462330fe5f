/** Critical Frank-Kamenetskii number with the full Arrhenius exponent instead of its high-energy limit. */
import { integrate } from "../numerics/runge-kutta.ts";
import { Checks } from "../units/check.ts";
import type { RunawayShape } from "./runaway.ts";

const CURVES: Readonly<Record<RunawayShape, number>> = { slab: 0, cylinder: 1, sphere: 2 };

/**
 * Critical number of a body whose faces are held, for a given activation energy.
 *
 *     theta'' + (j/x) theta' + delta exp(theta/(1 + epsilon theta)) = 0,   theta(1) = 0
 *
 * @param epsilon R T0/E, 0 to 0.1; 0.04 for 60 kJ/mol at room temperature
 * @returns delta, some 10 % above the limit for epsilon 0.04, and theta of the center there
 * @throws InputError when epsilon is out of range
 * @example criticalRunawayArrhenius("slab", 0.05).delta // 0.92839998
 * @source Boddington, Gray & Harvey, Phil. Trans. R. Soc. A 270 (1971) 467 (problem; from memory)
 */
export function criticalRunawayArrhenius(
  shape: RunawayShape,
  epsilon: number,
): { readonly delta: number; readonly thetaCenter: number } {
  const checks = new Checks();
  checks.number("epsilon", epsilon, { least: 0, most: 0.1 });
  checks.done();
  const j = CURVES[shape];
  // with x scaled so that delta is 1: where theta has fallen to 0, delta = x2
  const deltaOf = (center: number): number => {
    const source = (theta: number) => Math.exp(theta / (1 + epsilon * theta));
    const x0 = 1e-3 / Math.sqrt(source(center));
    const fall = source(center) / (2 * (j + 1));
    const run = integrate({
      slope(x, [theta, slope], d) {
        d[0] = slope;
        d[1] = -source(theta) - (j * slope) / x;
      },
      from: x0,
      until: 100,
      start: [center - fall * x0 * x0, -2 * fall * x0],
      stop: (_x, [theta]) => -theta,
      relative: 1e-11,
      absolute: 1e-13,
    });
    return run.t * run.t;
  };
  // largest delta over the temperature of the center: golden section
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = 0.5;
  let high = 4;
  let a = high - golden * (high - low);
  let b = low + golden * (high - low);
  let fa = deltaOf(a);
  let fb = deltaOf(b);
  while (high - low > 1e-5) {
    if (fa > fb) {
      high = b;
      b = a;
      fb = fa;
      a = high - golden * (high - low);
      fa = deltaOf(a);
    } else {
      low = a;
      a = b;
      fa = fb;
      b = low + golden * (high - low);
      fb = deltaOf(b);
    }
  }
  return { delta: Math.max(fa, fb), thetaCenter: (low + high) / 2 };
}
