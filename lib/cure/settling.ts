/** How far filler sinks before the resin gels. SI: m, kg/m3, Pa s; T K. */
import type { RateLaw } from "../materials/material.ts";
import { integrate } from "../numerics/runge-kutta.ts";
import { Checks } from "../units/check.ts";
import { GRAVITY } from "../units/constants.ts";
import { thickening } from "./viscosity.ts";

/** Grains in a liquid. */
export interface Suspension {
  /** Grain diameter, m. */
  readonly grain: number;
  /** Density of grain and of liquid, kg/m3. */
  readonly fillerDensity: number;
  readonly liquidDensity: number;
  /** Viscosity of the liquid alone: hindering by the other grains is counted apart. Pa s. */
  readonly viscosity: number;
  /** Filler by volume, 0 to below 0.6. */
  readonly share: number;
}

/**
 * Speed in m/s at which a cloud of grains sinks.
 *
 *     v = (rho_f - rho_l) g d2 / (18 eta) (1 - phi)^4.65
 *
 * Holds for smooth grains in slow flow (Reynolds number below about 0.3, always so in resin); flakes and needles sink
 * slower. Negative: the filler floats.
 *
 * @throws InputError when an input is out of range
 * @example settlingSpeed({ grain: 50e-6, fillerDensity: 2700, liquidDensity: 1150, viscosity: 1, share: 0.35 }) // 2.849e-7
 * @source Stokes 1851; hindering: Richardson & Zaki, Trans. Inst. Chem. Eng. 32 (1954) 35
 */
export function settlingSpeed(s: Suspension): number {
  const checks = new Checks();
  checks.number("grain", s.grain, { above: 0, most: 0.01 });
  checks.number("fillerDensity", s.fillerDensity, { above: 0, most: 3e4 });
  checks.number("liquidDensity", s.liquidDensity, { above: 0, most: 3e4 });
  checks.number("viscosity", s.viscosity, { above: 0 });
  checks.number("share", s.share, { least: 0, most: 0.7 });
  checks.done();
  const free = ((s.fillerDensity - s.liquidDensity) * GRAVITY * s.grain ** 2) / (18 * s.viscosity);
  return free * (1 - s.share) ** 4.65;
}

/** How far filler has settled by the time the resin gels. */
export interface Settled {
  /** Thickness of clear resin on top when it gels (below, when the filler floats: negative), m. */
  readonly depth: number;
  /** s. */
  readonly gelTime: number;
}

/**
 * Thickness of the clear layer that filler leaves behind until the resin gels, in m.
 *
 *     depth = int v0 / thickening(a) dt,   da/dt = rate(a, T)
 *
 * One temperature throughout; a pour that warms itself gels sooner but is also thinner at first.
 *
 * @param suspension at the temperature T, with the viscosity of the fresh liquid there
 * @param gel cure at the gel point
 * @param T K
 * @returns null when the resin never gels at T
 * @throws InputError when an input is out of range
 * @example settledAtGel({ grain: 20e-6, fillerDensity: 2700, liquidDensity: 1100, viscosity: 1, share: 0.2 },
 * makeRateLaw({ law: "nth-order", A: 1e6, E: 6e4, n: 1 }), 0.6, 298).depth // 0.00106
 */
export function settledAtGel(
  suspension: Suspension,
  law: RateLaw,
  gel: number,
  T: number,
  initial = 0,
): Settled | null {
  const speed = settlingSpeed(suspension);
  const checks = new Checks();
  checks.number("gel", gel, { above: 0, most: 1 });
  checks.number("T", T, { above: 0, most: 1000 });
  checks.number("initial", initial, { least: 0, below: gel });
  checks.done();
  const out = new Float64Array(3);
  let stuck = false;
  // over cure instead of time: [time, depth]
  const run = integrate({
    slope(a, _y, d) {
      law.evaluate(a, T, out);
      if (!(out[0] > 0)) stuck = true;
      d[0] = stuck ? 0 : 1 / out[0];
      const ratio = thickening(a, gel);
      d[1] = stuck || ratio === Number.POSITIVE_INFINITY ? 0 : speed / (out[0] * ratio);
    },
    from: initial,
    until: gel,
    start: [0, 0],
    relative: 1e-8,
    absolute: 1e-16,
  });
  return stuck ? null : { gelTime: run.y[0], depth: run.y[1] };
}
