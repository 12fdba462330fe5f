/**
 * The handbook's answer for a plane wall, a cylinder and a sphere that cool in a fluid: full series.
 *
 * Symbols: Bi = h r/k, Fo = a t/r2, r half thickness or radius m; theta = (T - T_fluid)/(T_start - T_fluid); zeta
 * eigenvalues, C coefficients; a diffusivity m2/s.
 */
import { findRoot } from "../numerics/roots.ts";
import { besselJ0, besselJ1 } from "../numerics/special-functions.ts";
import { Checks } from "../units/check.ts";

/** Bodies whose series handbooks have. */
export type SimpleBody = "wall" | "cylinder" | "sphere";

/** The first term of a body's series: `C exp(-zeta^2 Fo)`, at its center. */
export interface Mode {
  readonly zeta: number;
  readonly C: number;
}

const HELD = Number.POSITIVE_INFINITY;
// the series is cut where a term is below 1e-16; at Fo = 0.001 that takes 60 terms
const MODES = 80;
const known = new Map<string, readonly Mode[]>();

/**
 * Eigenvalues and coefficients of a body in a fluid.
 *
 *     wall: z tan z = Bi   cylinder: z J1(z)/J0(z) = Bi   sphere: 1 - z cot z = Bi
 *
 * @param biot h r/k, > 0; Infinity: surface held
 * @param count how many, 1 to 80
 * @throws InputError when biot is not positive
 * @example modes("wall", 1, 1)[0].zeta // 0.8603335890
 * @source Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, 5.5-5.6; Carslaw & Jaeger 1959, 3.11, 7.7, 9.4
 */
export function modes(body: SimpleBody, biot: number, count = MODES): readonly Mode[] {
  const checks = new Checks();
  if (biot !== HELD) checks.number("biot", biot, { above: 0 });
  checks.number("count", count, { least: 1, most: MODES });
  checks.done();
  const key = `${body} ${biot}`;
  let list = known.get(key);
  if (list === undefined || list.length < count) {
    list = Array.from({ length: count }, (_, n) => mode(body, biot, n));
    if (known.size > 200) known.clear();
    known.set(key, list);
  }
  return list.slice(0, count);
}

function mode(body: SimpleBody, biot: number, n: number): Mode {
  if (body === "wall") {
    // z sin z = Bi cos z has one root in each (n pi, n pi + pi/2)
    const zeta =
      biot === HELD
        ? (n + 0.5) * Math.PI
        : findRoot(
            (z) => z * Math.sin(z) - biot * Math.cos(z),
            n * Math.PI,
            (n + 0.5) * Math.PI,
            1e-15,
          );
    return { zeta, C: (4 * Math.sin(zeta)) / (2 * zeta + Math.sin(2 * zeta)) };
  }
  if (body === "sphere") {
    // z cos z = (1 - Bi) sin z has one root in each (n pi, (n+1) pi)
    const low = n * Math.PI + 1e-12;
    const zeta =
      biot === HELD
        ? (n + 1) * Math.PI
        : biot === 1
          ? (n + 0.5) * Math.PI
          : findRoot(
              (z) => z * Math.cos(z) - (1 - biot) * Math.sin(z),
              n === 0 ? 1e-3 * Math.min(1, Math.sqrt(biot)) : low,
              (n + 1) * Math.PI - 1e-12,
              1e-15,
            );
    const C = (4 * (Math.sin(zeta) - zeta * Math.cos(zeta))) / (2 * zeta - Math.sin(2 * zeta));
    return { zeta, C };
  }
  // z J1 = Bi J0 has one root between a zero of J1 and the next zero of J0
  const zero0 = besselZero(besselJ0, (n + 0.75) * Math.PI);
  const zeta =
    biot === HELD
      ? zero0
      : findRoot(
          (z) => z * besselJ1(z) - biot * besselJ0(z),
          n === 0 ? 0 : besselZero(besselJ1, (n + 0.25) * Math.PI),
          zero0,
          1e-15,
        );
  const j0 = biot === HELD ? 0 : besselJ0(zeta);
  const j1 = besselJ1(zeta);
  return { zeta, C: ((2 / zeta) * j1) / (j0 * j0 + j1 * j1) };
}

