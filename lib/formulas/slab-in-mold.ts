/**
 * A hot slab between two thick mold halves in perfect contact: exact, as a check of the full solve.
 *
 * Symbols: k W/(m K), c = rho cp J/(m3 K), e = sqrt(k c), a = k/c m2/s, T K, t s, L half thickness m.
 */

import { findRoot } from "../numerics/roots.ts";
import { erfc } from "../numerics/special-functions.ts";
import { Checks } from "../units/check.ts";
import { effusivity, type ThickBody } from "./contact.ts";

/** Temperature falls by this share of its span at most by the images left out. */
const SMALLEST = 1e-16;

function check(part: ThickBody, mold: ThickBody, half: number, t: number): void {
  const checks = new Checks();
  for (const [name, body] of [
    ["part", part],
    ["mold", mold],
  ] as const) {
    checks.number(`${name}.k`, body.k, { above: 0 });
    checks.number(`${name}.c`, body.c, { above: 0 });
    checks.number(`${name}.T`, body.T, { above: 0 });
  }
  checks.number("half", half, { above: 0 });
  checks.number("t", t, { above: 0 });
  checks.done();
}

/** sum of H^n term(n), cut where it no longer counts. */
function images(H: number, term: (n: number) => number): number {
  let sum = 0;
  let weight = 1;
  for (let n = 0; n < 10_000; n++) {
    const add = weight * term(n);
    sum += add;
    weight *= H;
    if (Math.abs(weight) < SMALLEST || (n > 2 && add === 0)) break;
  }
  return sum;
}

/**
 * Temperature in the slab, in K.
 *
 *     theta = 1 - 1/(1+K) sum H^n { erfc[((2n+1)L - x)/2 sqrt(a t)] + erfc[((2n+1)L + x)/2 sqrt(a t)] }
 *
 * with K = e_part/e_mold, H = (K-1)/(K+1), theta = (T - T_mold)/(T_part - T_mold).
 *
 * @param x from the middle, 0 to `half`, m
 * @param t s, > 0; holds while the heat has not reached the outside of the mold
 * @throws InputError when an input is out of range
 * @example slabInMold({ k: 0.15, c: 2e6, T: 448.15 }, { k: 0.8, c: 1.9e6, T: 303.15 }, 0.005, 0, 120) // 400.2732813
 * @source Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, 12.8 (composite by Laplace transform)
 */
export function slabInMold(
  part: ThickBody,
  mold: ThickBody,
  half: number,
  x: number,
  t: number,
): number {
  check(part, mold, half, t);
  const checks = new Checks();
  checks.number("x", x, { least: 0, most: half });
  checks.done();
  const K = effusivity(part) / effusivity(mold);
  const reach = 2 * Math.sqrt((part.k / part.c) * t);
  const sum = images((K - 1) / (K + 1), (n) => {
    const far = (2 * n + 1) * half;
    return erfc((far - x) / reach) + erfc((far + x) / reach);
  });
  return mold.T + (part.T - mold.T) * (1 - sum / (1 + K));
}

/**
 * Temperature in the mold, in K.
 *
 *     theta = K/(1+K) sum H^n { erfc[(d + 2n mu L)/2 sqrt(a_m t)] - erfc[(d + (2n+2) mu L)/2 sqrt(a_m t)] },   mu = sqrt(a_m/a_p)
 *
 * @param depth from the cavity face into the mold, m, >= 0
 * @throws InputError when an input is out of range
 * @example moldBesideSlab({ k: 0.15, c: 2e6, T: 448.15 }, { k: 0.8, c: 1.9e6, T: 303.15 }, 0.005, 0.005, 120) // 330.4889495
 * @source Carslaw & Jaeger 1959, 12.8
 */
export function moldBesideSlab(
  part: ThickBody,
  mold: ThickBody,
  half: number,
  depth: number,
  t: number,
): number {
  check(part, mold, half, t);
  const checks = new Checks();
  checks.number("depth", depth, { least: 0 });
  checks.done();
  const K = effusivity(part) / effusivity(mold);
  const own = mold.k / mold.c;
  const stretched = Math.sqrt(own / (part.k / part.c)) * half;
  const reach = 2 * Math.sqrt(own * t);
  const sum = images(
    (K - 1) / (K + 1),
    (n) =>
      erfc((depth + 2 * n * stretched) / reach) - erfc((depth + (2 * n + 2) * stretched) / reach),
  );
  return mold.T + (part.T - mold.T) * (K / (1 + K)) * sum;
}

/**
 * Time in s until the middle of the slab has cooled to `end`.
 *
 * @param end K, between the two start temperatures
 * @throws InputError when `end` lies outside
 * @example slabCoolingTime({ k: 0.15, c: 2e6, T: 448.15 }, { k: 0.8, c: 1.9e6, T: 303.15 }, 0.005, 333.15) // 700.7793292
 * @source Carslaw & Jaeger 1959, 12.8
 */
export function slabCoolingTime(
  part: ThickBody,
  mold: ThickBody,
  half: number,
  end: number,
): number {
  check(part, mold, half, 1);
  const checks = new Checks();
  checks.number("end", end, { above: mold.T, below: part.T });
  checks.done();
  const scale = (half * half * part.c) / part.k;
  const miss = (lnT: number) => slabInMold(part, mold, half, 0, Math.exp(lnT) * scale) - end;
  let late = 1;
  while (miss(Math.log(late)) > 0) late *= 4;
  return scale * Math.exp(findRoot(miss, Math.log(1e-4), Math.log(late), 1e-14));
}
