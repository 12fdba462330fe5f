/** Will a thin tail fill: seconds until plastic in it is too thick to flow on, and the preheat that buys enough. */

import type { Form } from "../../job/types.ts";
import type { StandIn } from "../../models/bait/bar.ts";
import type { Scenario } from "../../models/scenario.ts";
import { fillTemperature } from "../../models/sprue/body.ts";
import { type CoolingOptions, timeBelow, warmed } from "../../models/sprue/cooling.ts";
import { findRoot } from "../../numerics/roots.ts";

/** Time in s until a section no longer fills: its mean is too cold. Infinity when the mold is too warm for that. */
export function fillsUntil(scenario: Scenario, hollow: StandIn, options?: CoolingOptions): number {
  return timeBelow(scenario, hollow, "mean", fillTemperature(scenario.job), options).time;
}

/**
 * Mold temperature in K from which on a section stays open for a time.
 *
 * @param wanted `need` s; `start` mold temperature without preheating, `warmest` what the mold bears, K
 * @returns null when not even the warmest mold is enough; `start` when nothing is needed
 */
export function preheatFor(
  scenario: Scenario,
  hollow: StandIn,
  { need, start, warmest }: { need: number; start: number; warmest: number },
  options: CoolingOptions = {},
): number | null {
  const quick = { ...options, quick: true };
  const spare = (temperature: number) =>
    Math.log(Math.min(fillsUntil(warmed(scenario, temperature), hollow, quick), 1e6) / need);
  if (spare(start) >= 0) return start;
  if (!(warmest > start) || spare(warmest) < 0) return null;
  return findRoot(spare, start, warmest, 0.05);
}

/** Until when a sheet or bar of one thickness fills. */
export interface FillRow {
  readonly thickness: number; // m
  readonly form: Form;
  /** s, one for each mold temperature. */
  readonly until: readonly number[];
}

/** Until when thin parts fill, by thickness and mold temperature. */
export interface FillTable {
  readonly moldTemperature: readonly number[]; // K
  readonly rows: readonly FillRow[];
}

/** 5, 20, 45 and 65 degC. */
const FILL_MOLDS: readonly number[] = [278.15, 293.15, 318.15, 338.15];
/** m. */
export const FILL_SHEETS: readonly number[] = [1e-3, 1.5e-3, 2e-3, 3e-3];

/** Seconds to fill by thickness and mold temperature. */
export function fillTable(
  scenario: Scenario,
  hollows: readonly StandIn[],
  options?: CoolingOptions,
): FillTable {
  return {
    moldTemperature: FILL_MOLDS,
    rows: hollows.map((hollow) => ({
      form: hollow.form,
      thickness: hollow.across,
      until: FILL_MOLDS.map((temperature) =>
        fillsUntil(warmed(scenario, temperature), hollow, options),
      ),
    })),
  };
}
