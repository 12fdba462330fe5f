/** Ranges of an answer's numbers, and what decides them. */

import type { AnswerEffort, Cause, Quantified } from "../answers/answer.ts";
import type { Range } from "../confidence/range.ts";
import { type Shift, type Spreading, spread, type Unsure } from "../confidence/spread.ts";
import type { History } from "../heat/problem.ts";
import type { Kind } from "../units/kinds.ts";
import { measurementOf, type Scenario, unsureOf } from "./scenario.ts";

/** A range with its kind. */
export function quantified(range: Range, kind: Kind): Quantified {
  const { value, low, high } = range;
  return { value, low, high, kind };
}

/** The range of times of a task that also the clock and the hand blur. */
export function withClock(range: Range, give: number): Range {
  const { value, low, high } = range;
  return {
    value,
    low: Math.max(0, value - Math.hypot(value - low, give)),
    high: Number.isFinite(high) ? value + Math.hypot(high - value, give) : high,
  };
}

/** Ranges of a quick computation's results over the uncertain inputs of a job. */
export function spreadOf(
  scenario: Scenario,
  evaluate: (scenario: Scenario) => readonly number[],
  more: readonly Unsure<Scenario>[] = [],
  bothEnds = 3,
): Spreading[] {
  return spread(scenario, [...unsureOf(scenario.job), ...more], evaluate, { bothEnds });
}

/** The input that makes most of a range. */
export function causeOf(shifts: readonly Shift[]): Cause | null {
  const square = ({ low, high }: Shift) => low * low + high * high;
  const whole = shifts.reduce((sum, s) => sum + square(s), 0);
  const [first] = shifts;
  if (!first || !(whole > 0)) return null;
  const share = Number.isFinite(whole) ? square(first) / whole : 1;
  return { code: "input", name: first.name, measure: measurementOf(first.name), share };
}

/** Adds up the effort of several histories. */
export class EffortSum {
  cells = 0;
  steps = 0;
  energyImbalance = 0;
  add({ effort }: Pick<History, "effort">): void {
    this.cells = Math.max(this.cells, effort.cells);
    this.steps += effort.steps;
    this.energyImbalance = Math.max(this.energyImbalance, effort.energyImbalance);
  }
  done(): AnswerEffort {
    const { cells, steps, energyImbalance } = this;
    return { cells, steps, energyImbalance };
  }
}
