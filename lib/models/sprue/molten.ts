/** Whether plastic in the sprue still flows when the bait is cool enough to come out. */
import type { CautionCode } from "../../answers/answer.ts";
import { setTemperature } from "../bait/bar.ts";
import type { Scenario } from "../scenario.ts";
import { type CoolingOptions, timeBelow } from "./cooling.ts";

/** At the latest a sprue closes after so many times as long as it likely does (measured: 1.26 to 1.42, 3 to 25 mm in four molds at 20 and 60 degC). */
const AT_THE_LATEST = 1.45;

/** When the sprue of a shot likely has set, s after it: until then the injector feeds; 0: as it is shot; Infinity: the mold is too hot. */
export function sprueSets(
  scenario: Scenario,
  stopping: Pick<CoolingOptions, "shouldStop"> = {},
): number {
  const { job } = scenario;
  const set = setTemperature(job);
  // a shot that has set already flows nowhere
  if (!(set < job.shot.temperature)) return 0;
  const sprue = { form: "round", across: job.sprue.diameter } as const;
  const options = { ...stopping, quick: true, draft: true };
  const { time } = timeBelow(scenario, sprue, "center", set, options);
  return time;
}

/** The latest that plastic in the sprue may still flow, where it likely has set at `sets`, s after the shot. */
export const sprueMoltenUntil = (sets: number): number => AT_THE_LATEST * sets;

/**
 * Until when a mold stays closed for its sprue, s after the shot.
 *
 * @param opens the earliest that it may be opened for its bait, s after the shot
 * @returns null where the sprue has surely set by then
 */
export function heldBySprue(
  scenario: Scenario,
  opens: number,
  stopping: Pick<CoolingOptions, "shouldStop"> = {},
): number | null {
  if (opens === Number.POSITIVE_INFINITY) return null;
  const until = sprueMoltenUntil(sprueSets(scenario, stopping));
  return until > opens ? until : null;
}

/** The caution of a sprue that is thick for its bait: a mold that is opened by the bait alone is opened on molten plastic. */
export function moltenSprueCautions(
  scenario: Scenario,
  opens: number,
  stopping: Pick<CoolingOptions, "shouldStop"> = {},
): CautionCode[] {
  return heldBySprue(scenario, opens, stopping) === null ? [] : ["sprue_molten"];
}
