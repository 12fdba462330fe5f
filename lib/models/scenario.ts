/** A job with what is not known for sure: the cases between which an answer's range is found. */

import type { LeverCode } from "../answers/answer.ts";
import type { Unsure } from "../confidence/spread.ts";
import type { Job } from "../job/types.ts";
import type { MaterialEntry, SpreadOverT } from "../materials/entry.ts";
import { type Surroundings, surroundingsOf } from "./surroundings.ts";

/** A job with its surroundings: one of the cases that an answer is worked out for. */
export interface Scenario {
  readonly job: Job;
  /** Coefficients of air and water times this. */
  readonly airFactor: number;
  /** Given instead of what the room says. */
  readonly around?: Surroundings;
}

/** The surroundings that hold for a case. */
export function scenarioSurroundings({ job, airFactor, around }: Scenario): Surroundings {
  return around ?? surroundingsOf(job, airFactor);
}

/** Contact of plastic and mold is known to a factor of this; from memory. */
const CONTACT_FACTOR = 2.5;
/** Correlations of air hold to this share. */
const AIR_SHARE = 0.2;

/** What would narrow an input's spread the most. */
const MEASURES: Readonly<Record<string, LeverCode>> = {
  "bait.thickness": "measure_thickness",
  "shot.temperature": "measure_shot",
  "layer.temperature": "measure_shot",
  "layer.second.temperature": "measure_shot",
  "mold.temperature": "measure_mold",
  "room.temperature": "measure_mold",
  "mold.contact": "log_one_bait",
  "shot.material.conductivity": "log_one_bait",
  "shot.material.specificHeat": "log_one_bait",
  "shot.material.setTemperature": "measure_set",
  "limits.set": "measure_set",
  "shot.material.expansion": "weigh_baits",
  "cup.yellowed": "measure_yellowing",
  "cup.heats": "measure_shot",
  "shot.material.degradationEnergy": "measure_yellowing",
  "shot.material.bondTemperature": "peel_test",
  "shot.material.healingTime": "peel_test",
  "mold.material.conductivity": "measure_conductivity",
  air: "measure_mold",
};

/** The measurement that would narrow this input. */
export function measurementOf(input: string): LeverCode {
  return MEASURES[input] ?? "log_one_bait";
}

/** Inputs of a shot whose spread moves every cooling time, by their paths in the job. */
export function unsureOf(job: Job): Unsure<Scenario>[] {
  const { uncertainty: u } = job;
  const share = u.materials === "measured" ? 0.5 : 1;
  const change = (
    name: string,
    width: number,
    move: (job: Job, by: number) => Job,
  ): Unsure<Scenario> => ({
    name,
    low: (s) => ({ ...s, job: move(s.job, -width) }),
    high: (s) => ({ ...s, job: move(s.job, width) }),
  });
  const material = (
    name: string,
    key: "conductivity" | "specificHeat",
    put: (job: Job, moved: (entry: MaterialEntry) => MaterialEntry) => Job,
  ): Unsure<Scenario> => {
    const to = (end: "low" | "high") => (s: Scenario) => ({
      ...s,
      job: put(s.job, (entry) => ({ ...entry, [key]: towards(entry[key], end, share) })),
    });
    return { name: `${name}.${key}`, low: to("low"), high: to("high") };
  };
  const ofShot = (j: Job, moved: (e: MaterialEntry) => MaterialEntry): Job => ({
    ...j,
    shot: { ...j.shot, material: moved(j.shot.material) },
    layer: {
      ...j.layer,
      second: { ...j.layer.second, material: moved(j.layer.second.material) },
    },
  });
  const ofMold = (j: Job, moved: (e: MaterialEntry) => MaterialEntry): Job => ({
    ...j,
    mold: { ...j.mold, material: moved(j.mold.material) },
  });
  const contact = (factor: number) => (s: Scenario) => ({
    ...s,
    job: { ...s.job, mold: { ...s.job.mold, contact: s.job.mold.contact * factor } },
  });
  const air = (factor: number) => (s: Scenario) => ({ ...s, airFactor: s.airFactor * factor });
  return [
    change("bait.thickness", u.thickness, thicker),
    change("shot.temperature", u.shotTemperature, (j, by) => ({
      ...j,
      shot: { ...j.shot, temperature: j.shot.temperature + by },
    })),
    change("mold.temperature", u.moldTemperature, (j, by) => ({
      ...j,
      mold: {
        ...j.mold,
        temperature: j.mold.temperature + by,
        upperTemperature: j.mold.upperTemperature + by,
      },
    })),
    change("room.temperature", u.roomTemperature, (j, by) => ({
      ...j,
      room: { ...j.room, temperature: j.room.temperature + by },
    })),
    material("shot.material", "conductivity", ofShot),
    material("shot.material", "specificHeat", ofShot),
    material("mold.material", "conductivity", ofMold),
    { name: "mold.contact", low: contact(1 / CONTACT_FACTOR), high: contact(CONTACT_FACTOR) },
    { name: "air", low: air(1 - AIR_SHARE), high: air(1 + AIR_SHARE) },
  ];
}

/** A property moved to an end of its spread; `share` 0.5 goes half the way. */
function towards(spread: SpreadOverT, end: "low" | "high", share: number): SpreadOverT {
  return { ...spread, value: spread.value + share * (spread[end] - spread.value) };
}

/** The job with every station thicker by this much at its thin side, m, and wider in proportion. */
function thicker(job: Job, by: number): Job {
  const { bait } = job;
  const stations = bait.stations.map((s) => {
    const thin = Math.min(s.width, s.height);
    const grown = Math.max(thin + by, thin / 4) / thin;
    return { ...s, width: s.width * grown, height: s.height * grown };
  });
  const grown = Math.max(bait.thickness + by, bait.thickness / 4) / bait.thickness;
  return { ...job, bait: { ...bait, thickness: bait.thickness * grown, stations } };
}
