/**
 * Criteria of thermal runaway from the theory of thermal explosion: a check beside the simulated peak.
 *
 * Symbols: delta Frank-Kamenetskii number, theta = E (T - T0)/(R T0^2), epsilon = R T0/E, Biot = h r/k; r half thickness
 * or radius m, k W/(m K), T K, E J/mol, q W/m3.
 */
import type { RateLaw } from "../materials/material.ts";
import { findRoot } from "../numerics/roots.ts";
import { integrate } from "../numerics/runge-kutta.ts";
import { Checks } from "../units/check.ts";
import { GAS_CONSTANT } from "../units/constants.ts";

/** Shapes whose critical Frank-Kamenetskii numbers are known: infinite slab and cylinder, sphere. */
export type RunawayShape = "slab" | "cylinder" | "sphere";

/** What the Frank-Kamenetskii number leaves out: codes of sentences. */
export const RUNAWAY_NUMBER_LEAVES_OUT = [
  "resin_is_used_up", // so a resin with little heat may pass the critical value and stay mild
  "reaction_speeds_itself_up", // taken at its fastest cure, which comes late
  "both_faces_alike", // a pour has a bed on one side and air on the other
  "start_temperature", // warm stock in a cold room
  "time", // it says whether, not when
] as const;

/** Where the steady state of a self-heating body ends. */
export interface RunawayCriterion {
  /** Critical Frank-Kamenetskii number: no steady state above it. */
  readonly delta: number;
  /** Dimensionless temperature of the center and of the face at the limit. */
  readonly thetaCenter: number;
  readonly thetaFace: number;
}

/**
 * Frank-Kamenetskii number of a reacting body.
 *
 *     delta = E q r2 / (R T2 k)
 *
 * @param body `energy` J/mol, `heatRate` W/m3 at T, `half` thickness or radius m, `conductivity` W/(m K), `T` K of
 *   the surroundings; all > 0
 * @returns a number without unit, to be held against `criticalRunaway`
 * @throws InputError when an input is not positive
 * @example runawayNumber({ energy: 60000, heatRate: 1000, half: 0.02, conductivity: 0.2, T: 298.15 }) // 0.1624
 * @source Frank-Kamenetskii, Diffusion and Heat Transfer in Chemical Kinetics, 2nd ed. 1969, chapter VI
 */
export function runawayNumber(body: {
  readonly energy: number;
  readonly heatRate: number;
  readonly half: number;
  readonly conductivity: number;
  readonly T: number;
}): number {
  const checks = new Checks();
  for (const [path, given] of Object.entries(body)) checks.number(path, given, { above: 0 });
  checks.done();
  const { energy, heatRate, half, conductivity, T } = body;
  return (energy * heatRate * half * half) / (GAS_CONSTANT * T * T * conductivity);
}

/**
 * Frank-Kamenetskii number of a pour, with the reaction taken at its fastest cure at the temperature of the room.
 *
 *     delta = (d ln rate/dT) heat rate r2 / k
 *
 * @param heat J/m3 by full cure
 * @param half half the depth when both faces cool alike; the whole depth when one side is insulated, m
 * @returns the number, and the cure at which the reaction is fastest
 * @throws InputError when an input is not positive
 * @example pourRunawayNumber(makeRateLaw({ law: "nth-order", A: 1e6, E: 6e4, n: 1 }), { heat: 3e8, half: 0.01,
 * conductivity: 0.2, T: 298 }).delta // 0.371
 */
export function pourRunawayNumber(
  law: RateLaw,
  pour: {
    readonly heat: number;
    readonly half: number;
    readonly conductivity: number;
    readonly T: number;
  },
): { readonly delta: number; readonly fastestCure: number } {
  const checks = new Checks();
  for (const [path, given] of Object.entries(pour)) checks.number(path, given, { above: 0 });
  checks.done();
  const out = new Float64Array(3);
  let fastest = 0;
  let cure = 0;
  let slope = 0;
  for (let i = 0; i < 1000; i++) {
    law.evaluate(i / 1000, pour.T, out);
    if (out[0] > fastest) {
      fastest = out[0];
      slope = out[2];
      cure = i / 1000;
    }
  }
  return {
    delta: (slope * pour.heat * pour.half * pour.half) / pour.conductivity,
    fastestCure: cure,
  };
}

/**
 * Critical Frank-Kamenetskii number of a shape that loses its heat through a film, in the limit of a high activation
 * energy.
 *
 * @param shape slab (r half the thickness), cylinder or sphere (r the radius)
 * @param biot h r/k, > 0; Infinity: faces held at the temperature of the surroundings
 * @returns delta 0.878, 2.000, 3.322 for faces held; smaller with a film
 * @throws InputError when biot is not positive
 * @example criticalRunaway("slab").delta // 0.8784576798
 * @source Frank-Kamenetskii 1969, chapter VI; with a film: Thomas, Trans. Faraday Soc. 54 (1958) 60
 */
