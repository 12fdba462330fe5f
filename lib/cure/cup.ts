/**
 * A cup of reacting resin as one lump with heat loss: how data sheets measure pot life and peak exotherm.
 *
 * Symbols: T K, times s, masses kg, lengths m, h W/(m2 K).
 */
import type { RateLaw } from "../materials/material.ts";
import { integrate } from "../numerics/runge-kutta.ts";
import { Checks } from "../units/check.ts";

/** Usual loss of a cup in still air, radiation included, W/(m2 K); from memory. */
export const CUP_LOSS = 10;

/** Cure at which a mix is taken to start: a law without a first term never starts from exactly 0. */
export const START = 1e-6;

interface CupShape {
  /** Diameter and filled height: equal, as in a usual mixing cup. */
  readonly diameter: number;
  readonly height: number;
  /** Side, top and bottom, m2. */
  readonly area: number;
}

/**
 * Size of a cup filled as high as it is wide.
 *
 *     d = (4 V/pi)^(1/3),   area = 1.5 pi d2
 *
 * @param mass kg, > 0
 * @param density kg/m3, > 0
 * @throws InputError when an input is out of range
 * @example cupShape(0.1, 1100).diameter // 0.04873
 */
export function cupShape(mass: number, density: number): CupShape {
  const checks = new Checks();
  checks.number("mass", mass, { above: 0, most: 1e4 });
  checks.number("density", density, { above: 0, most: 3e4 });
  checks.done();
  const diameter = Math.cbrt((4 * mass) / density / Math.PI);
  return { diameter, height: diameter, area: 1.5 * Math.PI * diameter * diameter };
}

/** Mixed resin in a cup that is left to stand. */
export interface Cup {
  readonly law: RateLaw;
  /** Heat of full cure, J/kg of mix. */
  readonly heat: number;
  /** J/(kg K). */
  readonly specificHeat: number;
  readonly density: number; // kg/m3
  readonly mass: number; // kg
  /** Temperature of the mix at the start, K. */
  readonly start: number;
  /** Temperature of the air, K. */
  readonly room: number;
  /** Heat loss all over, W/(m2 K), radiation included; 0: none. About 10 in still air. */
  readonly h: number;
  /** Cure at the start. Default 0. */
  readonly initial?: number;
}

/** What mixed resin in a cup does by itself. */
export interface CupCourse {
  /** s; null when it does not gel within the time looked at. */
  readonly gelTime: number | null;
  /** Hottest, K. */
  readonly peak: number;
  readonly peakTime: number;
  /** Cure at the end. */
  readonly cure: number;
  readonly times: readonly number[];
  readonly T: readonly number[]; // K
  readonly cures: readonly number[];
}

/**
 * Temperature and cure of a cup of resin over time.
 *
 *     cp dT/dt = heat da/dt - h area/mass (T - room),   da/dt = rate(a, T)
 *
 * One temperature for the whole cup: right for a small cup of slow resin; in a large one (Biot number h d/(4 k) over
 * about 0.3) the center gets hotter and the edge stays cooler than this.
 *
 * @param gel cure at the gel point
 * @param until looked at for this long, s
 * @returns gel time, peak and course; the peak is never above start + heat/cp (1 - initial)
 * @throws InputError when an input is out of range
 * @example cureInCup({ law: makeRateLaw({ law: "nth-order", A: 1e4, E: 4e4, n: 1 }), heat: 3e5, specificHeat: 1500,
 * density: 1100, mass: 0.1, start: 298, room: 298, h: 0 }, 0.6, 6e5).peak // 498.0
 * @source lumped balance after Semenov, Z. Phys. Chem. 48 (1928) 571
 */
export function cureInCup(cup: Cup, gel: number, until: number): CupCourse {
  const checks = new Checks();
  checks.number("heat", cup.heat, { least: 0, most: 2e6 });
  checks.number("specificHeat", cup.specificHeat, { above: 0 });
  checks.number("start", cup.start, { above: 0, most: 1000 });
  checks.number("room", cup.room, { above: 0, most: 1000 });
  checks.number("h", cup.h, { least: 0 });
  checks.number("gel", gel, { above: 0, most: 1 });
  checks.number("until", until, { above: 0 });
  checks.number("initial", cup.initial ?? 0, { least: 0, below: 1 });
  checks.done();
  const { slope } = cupBalance(cup);
  let gelTime: number | null = null;
  const initial = cup.initial ?? 0;
  const times: number[] = [];
  const T: number[] = [];
  const cures: number[] = [];
  let from = 0;
  let state: ArrayLike<number> = [cup.start, initial];
  if (initial < gel) {
    // first to the gel point, so that it is met exactly
    const run = integrate({
      slope,
      from,
      until,
      start: state,
      stop: (_t, y) => y[1] - gel,
      eachStep: note,
      ...TOLERANCE,
    });
    if (run.stopped) gelTime = run.t;
    from = run.t;
    state = run.y;
  }
  if (from < until) integrate({ slope, from, until, start: state, eachStep: note, ...TOLERANCE });

  function note(t: number, y: Float64Array): void {
    times.push(t);
    T.push(y[0]);
    cures.push(y[1]);
  }
  let hottest = 0;
  for (let i = 1; i < T.length; i++) if (T[i] > T[hottest]) hottest = i;
  return {
    gelTime,
    peak: T[hottest],
    peakTime: times[hottest],
    cure: cures[cures.length - 1],
    times,
    T,
    cures,
  };
}

const TOLERANCE = { relative: 1e-8, absolute: 1e-10 };
/** A law is fitted in many runs of which nothing but the time is kept: most within 1e-5 of it, all within 2e-4 (measured, 1900 data sheets). */
const FITTING = { relative: 1e-5, absolute: 1e-7 };

function cupBalance(cup: Cup) {
  const { area } = cupShape(cup.mass, cup.density);
  const rise = cup.heat / cup.specificHeat;
  const loss = (cup.h * area) / (cup.mass * cup.specificHeat); // 1/s
  const out = new Float64Array(3);
  const slope = (_t: number, y: Float64Array, dy: Float64Array) => {
    cup.law.evaluate(y[1], y[0], out);
    dy[1] = out[0];
    dy[0] = rise * out[0] - loss * (y[0] - cup.room);
  };
  return { slope };
}

/**
 * Time in s until a cup gels, and nothing else: for fitting.
 *
 * @returns s; null when it has not gelled by `until`
 */
export function cupGelTime(cup: Cup, gel: number, until: number): number | null {
  const { slope } = cupBalance(cup);
  const run = integrate({
    slope,
    from: 0,
    until,
    start: [cup.start, cup.initial ?? 0],
    stop: (_t, y) => y[1] - gel,
    ...FITTING,
  });
  return run.stopped ? run.t : null;
}
