/** Whether plastic in the sprue still flows when the bait is cool enough to come out. */
import type { CautionCode } from "../../answers/answer.ts";
import { setTemperature } from "../bait/bar.ts";
import type { Scenario } from "../scenario.ts";
import { type CoolingOptions, timeBelow } from "./cooling.ts";

/** At the latest a sprue closes after so many times as long as it likely does (measured: 1.26 to 1.42, 3 to 25 mm in four molds at 20 and 60 degC). */
const AT_THE_LATEST = 1.45;

/**
 * The caution of a sprue that is thick for its bait: a mold that is opened by the bait alone is opened on molten plastic.
 *
 * @param opens the earliest that the mold may be opened, s after the shot
 */
export function moltenSprueCautions(
  scenario: Scenario,
  opens: number,
  stopping: Pick<CoolingOptions, "shouldStop"> = {},
): CautionCode[] {
  const { job } = scenario;
  const set = setTemperature(job);
  // a shot that has set already flows nowhere
  if (!(set < job.shot.temperature) || opens === Number.POSITIVE_INFINITY) return [];
  const sprue = { form: "round", across: job.sprue.diameter } as const;
  const options = { ...stopping, quick: true, draft: true };
  const { time } = timeBelow(scenario, sprue, "center", set, options);
  return AT_THE_LATEST * time > opens ? ["sprue_molten"] : [];
}
