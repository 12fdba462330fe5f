/**
 * The periodic steady state of stages that are repeated: the temperatures that one cycle leaves as it found them.
 *
 * Integrating cycle after cycle gets there slowly, since a mold keeps most of its heat from shot to shot. Here the state is solved for:
 * x = G(x), G one cycle, by Anderson acceleration on the temperatures of the cells that keep their heat.
 */
import { dot } from "../numerics/dot.ts";
import { doublesOf } from "../numerics/typed-lists.ts";
import { NoConvergence } from "../units/problem.ts";
import type { Integrator } from "./integrator.ts";
import { type LeftState, leftIn, startFrom } from "./left-state.ts";
import type { HeatProblem, History } from "./problem.ts";
import { makeRepeat, type Repeat } from "./repeat.ts";
import type { RunRecord } from "./run-record.ts";

/** How closely a cycle must repeat itself, and how long it is looked for. */
export interface PeriodicOptions {
  /** The state is found when a cycle changes no cell by more, K. Default 0.005. */
  readonly within?: number;
  /** Cycles on each grid at most. Default 60. */
  readonly most?: number;
  /** Temperatures to start from, of a problem like this one; left out: those that it starts with. */
  readonly from?: LeftState;
}

/** A cycle of stages that leaves the temperatures as it found them. */
export interface Periodic {
  /** The cycle that repeats itself. */
  readonly history: History;
  /** Cycles that were run, on all grids. */
  readonly cycles: number;
  /** Largest change of a cell over the last cycle, K: more than was asked where cycles swing by it, a step more or less by turns. */
  readonly change: number;
  /** The state that is left, for a search in a problem like this one. */
  readonly left: LeftState;
}

/** Earlier cycles that are combined. */
const DEPTH = 5;

/**
 * Finds the cycle that repeats itself, for stages of fixed times as for stages that end at a temperature.
 *
 * @param problem its stages are one cycle; what comes new in each must be named in a `refill`
 * @returns the history of that cycle
 * @throws NoConvergence when no such state is found
 * @example periodic(readSolveProblem({ frame: "slab", materials: { m: { conductivity: 1, density: 1000, specificHeat:
 * 1000 } }, layers: [{ name: "plate", material: "m", thickness: 0.02, initial: 100 }], boundary: { left: {
 * temperature: 0 }, right: { temperature: 0 } }, until: 100, times: [100], probes: { mid: [0.01] }
 * })).history.probes.mid[0] // 273.15
 * @source Anderson, J. ACM 12 (1965) 547; in the form of Walker & Ni, SIAM J. Numer. Anal. 49 (2011) 1715
 */
export function periodic(problem: HeatProblem, options: PeriodicOptions = {}): Periodic {
  return periodicOf(makeRepeat(problem), options);
}

/** The same for a repeat that was prepared, or has run a few times, already. */
export function periodicOf(repeat: Repeat, options: PeriodicOptions = {}): Periodic {
  const { within = 0.005, most = 60 } = options;
  const found: RunRecord[] = [];
  let cycles = 0;
  let change = 0;
  // the coarse grid first: its state is where the finer one starts
  for (let g = repeat.integrators.length - 1; g >= 0; g--) {
    const integrator = repeat.integrators[g];
    const coarser = repeat.integrators[g + 1];
    if (coarser) spreadOver(coarser, integrator);
    else if (options.from) startFrom(options.from, integrator, repeat.scale);
    const fresh = coarser === undefined && options.from === undefined;
    const settled = settle(integrator, repeat, fresh, within, most);
    found[g] = settled.last;
    cycles += settled.cycles;
    change = Math.max(change, settled.change);
  }
  return { history: repeat.joined(found), cycles, change, left: leftIn(repeat.integrators[0]) };
}

interface Settled {
  readonly last: RunRecord;
  readonly cycles: number;
  readonly change: number;
}

/** A state as a cycle found it, how it changed it, and by how much at most, K. */
interface Tried {
  readonly x: Float64Array;
  readonly f: Float64Array;
  readonly change: number;
}

/** A guess may go this far from the state before it, K: a mold is not linear over more, nor near its limit. */
const REACH = 40;
/** A guess that changes by this many times the best is given up. */
const WORSE = 2;
/** Cycles that are run one after the other where guesses lead nowhere. */
const MOST_PLAIN_CYCLES = 600;
/** So many cycles may be a swing, each of which changes no cell by more, K; it is back when it is as near as this part of what is asked. */
const MOST_OF_SWING = 6;
const MOST_SWING = 0.2;
const SWUNG_BACK = 0.1;