/** The zero next to McMahon's first guess, which is never off by more than 0.1. */
const besselZero = (f: (x: number) => number, guess: number) =>
  findRoot(f, guess - 0.2, guess + 0.2, 1e-15);

/** Shape of a mode at x = 0 (center) to 1 (surface), and its mean over the volume. */
function shapeAt(body: SimpleBody, zeta: number, x: number): number {
  if (body === "wall") return Math.cos(zeta * x);
  if (body === "cylinder") return besselJ0(zeta * x);
  return x === 0 ? 1 : Math.sin(zeta * x) / (zeta * x);
}

function shapeMean(body: SimpleBody, zeta: number): number {
  if (body === "wall") return Math.sin(zeta) / zeta;
  if (body === "cylinder") return (2 * besselJ1(zeta)) / zeta;
  return (3 * (Math.sin(zeta) - zeta * Math.cos(zeta))) / zeta ** 3;
}

/**
 * Dimensionless temperature theta of a body that cools in a fluid: 1 at the start, 0 at the end.
 *
 *     theta = sum C_n f(zeta_n x) exp(-zeta_n2 Fo)
 *
 * @param where 0 center to 1 surface, or "mean"
 * @param fourier a t/r2, >= 0.001; below that the body is still a thick one: see `thickBodyInAir`
 * @param terms 1: the one-term formula of the charts, good to 1 % from Fo = 0.2 on
 * @throws InputError when an input is out of range
 * @example bodyTheta("cylinder", 1, 0.5, 0) // 0.5485862039
 * @source Incropera & DeWitt, 5.5-5.6
 */
export function bodyTheta(
  body: SimpleBody,
  biot: number,
  fourier: number,
  where: number | "mean",
  terms = MODES,
): number {
  const checks = new Checks();
  checks.number("fourier", fourier, { least: 0.001 });
  if (where !== "mean") checks.number("where", where, { least: 0, most: 1 });
  checks.done();
  let theta = 0;
  for (const { zeta, C } of modes(body, biot, terms)) {
    const decay = Math.exp(-zeta * zeta * fourier);
    theta += C * (where === "mean" ? shapeMean(body, zeta) : shapeAt(body, zeta, where)) * decay;
    if (decay < 1e-18) break;
  }
  return theta;
}

/**
 * Fourier number at which theta has fallen to a value: the cooling time in handbook form, t = Fo r2/a.
 *
 * @param theta (T_end - T_fluid)/(T_start - T_fluid), 0 to 1
 * @param where 0 center to 1 surface, or "mean"
 * @param terms 1: the closed one-term formula Fo = ln(C f/theta)/zeta2
 * @throws InputError when theta or biot is out of range
 * @example coolingFourier("wall", Infinity, 25 / 140, "mean", 1) * 0.004 ** 2 / 8.5e-8 // 115.4058957
 * @source Incropera & DeWitt, 5.5-5.6
 */
export function coolingFourier(
  body: SimpleBody,
  biot: number,
  theta: number,
  where: number | "mean",
  terms = MODES,
): number {
  const checks = new Checks();
  checks.number("theta", theta, { above: 0, below: 1 });
  checks.done();
  const [{ zeta, C }] = modes(body, biot, 1);
  const f = where === "mean" ? shapeMean(body, zeta) : shapeAt(body, zeta, where);
  const oneTerm = Math.log((C * f) / theta) / (zeta * zeta);
  if (terms === 1) return oneTerm;
  const miss = (fourier: number) => bodyTheta(body, biot, fourier, where, terms) - theta;
  if (miss(0.001) < 0) {
    // sooner than the series is good for
    checks.add({ code: "too_big", path: "theta", given: theta, most: String(theta + miss(0.001)) });
    checks.done();
  }
  return findRoot(miss, 0.001, Math.max(2 * oneTerm, 1), 1e-14);
}
