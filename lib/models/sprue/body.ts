/** What the questions of feeding take of a job: its hollows, their volumes, the temperatures that count. */

import type { Job, Station } from "../../job/types.ts";
import { stationArea } from "../../shape/station-outline.ts";
import { type StandIn, setTemperature, standInOf } from "../bait/bar.ts";

/** A section that is colder on average is too thick to flow on: a guess, K above the set temperature. */
const FILLS_ABOVE_SET = 10;

/** A section whose mean is colder no longer fills, K. */
export function fillTemperature(job: Job): number {
  return job.limits.fill ?? setTemperature(job) + FILLS_ABOVE_SET;
}

/** Sides of a gate from this ratio on are a sheet. */
const FLAT_FROM = 3;

/** The bar or sheet that stands for the gate, as if it were long. */
export function gateHollow({ gate }: Job["sprue"]): StandIn {
  const { width, height } = gate;
  const flat = Math.max(width, height) > FLAT_FROM * Math.min(width, height);
  return standInOf({ name: "gate", at: 0, form: flat ? "flat" : "round", width, height });
}

/** The widest sprue that can be had: what the gate spot allows, and no wider than the bait. */
export function widestSprue({ sprue, bait }: Job): number {
  return Math.min(sprue.widest, bait.thickness);
}

/** The round bar that cools as fast as the gate. */
export function gateBar(sprue: Job["sprue"]): StandIn {
  const gate = gateHollow(sprue);
  return gate.form === "round" ? gate : { form: "round", across: slowness(gate) * 2 * FIRST_ZERO };
}

/** First zero of the Bessel function J0. */
const FIRST_ZERO = 2.404825557695773;

/** Length of the slowest mode, m, so that bars and sheets can be compared: a bar is as slow as a sheet of 0.65 its diameter. */
function slowness({ form, across }: StandIn): number {
  return form === "round" ? across / (2 * FIRST_ZERO) : across / Math.PI;
}

export interface StationPart {
  readonly name: string;
  readonly station: Station;
  readonly hollow: StandIn;
  /** Of the bait that this station stands for, m3. */
  readonly volume: number;
}

/** The stations with their volumes, each standing for the bait up to halfway to the next. */
export function stationParts({ bait }: Job): StationPart[] {
  const { stations, length } = bait;
  return stations.map((station, i) => {
    const from = i === 0 ? 0 : (stations[i - 1].at + station.at) / 2;
    const to = i === stations.length - 1 ? length : (station.at + stations[i + 1].at) / 2;
    return {
      name: station.name,
      station,
      hollow: standInOf(station),
      volume: stationArea(station) * Math.max(0, to - from),
    };
  });
}

export const fattestOf = (parts: readonly StationPart[]): StationPart =>
  parts.reduce((a, b) => (slowness(b.hollow) > slowness(a.hollow) ? b : a));
export const thinnestOf = (parts: readonly StationPart[]): StationPart =>
  parts.reduce((a, b) => (slowness(b.hollow) < slowness(a.hollow) ? b : a));
