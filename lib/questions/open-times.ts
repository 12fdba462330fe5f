/** The table that is asked for most: from injection to opening, by thickness. */
import { barModel } from "./bait-bar.ts";
import { cool, type Solving } from "./cooling.ts";
import type { Form } from "./job-types.ts";
import type { Supposed } from "./supposed.ts";

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
const SHEETS = [0.0015, 0.002, 0.003, 0.004, 0.006];
const BARS = [0.008, 0.01, 0.012, 0.016, 0.02, 0.025, 0.03];

/** Open times of sheets from 1.5 to 6 mm and round bodies from 8 to 30 mm in this mold, first shot. */
export function openTimes(supposed: Supposed, solving: Solving = {}): OpenTimeRow[] {
  const row = (thickness: number, form: Form): OpenTimeRow => {
    const { time, mean, skin, wallPeak } = cool(
      barModel(supposed, { form, thickness }),
      supposed.job.limits.demold,
      solving,
    );
    return { thickness, form, time, mean, skin, wallPeak };
  };
  return [...SHEETS.map((t) => row(t, "flat")), ...BARS.map((t) => row(t, "round"))];
}
