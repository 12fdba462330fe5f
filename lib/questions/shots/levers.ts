/** What makes more baits an hour: each lever is pulled, and the settled shot looked for again. */

import type { Lever } from "../../answers/answer.ts";
import type { Job, Station } from "../../job/types.ts";
import { materialNamed } from "../../materials/catalog.ts";
import { type BaitModel, barModel, standInOf } from "../../models/bait/bar.ts";
import { sectionModel } from "../../models/bait/section.ts";
import { COMPARING, type Solving } from "../../models/cooling.ts";
import { type Scenario, scenarioSurroundings } from "../../models/scenario.ts";
import {
  carriedFrom,
  cycleProblem,
  paceOf,
  type ShotLeft,
  steadyShot,
} from "../../models/shots/cycle.ts";
import { slowestStation } from "../../models/shots/slowest-station.ts";
import { type Rotation, timePerBait } from "./rotation.ts";

/** What is tried: a dip of this, s; a plate and a water back as a workshop would make them. */
const DIP = 20;
const PLATE = { thickness: 0.01, distance: 0.006, width: null, contact: 1000 } as const;
const BACK = { thickness: 0.008, distance: 0.015, width: null, contact: 1000 } as const;
/** A cycle that changes no box by more has settled, K. */
const WITHIN = 0.015;
/** Gains below this share are not worth a line. */
const LEAST_GAIN = 0.01;

/** The settled shot of a case's slowest station: of its bar, and of its section as levers compare it. */
interface SettledCase {
  readonly station: Station;
  readonly bar: ShotLeft;
  readonly section: ShotLeft;
}

/** @param near a case like it, from which the search starts */
function settledCase(scenario: Scenario, quick: boolean, near?: SettledCase): SettledCase {
  const station = slowestStation(scenario);
  const { run, limits, shot } = scenario.job;
  const pace = { ...paceOf(run, limits.demold, 1), timer: null };
  const around = scenarioSurroundings(scenario);
  const settled = (model: BaitModel, solving: Solving, from?: ShotLeft) => {
    const problem = cycleProblem(model, pace, shot.temperature, around, solving);
    return steadyShot(problem, pace, { within: WITHIN, ...(from && { from: from.left }) });
  };
  const bar = settled(barModel(scenario, standInOf(station)), {}, near?.bar);
  const section = quick ? bar : settled(sectionModel(scenario, station), COMPARING, near?.section);
  return { station, bar, section };
}

/**
 * Levers with the time for each bait that the answer has once they are pulled, s, and their gain in baits per hour; the
 * most gain per effort first.
 *
 * @param settled cooling time of the answer in its section, s; null: of the quick look
 * @param turns of the answer
 */
export function shotLevers(
  scenario: Scenario,
  settled: number | null,
  turns: readonly Rotation[],
): Lever[] {
  const quick = settled === null;
  const { job } = scenario;
  const { run, room, mold, limits } = job;
  const perBait = (molds: number): number => {
    const row = turns[Math.min(molds, turns.length) - 1];
    return row.cycle / (row.molds * mold.cavities);
  };
  const now = perBait(run.molds);
  if (!Number.isFinite(now)) return [];
  const base = settledCase(scenario, quick);
  // from sections as they are compared to those of the answer
  const finer = quick ? 1 : settled / base.section.opensAfter;
  const molds = Math.min(run.molds, turns.length);
  const timeOf = (changed: Job): number => {
    const pulled = { ...scenario, job: changed };
    const { station, bar, section } = settledCase(pulled, quick, base);
    const { factor, hotter } = carriedFrom(bar, section);
    const whole = quick ? 1 : factor * (Number.isFinite(finer) ? finer : 1);
    return timePerBait(pulled, station, { factor: whole, hotter }, molds);
  };
  const lever = (
    code: Lever["code"],
    effort: NonNullable<Lever["effort"]>,
    time: number,
    change?: Lever["change"],
  ): Lever => ({
    code,
    ...(change && { change }),
    gives: { kind: "duration", value: time },
    gain: now / time - 1,
    effort,
  });
  const aluminum = materialNamed("aluminum 6061");
  const warmer = Math.min(limits.demold + 5, 383.15);
  const levers: Lever[] = [
    lever("higher_demold", 1, timeOf({ ...job, limits: { ...limits, demold: warmer } }), {
      path: "limits.demold",
      kind: "temperature",
      to: warmer,
    }),
    lever("more_molds", 3, perBait(run.molds + 1)),
  ];
  if (room.air === "still")
    levers.push(lever("fan", 1, timeOf({ ...job, room: { ...room, air: "fan" } })));
  // what soaks up water is not cooled with it
  const { porous } = mold.material;
  if (run.bath === 0 && !porous)
    levers.push(
      lever("water_bath", 2, timeOf({ ...job, run: { ...run, bath: DIP } }), {
        path: "run.bath",
        kind: "duration",
        to: DIP,
      }),
    );
  if (!mold.back) {
    const distance = Math.min(BACK.distance, mold.wall);
    const back = { ...BACK, distance, material: materialNamed("copper"), water: 288.15 };
    // it lies behind what is in the wall already
    const behind = mold.inserts.every((plate) => plate.distance + plate.thickness <= distance);
    if (!porous && behind)
      levers.push(lever("water_back", 4, timeOf({ ...job, mold: { ...mold, back } })));
    if (mold.inserts.length === 0 && mold.wall >= PLATE.thickness + PLATE.distance) {
      const inserts = [{ ...PLATE, material: aluminum }];
      levers.push(lever("metal_insert", 4, timeOf({ ...job, mold: { ...mold, inserts } })));
    }
  }
  if (mold.material.family !== "metal")
    levers.push(
      lever("better_conductor", 4, timeOf({ ...job, mold: { ...mold, material: aluminum } })),
    );
  return levers
    .filter(({ gain }) => gain !== undefined && gain > LEAST_GAIN)
    .sort((a, b) => (b.gain ?? 0) / (b.effort ?? 1) - (a.gain ?? 0) / (a.effort ?? 1));
}
