/** Ranges of an answer's numbers, and what decides them. */

import type { AnswerEffort, Cause, Quantified } from "../answers/answer.ts";
import type { Range } from "../confidence/range.ts";
import { type Spreading, type SpreadOptions, spread } from "../confidence/spread.ts";
import type { Uncertain } from "../confidence/uncertain.ts";
import type { Job } from "../job/types.ts";
import { NINE_OF_TEN } from "../numerics/deviates.ts";
import type { Kind } from "../units/kinds.ts";
import { measurements, widthLeft } from "./measurements.ts";
import type { Scenario } from "./scenario.ts";
import { uncertainInputs } from "./uncertain-inputs.ts";

/** A range with its kind. */
export function quantified(range: Range, kind: Kind): Quantified {
  const { value, low, high } = range;
  return { value, low, high, kind };
}

/** The range of times of a task that also the clock and the hand blur. */
export function withClock(range: Range, { job, likelyOnly }: Scenario): Range {
  const give = likelyOnly ? 0 : job.uncertainty.time;
  const { value, low, high } = range;
  // most likely never, and in bad cases at some time
  if (!Number.isFinite(value))
    return { value, low: Number.isFinite(low) ? Math.max(0, low - give) : low, high };
  return {
    value,
    // never, even at best, stays never
    low: Number.isFinite(low) ? Math.max(0, value - Math.hypot(value - low, give)) : low,
    high: Number.isFinite(high) ? value + Math.hypot(high - value, give) : high,
  };
}

/** Ranges of a quick computation's results over the uncertain inputs of a job, all drawn together. */
export function spreadOf(
  scenario: Scenario,
  evaluate: (scenario: Scenario) => readonly number[],
  more: readonly Uncertain<Scenario>[] = [],
  options: SpreadOptions = {},
): Spreading[] {
  const uncertain = scenario.likelyOnly ? [] : [...uncertainInputs(scenario.job), ...more];
  return spread(scenario, uncertain, evaluate, options);
}

/** An input with less of the variance is not worth naming beside the first. */
const WORTH_NAMING = 0.1;
/** A measurement that leaves more of the width is none that narrows. */
const WORTH_MEASURING = 0.95;

/**
 * What makes most of a range, and the one measurement that would narrow it most.
 *
 * @param isCast false: of a pour, before there is a mold, or a bait to be logged
 */
export function causeOf({ range, shares }: Spreading, job: Job, isCast = true): Cause | null {
  const [first, ...others] = shares;
  if (!first || !(first.total > 0)) return null;
  const deviation = (range.high - range.low) / (2 * NINE_OF_TEN) / Math.abs(range.value);
  const tried = measurements(job, isCast)
    .filter(({ code }) => isCast || code !== "log_one_bait")
    .map((one) => ({
      ...one,
      left: widthLeft(shares, one, Number.isFinite(deviation) ? deviation : 1),
    }))
    .sort((a, b) => a.left - b.left);
  const [best] = tried;
  return {
    code: "input",
    name: first.name,
    measure: best.code,
    share: first.total,
    others: others
      .filter(({ total }) => total >= WORTH_NAMING)
      .map(({ name, total }) => ({ name, share: total })),
    narrows: best.left < WORTH_MEASURING ? { to: best.left, takes: best.takes } : null,
  };
}

/** Adds up the effort of several histories. */
export class EffortSum {
  cells = 0;
  steps = 0;
  energyImbalance = 0;
  add({ effort }: { readonly effort: AnswerEffort }): void {
    this.cells = Math.max(this.cells, effort.cells);
    this.steps += effort.steps;
    this.energyImbalance = Math.max(this.energyImbalance, effort.energyImbalance);
  }
  done(): AnswerEffort {
    const { cells, steps, energyImbalance } = this;
    return { cells, steps, energyImbalance };
  }
}
