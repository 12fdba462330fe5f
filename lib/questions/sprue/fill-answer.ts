/** Whether the thinnest station fills, as part of the answer about the sprue. */
import type { Quantified } from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import { barModel, type StandIn, setTemperature } from "../../models/bait/bar.ts";
import { cool, SEARCHING } from "../../models/cooling.ts";
import type { Scenario } from "../../models/scenario.ts";
import {
  fattestOf,
  fillTemperature,
  type StationPart,
  stationParts,
} from "../../models/sprue/body.ts";
import { type CoolingOptions, warmed } from "../../models/sprue/cooling.ts";
import { meanOfHalves } from "../../models/start.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { FILL_SHEETS, type FillTable, fillTable, preheatFor } from "./fill.ts";

/** Whether the thinnest part fills before it is cold. */
export interface FillAnswer {
  /** The thinnest station. */
  readonly station: string;
  /** s; later than that it no longer fills. */
  readonly until: Quantified;
  /** Time that the job takes to fill, s. */
  readonly need: number;
  readonly fills: "surely" | "perhaps" | "hardly";
  /** Mold temperature that most likely buys half as much time again as is needed, K; null: it is as warm as that, or does not bear it. */
  readonly preheat: number | null;
  /** The fattest station can be opened after this, in the mold as it is and preheated, s. */
  readonly opensAt: number;
  readonly opensPreheated: number | null;
  /** A section that is colder on average no longer fills, K: a guess unless it was set. */
  readonly below: number;
  readonly table: FillTable;
}

/** What the mold bears at most while it is preheated, K. */
function warmestMold(job: Job): number {
  const bears = wallLimitOf(job) ?? Number.POSITIVE_INFINITY;
  return Math.min(bears, setTemperature(job) - 10);
}

/** Filling should take no longer than the time there is, over this: a guess. */
const FILL_MARGIN = 1.5;
/** A mold that is cooler by less than this needs no preheating, K. */
const WARM_ENOUGH = 0.5;

/** @param until range of the time for which the station stays open to flow, s */
export function fillAnswer(
  scenario: Scenario,
  { name, hollow }: StationPart,
  until: Quantified,
  options: CoolingOptions,
): FillAnswer {
  const { job } = scenario;
  const need = job.shot.fill;
  const start = meanOfHalves(job);
  const warm = preheatFor(
    scenario,
    hollow,
    { need: need * FILL_MARGIN, start, warmest: warmestMold(job) },
    options,
  );
  const preheat = warm !== null && warm > start + WARM_ENOUGH ? warm : null;
  const sheets: StandIn[] = FILL_SHEETS.map((across) => ({ form: "flat", across }));
  const listed = sheets.some(
    ({ form, across }) => form === hollow.form && Math.abs(across / hollow.across - 1) < 1e-3,
  );
  return {
    station: name,
    until,
    need,
    fills: until.low >= need ? "surely" : until.high < need ? "hardly" : "perhaps",
    preheat,
    opensAt: opensAt(scenario),
    opensPreheated: preheat === null ? null : opensAt(warmed(scenario, preheat)),
    below: fillTemperature(job),
    table: fillTable(scenario, listed ? sheets : [...sheets, hollow], { ...options, quick: true }),
  };
}

/** Center of the fattest station down to the limit for opening, s. */
function opensAt(scenario: Scenario): number {
  const { job } = scenario;
  const { hollow } = fattestOf(stationParts(job));
  return cool(barModel(scenario, hollow), job.limits.demold, SEARCHING).time;
}
