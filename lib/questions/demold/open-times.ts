/** The table that is asked for most: from injection to opening, by thickness. */

import type { Form } from "../../job/types.ts";
import { barModel } from "../../models/bait/bar.ts";
import { cool, type Solving } from "../../models/cooling.ts";
import type { Scenario } from "../../models/scenario.ts";

/** A thickness with the time at which a first shot of it opens, as the quick look has it. */
export interface OpenTimeRow {
  readonly thickness: number; // m
  readonly form: Form;
  /** Until the hottest point is at the limit, s; Infinity: never. */
  readonly time: number;
  /** As it is opened, K. */
  readonly mean: number;
  readonly skin: number;
  readonly wallPeak: number;
}

/** Thicknesses of the table, m: sheets (tails, fins), then round bodies. */
const MILLIMETERS = {
  sheets: [0.0015, 0.002, 0.003, 0.004, 0.006],
  bars: [0.008, 0.01, 0.012, 0.016, 0.02, 0.025, 0.03],
};
const SIXTEENTH = 0.0254 / 16;
const INCHES = {
  sheets: [1, 2, 3, 4].map((n) => n * SIXTEENTH),
  bars: [5, 6, 8, 10, 12, 14, 16, 20].map((n) => n * SIXTEENTH),
};

/**
 * Open times of sheets from 1.5 to 6 mm and round bodies from 8 to 30 mm in this mold, first shot; by sixteenths of an
 * inch where they are read off a rule in `inches`.
 */
export function openTimes(
  scenario: Scenario,
  solving: Solving = {},
  inches = false,
): OpenTimeRow[] {
  const { sheets, bars } = inches ? INCHES : MILLIMETERS;
  const row = (thickness: number, form: Form): OpenTimeRow => {
    const { time, mean, skin, wallPeak } = cool(
      barModel(scenario, { form, across: thickness }),
      scenario.job.limits.demold,
      solving,
    );
    return { thickness, form, time, mean, skin, wallPeak };
  };
  return [...sheets.map((t) => row(t, "flat")), ...bars.map((t) => row(t, "round"))];
}