function settle(
  integrator: Integrator,
  repeat: Repeat,
  fresh: boolean,
  within: number,
  most: number,
): Settled {
  const { cellT, op } = integrator;
  const { lowest, highest } = repeat.scale;
  const start = Float64Array.from(cellT);
  let last = integrator.run(fresh);
  const kept: number[] = [];
  for (let i = 0; i < op.cells; i++) if (op.active[i] === 1) kept.push(i);
  const read = (): Float64Array => doublesOf(kept, (i) => cellT[i]);
  const write = (x: Float64Array) => {
    for (let k = 0; k < kept.length; k++) {
      x[k] = Math.min(Math.max(x[k], lowest), highest);
      cellT[kept[k]] = x[k];
    }
  };
  const cycleFrom = (x: Float64Array): Tried => {
    last = integrator.run(false);
    const f = doublesOf(read(), (v, k) => v - x[k]);
    return { x, f, change: largest(f) };
  };
  let x = read();
  // a first cycle from temperatures that were given tells as much as any other
  let first: Tried | undefined;
  if (!fresh) {
    const from = doublesOf(kept, (i) => start[i]);
    const f = doublesOf(x, (v, k) => v - from[k]);
    first = { x: from, f, change: largest(f) };
  }
  let best: Tried | undefined;
  let tried: Tried[] = [];
  let reach = REACH;
  let cycle = 1;
  for (; cycle <= most; cycle++) {
    const now = first ?? cycleFrom(x);
    // a state near by changes little, too, where a mold settles slowly: one guess at least is made from it
    if (now !== first && now.change < within)
      return { last, cycles: cycle + (fresh ? 1 : 0), change: now.change };
    first = undefined;
    if (best && tried.length > 0 && now.change > WORSE * best.change) {
      // too far: on from the best state as marching would go, and less boldly
      reach = Math.max(reach / 3, best.change);
      tried = [];
      x = doublesOf(best.x, (v, k) => v + best!.f[k]);
    } else {
      // where marching on from the best is worse as well, steps fall otherwise there, and it was better by luck
      if (!best || tried.length === 0 || now.change < best.change) best = now;
      reach = Math.min(1.5 * reach, REACH);
      tried = [...tried, now].slice(-DEPTH - 1);
      x = nearer(now.x, combined(tried), Math.max(reach, now.change));
    }
    write(x);
  }
  x = doublesOf(best!.x, (v, k) => v + best!.f[k]);
  write(x);
  const marched: Tried[] = [];
  for (; cycle <= most + MOST_PLAIN_CYCLES; cycle++) {
    const now = cycleFrom(x);
    marched.unshift(now);
    if (now.change < within || swings(marched, within))
      return { last, cycles: cycle + 1, change: now.change };
    x = read();
  }
  throw new NoConvergence("periodic state", last.end, cycle, within);
}

/**
 * Whether the last few cycles led back to where they began, with little between: a step more or less in a cycle, by turns, and
 * none of them is nearer to the truth. A slow drift adds up and is none.
 *
 * @param marched cycles run one after the other, the last one first
 */
function swings(marched: readonly Tried[], within: number): boolean {
  const few = marched.slice(0, MOST_OF_SWING);
  if (few.some(({ change }) => change > MOST_SWING)) return false;
  const sum = new Float64Array(few[0].f.length);
  return few.some(({ f }, i) => {
    for (let k = 0; k < sum.length; k++) sum[k] += f[k];
    return i > 0 && largest(sum) < SWUNG_BACK * within;
  });
}

function largest(f: Float64Array): number {
  let most = 0;
  for (let k = 0; k < f.length; k++) most = Math.max(most, Math.abs(f[k]));
  return most;
}

/** The way from one state to another, cut short where it goes further than `reach`, K. */
function nearer(from: Float64Array, to: Float64Array, reach: number): Float64Array {
  const far = largest(doublesOf(to, (v, k) => v - from[k]));
  const share = far > reach ? reach / far : 1;
  return doublesOf(from, (v, k) => v + share * (to[k] - v));
}

/** Next guess: the mix of earlier states whose mixed changes are smallest, moved on by that mixed change. */
function combined(tried: readonly Tried[]): Float64Array {
  const xs = tried.map((one) => one.x);
  const fs = tried.map((one) => one.f);
  const now = xs.length - 1;
  const x = xs[now];
  const f = fs[now];
  const next = doublesOf(x, (v, k) => v + f[k]);
  if (now === 0) return next;
  const dF = Array.from({ length: now }, (_, j) => doublesOf(f, (v, k) => v - fs[j][k]));
  const weights = leastSquares(dF, f);
  for (let j = 0; j < now; j++)
    for (let k = 0; k < next.length; k++) next[k] -= weights[j] * (x[k] - xs[j][k] + dF[j][k]);
  return next;
}

/** Weights w for which |f - sum w_j columns_j| is smallest: Gram-Schmidt, columns that bring nothing new left out. */
function leastSquares(columns: readonly Float64Array[], f: Float64Array): Float64Array {
  const m = columns.length;
  const q: Float64Array[] = [];
  const R = new Float64Array(m * m);
  const b = new Float64Array(m);
  // the newest first: the oldest is the one to be left out
  const order = columns.map((_, j) => m - 1 - j);
  order.forEach((j, c) => {
    const v = columns[j].slice();
    const size = norm(v);
    for (let turn = 0; turn < 2; turn++)
      for (let p = 0; p < c; p++) {
        const r = dot(q[p], v);
        R[p * m + c] += r;
        for (let k = 0; k < v.length; k++) v[k] -= r * q[p][k];
      }
    const left = norm(v);
    if (left > 1e-9 * size) {
      R[c * m + c] = left;
      for (let k = 0; k < v.length; k++) v[k] /= left;
    } else v.fill(0);
    q.push(v);
    b[c] = dot(v, f);
  });
  const weights = new Float64Array(m);
  for (let c = m - 1; c >= 0; c--) {
    if (R[c * m + c] === 0) continue;
    let s = b[c];
    for (let p = c + 1; p < m; p++) s -= R[c * m + p] * weights[order[p]];
    weights[order[c]] = s / R[c * m + c];
  }
  return weights;
}

const norm = (a: Float64Array) => Math.sqrt(dot(a, a));

/** Temperatures of a coarse grid on the finer one, whose cells are its cells cut in two along each axis. */
function spreadOver(coarse: Integrator, fine: Integrator): void {
  const c = coarse.op.grid;
  const f = fine.op.grid;
  const halvesY = f.ny === c.ny ? 1 : 2;
  for (let j = 0; j < f.ny; j++)
    for (let i = 0; i < f.nx; i++)
      fine.cellT[j * f.nx + i] = coarse.cellT[Math.floor(j / halvesY) * c.nx + Math.floor(i / 2)];
}
