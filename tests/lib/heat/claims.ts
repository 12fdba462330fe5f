/** What the engine says of its errors, held against much finer runs of random problems. */
import fc from "fast-check";
import {
  type Crossing,
  type HeatProblem,
  type History,
  InputError,
  simulate,
} from "../../../lib/index.ts";
import { curing, hullOf, layered, sectioned } from "./random-problems.ts";

/** An error as it is and as it is said, K or s. */
export interface Said {
  readonly off: number;
  readonly said: number;
  /** What the finer run says of its own error: no answer is blamed for that. */
  readonly unsure: number;
}

export interface Claim {
  /** The largest of the values at the wanted times and of the extremes. */
  readonly temperature: Said;
  readonly crossings: readonly Said[];
  /** Whether the values at the wanted times keep the tolerance asked, or the answer tells by how much they do not. */
  readonly isKeptOrTold: boolean;
}

/** Errors below this share of the span are those of the finer run. */
const ROUNDING = 1e-5;
/** A probe that moves by less than this share of the span is not asked for a crossing. */
const MOVES = 2e-3;

/** The same problem, asked when each probe is half-way between what it has at the first and at the last wanted time. */
function withCrossings(problem: HeatProblem, span: number): HeatProblem {
  const { tolerance: _its, ...plain } = problem;
  const { probes } = simulate(plain);
  const crossings = Object.entries(probes).flatMap(([probe, values]): Crossing[] => {
    const [first, last] = [values[0]!, values[values.length - 1]!];
    if (!(Math.abs(last - first) > MOVES * span)) return [];
    const half = 0.5 * (first + last);
    return [{ probe, ...(last < first ? { below: half } : { above: half }) }];
  });
  return { ...problem, crossings };
}

/** K/s of a probe at a time, from the trace. */
function slopeAt({ trace }: History, probe: string, time: number): number {
  const { times, probes } = trace;
  const k = Math.max(
    1,
    times.findIndex((t) => t >= time),
  );
  const values = probes[probe]!;
  return Math.abs((values[k]! - values[k - 1]!) / (times[k]! - times[k - 1]!));
}

function crossingsOf(answer: History, finer: History, least: number): Said[] {
  return answer.crossings.flatMap(({ probe, time, error }, k) => {
    const known = finer.crossings[k]!;
    // beyond its level from the start on
    if (time === null || known.time === null || known.time === 0) return [];
    const slope = slopeAt(answer, probe, time);
    // as a stage begins beyond it
    if (!(slope > 0)) return [];
    const floor = least / slope;
    const off = Math.max(Math.abs(time - known.time), floor);
    return [{ off, said: Math.max(error, floor), unsure: known.error }];
  });
}

/** Undefined where so fine a run is refused: nothing can be held against the answer then. */
function finerRun(problem: HeatProblem): History | undefined {
  try {
    return simulate(problem);
  } catch (error) {
    if (error instanceof InputError && error.problems[0]?.code === "too_many_cells")
      return undefined;
    throw error;
  }
}

function claimOf(given: HeatProblem): Claim | undefined {
  const [lowest, highest] = hullOf(given);
  const span = Math.max(1, highest - lowest);
  const problem = withCrossings(given, span);
  const answer = simulate(problem);
  const { tolerance: _its, ...plain } = problem;
  const resolution = (problem.resolution ?? 1) * (problem.block ? 3 : 6);
  // a section is not halved further than its first two grids
  const finest = problem.block ? {} : { tolerance: 1e-6, mostCells: 4000 };
  const finer = finerRun({ ...plain, resolution, ...finest });
  if (finer === undefined) return undefined;
  const least = ROUNDING * span;
  let wanted = least;
  let off = least;
  for (const [name, values] of Object.entries(answer.probes)) {
    values.forEach((T, k) => {
      wanted = Math.max(wanted, Math.abs(T - finer.probes[name]![k]!));
    });
    const { max, min } = answer.extremes[name]!;
    off = Math.max(off, Math.abs(max - finer.extremes[name]!.max));
    off = Math.max(off, Math.abs(min - finer.extremes[name]!.min));
  }
  const { gridError, timeError, asked, reached, limitedBy } = answer.effort;
  const unsure = finer.effort.gridError + finer.effort.timeError;
  const told = limitedBy === null ? 0 : reached;
  return {
    temperature: {
      off: Math.max(off, wanted),
      said: Math.max(gridError + timeError, least),
      unsure,
    },
    crossings: crossingsOf(answer, finer, least),
    isKeptOrTold: wanted <= Math.max(asked ?? 0, told, least) + unsure,
  };
}

const KINDS = {
  layers: layered,
  sections: sectioned,
  curing,
} as const;
export type Kind = keyof typeof KINDS;

/**
 * @param count of random problems, always the same ones of a seed
 * @returns of those that can be solved much finer
 */
export function claims(kind: Kind, count: number, seed = 20261128): Claim[] {
  return fc.sample(KINDS[kind], { numRuns: count, seed }).flatMap((one) => claimOf(one) ?? []);
}

export interface Held {
  /** Share of errors below what was said, and what the finer run says of its own. */
  readonly holds: number;
  /** The same, with the whole difference from the finer run laid to the answer. */
  readonly holdsAlone: number;
  /** Share where what was said is at most ten times the error. */
  readonly near: number;
  /** The same, with the error as large as it may be: the finer run does not know it better where a front is lost to both. */
  readonly nearAtMost: number;
  /** Largest error over the one that was said. */
  readonly worst: number;
}

export function heldOf(all: readonly Said[]): Held {
  const share = (good: (one: Said) => boolean) => all.filter(good).length / all.length;
  return {
    holds: share(({ off, said, unsure }) => off <= (said + unsure) * (1 + 1e-9)),
    holdsAlone: share(({ off, said }) => off <= said * (1 + 1e-9)),
    near: share(({ off, said }) => said <= 10 * off),
    nearAtMost: share(({ off, said, unsure }) => said <= 10 * (off + unsure)),
    worst: Math.max(...all.map(({ off, said, unsure }) => off / (said + unsure))),
  };
}

/** Share of problems that keep the tolerance asked, or tell. */
export const keptOf = (all: readonly Claim[]): number =>
  all.filter(({ isKeptOrTold }) => isKeptOrTold).length / all.length;
