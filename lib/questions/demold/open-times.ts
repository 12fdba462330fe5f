/** The table that is asked for most: from injection to opening, by thickness. */

import type { Form, Job } from "../../job/types.ts";
import { withBody } from "../../job/with-body.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { sectionModel } from "../../models/bait/section.ts";
import { cool, type Solving } from "../../models/cooling.ts";
import type { Scenario } from "../../models/scenario.ts";

/** A thickness with the time at which a first shot of it opens: what the job itself answers with that bait. */
export interface OpenTimeRow {
  readonly thickness: number; // m
  readonly form: Form;
  /** A quick look at a sheet does not ask how wide it is. */
  readonly width: number;
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
 * inch where they are read off a rule in `inches`. Each is looked at as the answer beside it is: the same body has one
 * time.
 */
export function openTimes(
  scenario: Scenario,
  { quick, inches, solving }: { quick: boolean; inches: boolean; solving: Solving },
): OpenTimeRow[] {
  const { sheets, bars } = inches ? INCHES : MILLIMETERS;
  const row = (thickness: number, form: Form): OpenTimeRow => {
    const job = ofThickness(scenario.job, thickness, form);
    const [station] = job.bait.stations;
    const model = quick
      ? barModel({ ...scenario, job }, standInOf(station))
      : sectionModel({ ...scenario, job }, station);
    const { time, mean, skin, wallPeak } = cool(model, job.limits.demold, solving);
    return { thickness, form, width: station.width, time, mean, skin, wallPeak };
  };
  return [...sheets.map((t) => row(t, "flat")), ...bars.map((t) => row(t, "round"))];
}

/** A sheet is as wide as a flat bait is, else as wide as one whose width nobody told. */
function ofThickness(job: Job, thickness: number, form: Form): Job {
  const { bait } = job;
  if (form === "round" || bait.form === "round") return withBody(job, { thickness, form });
  const width = Math.max(thickness, ...bait.stations.map((s) => (s.form === "flat" ? s.width : 0)));
  return withBody(job, { thickness, form, width });
}
