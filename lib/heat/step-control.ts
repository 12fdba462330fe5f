/**
 * The length of the next time step, from the errors of the last ones.
 */
import { NoConvergence } from "../units/problem.ts";

/** A step is refused at most this often before the run is given up. */
const MOST_TRIES = 60;
const SAFETY = 0.88;

export interface StepControl {
  /** Length to try next, s. */
  next(): number;
  /** The step was good; `share` of the allowed error that it took. */
  accept(step: number, share: number): void;
  /** Goes on with a step of this length: what drives the system has jumped. */
  restart(step: number): void;
  /**
   * The step was refused.
   *
   * @returns the shorter one to try
   * @throws NoConvergence when it was refused too often or cannot get shorter
   */
  reject(t: number, step: number, share: number): number;
}

/**
 * @param order of the method: the error of a step grows with that power of its length
 * @param first length of the first step, s
 * @example makeStepControl(4, 0.5).next() // 0.5
 */
export function makeStepControl(order: number, first: number): StepControl {
  let h = first;
  let growth = 6;
  let tries = 0;
  let lastShare = 0;
  let lastStep = 0;
  // by square roots, which take a fraction of the time of a power
  const root =
    order === 4
      ? (x: number) => Math.sqrt(Math.sqrt(x))
      : order === 2
        ? Math.sqrt
        : (x: number) => x ** (1 / order);
  const factorOf = (share: number) =>
    share < Number.POSITIVE_INFINITY && share >= 0 ? SAFETY / root(share) : 0.25;

  function accept(step: number, share: number): void {
    const factor = factorOf(share);
    // a runaway needs ever shorter steps: carry on the trend of the last two errors
    const trend =
      lastStep > 0 && share > 1e-3 ? factor * (step / lastStep) * root(lastShare / share) : factor;
    h = step * Math.min(growth, Math.max(0.3, Math.min(factor, trend)));
    lastShare = Math.max(share, 1e-3);
    lastStep = step;
    growth = 6;
    tries = 0;
  }

  function reject(t: number, step: number, share: number): number {
    tries++;
    growth = 1.5;
    const shorter = step * Math.min(0.5, Math.max(0.1, factorOf(share)));
    if (tries > MOST_TRIES || !(shorter > 1e-14 * (t + 1e-6)))
      throw new NoConvergence("time step", t, tries, share);
    return shorter;
  }

  function restart(step: number): void {
    h = step;
    lastStep = 0;
  }

  return { next: () => h, accept, restart, reject };
}