export function criticalRunaway(
  shape: RunawayShape,
  biot = Number.POSITIVE_INFINITY,
): RunawayCriterion {
  if (!(biot > 0)) {
    const checks = new Checks();
    checks.number("biot", biot, { above: 0 });
    checks.done();
  }
  const film = 1 / biot;
  if (shape === "slab") {
    // theta0 = 2 ln cosh z + 2 z tanh z / Bi, delta = 2 z2 exp(-theta0): largest over z
    const slope = (z: number) =>
      1 / z - Math.tanh(z) - film * (Math.tanh(z) + z / Math.cosh(z) ** 2);
    const z = findRoot(slope, 1e-9, 2, 1e-15);
    const face = 2 * z * Math.tanh(z) * film;
    const center = 2 * Math.log(Math.cosh(z)) + face;
    return { delta: 2 * z * z * Math.exp(-center), thetaCenter: center, thetaFace: face };
  }
  if (shape === "cylinder") {
    // theta0 = 2 ln(1+G) + 4 G/(Bi (1+G)), delta = 8 G exp(-theta0): largest where G2 + 4 G/Bi = 1
    const G = 1 / (2 * film + Math.sqrt(1 + 4 * film * film));
    const face = (4 * G * film) / (1 + G);
    const center = 2 * Math.log(1 + G) + face;
    return { delta: 8 * G * Math.exp(-center), thetaCenter: center, thetaFace: face };
  }
  // Emden's equation phi'' + 2 phi'/x = exp(-phi); delta = x2 exp(-theta0), theta0 = phi + x phi'/Bi
  const slope = (x: number) => {
    const [phi, drop] = emden(x);
    return 2 / x - drop - film * (x * Math.exp(-phi) - drop);
  };
  const x = findRoot(slope, 1e-6, 6, 1e-14);
  const [phi, drop] = emden(x);
  const face = x * drop * film;
  return { delta: x * x * Math.exp(-phi - face), thetaCenter: phi + face, thetaFace: face };
}

/** phi and phi' of Emden's equation for a sphere at x. */
function emden(x: number): [number, number] {
  // series close to the center, where 2/x is singular
  const x0 = Math.min(1e-2, x);
  const phi0 = x0 ** 2 / 6 - x0 ** 4 / 120 + x0 ** 6 / 1890;
  const drop0 = x0 / 3 - x0 ** 3 / 30 + x0 ** 5 / 315;
  if (x <= x0) return [phi0, drop0];
  const { y } = integrate({
    slope(at, [phi, drop], d) {
      d[0] = drop;
      d[1] = Math.exp(-phi) - (2 * drop) / at;
    },
    from: x0,
    until: x,
    start: [phi0, drop0],
    relative: 1e-13,
    absolute: 1e-15,
  });
  return [y[0], y[1]];
}

/**
 * Critical number of a stirred lump (Semenov) with a finite activation energy.
 *
 *     psi = E q V / (R T0^2 h S),   critical: psi = theta exp(-theta/(1 + epsilon theta)), largest over theta
 *
 * @param epsilon R T0/E, 0 <= epsilon < 0.25; above that nothing runs away
 * @throws InputError when epsilon is out of range
 * @example criticalLump(0).psi // 0.3678794412
 * @source Semenov, Z. Phys. Chem. 48 (1928) 571
 */
export function criticalLump(epsilon: number): { readonly psi: number; readonly theta: number } {
  const checks = new Checks();
  checks.number("epsilon", epsilon, { least: 0, below: 0.25 });
  checks.done();
  // (1 - 2e - sqrt(1 - 4e)) / (2 e2), written so that nothing cancels
  const theta = 2 / (1 - 2 * epsilon + Math.sqrt(1 - 4 * epsilon));
  return { psi: theta * Math.exp(-theta / (1 + epsilon * theta)), theta };
}

/**
 * Least dimensionless adiabatic rise that can run away at all, when the reactant is used up with order n.
 *
 *     B = E rise/(R T0^2) > (1 + sqrt n)^2
 *
 * @param n order, >= 0
 * @throws InputError when an input is out of range
 * @example leastRunawayRise(1) // 4
 * @source Adler & Enig, Combustion and Flame 8 (1964) 97 (from memory)
 */
export function leastRunawayRise(n: number): number {
  const checks = new Checks();
  checks.number("n", n, { least: 0, most: 10 });
  checks.done();
  return (1 + Math.sqrt(n)) ** 2;
}

/**
 * Time in s to runaway without heat loss when nothing is used up: a quick estimate, too short by some 20 %.
 *
 *     t = R T2 / (E rise k)
 *
 * @param start `T` K, `energy` J/mol, `rise` adiabatic rise K, `rate` at the start 1/s; all > 0
 * @throws InputError when an input is out of range
 * @example zeroOrderRunaway({ T: 298.15, energy: 62000, rise: 140, rate: 1.64936e-5 }) // 5163
 * @source Townsend & Tou, Thermochim. Acta 37 (1980) 1
 */
export function zeroOrderRunaway(start: {
  readonly T: number;
  readonly energy: number;
  readonly rise: number;
  readonly rate: number;
}): number {
  const checks = new Checks();
  for (const [path, given] of Object.entries(start)) checks.number(path, given, { above: 0 });
  checks.done();
  return (GAS_CONSTANT * start.T * start.T) / (start.energy * start.rise * start.rate);
}
