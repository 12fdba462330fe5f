/** What the engine says of its errors, held against much finer runs of random problems. */
import fc from "fast-check";
import { type HeatProblem, simulate } from "../../../lib/index.ts";
import { curing, hullOf, layered, sectioned } from "./random-problems.ts";

export interface Claim {
  /** Largest error of a value at a wanted time or of an extreme, K. */
  readonly off: number;
  /** What the answer says it is at most, K. */
  readonly said: number;
  /** What the finer run says of its own error, K: no answer is blamed for that. */
  readonly unsure: number;
  /** Whether the values at the wanted times keep the tolerance asked, or the answer tells by how much they do not. */
  readonly isKeptOrTold: boolean;
}

/** Errors below this share of the span are those of the finer run. */
const ROUNDING = 1e-5;

function claimOf(problem: HeatProblem): Claim {
  const answer = simulate(problem);
  const { tolerance: _its, ...plain } = problem;
  const resolution = (problem.resolution ?? 1) * (problem.block ? 3 : 6);
  // a section is not halved further than its first two grids
  const finest = problem.block ? {} : { tolerance: 1e-6, mostCells: 4000 };
  const finer = simulate({ ...plain, resolution, ...finest });
  const [lowest, highest] = hullOf(problem);
  const least = ROUNDING * Math.max(1, highest - lowest);
  let wanted = least;
  let off = least;
  for (const [name, values] of Object.entries(answer.probes)) {
    values.forEach((T, k) => {
      wanted = Math.max(wanted, Math.abs(T - finer.probes[name][k]));
    });
    const { max, min } = answer.extremes[name];
    off = Math.max(off, Math.abs(max - finer.extremes[name].max));
    off = Math.max(off, Math.abs(min - finer.extremes[name].min));
  }
  const { gridError, timeError, asked, reached, limitedBy } = answer.effort;
  const unsure = finer.effort.gridError + finer.effort.timeError;
  const told = limitedBy === null ? 0 : reached;
  return {
    off: Math.max(off, wanted),
    said: Math.max(gridError + timeError, least),
    unsure,
    isKeptOrTold: wanted <= Math.max(asked ?? 0, told, least) + unsure,
  };
}

const KINDS = {
  layers: layered,
  sections: sectioned,
  curing,
} as const;
export type Kind = keyof typeof KINDS;

/** @param count of random problems, always the same ones */
export function claims(kind: Kind, count: number): Claim[] {
  return fc.sample(KINDS[kind], { numRuns: count, seed: 20261128 }).map(claimOf);
}

export interface Held {
  /** Share of problems whose error is below what was said, and what the finer run says of its own. */
  readonly holds: number;
  /** The same, with the whole difference from the finer run laid to the answer. */
  readonly holdsAlone: number;
  /** Share of problems where what was said is at most ten times the error. */
  readonly near: number;
  /** Share of problems that keep the tolerance asked, or tell. */
  readonly kept: number;
}

export function heldOf(all: readonly Claim[]): Held {
  const share = (good: (claim: Claim) => boolean) => all.filter(good).length / all.length;
  return {
    holds: share(({ off, said, unsure }) => off <= (said + unsure) * (1 + 1e-9)),
    holdsAlone: share(({ off, said }) => off <= said * (1 + 1e-9)),
    near: share(({ off, said }) => said <= 10 * off),
    kept: share(({ isKeptOrTold }) => isKeptOrTold),
  };
}
