/** What makes more baits an hour: each lever tried on the settled shot, in one dimension. */

import type { Lever } from "../../answers/answer.ts";
import type { Job, Station } from "../../job/types.ts";
import { materialNamed } from "../../materials/catalog.ts";
import { barModel, standIn } from "../../models/bait/bar.ts";
import { SEARCHING } from "../../models/cooling.ts";
import { type Scenario, scenarioSurroundings } from "../../models/scenario.ts";
import { cycleProblem, paceOf, type ShotDone, steadyShot } from "../../models/shots/cycle.ts";

/** What is tried: a dip of this, s; a plate and a water back as a workshop would make them. */
const DIP = 20;
const PLATE = { thickness: 0.01, distance: 0.006, width: null, contact: 1000 } as const;
const BACK = { thickness: 0.008, distance: 0.015, width: null, contact: 1000 } as const;
/** Gains below this share are not worth a line. */
const LEAST_GAIN = 0.01;

/**
 * Levers with the time per bait that they give, s, and their gain in baits per hour; the most gain per effort first.
 *
 * @param perBait settled time per bait of the answer, s
 */
export function shotLevers(scenario: Scenario, station: Station, perBait: number): Lever[] {
  const { job } = scenario;
  if (!Number.isFinite(perBait)) return [];
  const { run, room, mold, limits } = job;
  let alone: ShotDone | undefined;
  /** Time per bait and mold, with the hands that `molds` molds need. */
  const timeOf = (changed: Job, molds = run.molds): number => {
    if (changed === job && alone && molds * run.hands <= alone.cycle)
      return alone.cycle / molds / mold.cavities; // as each would run alone
    const s = { ...scenario, job: changed };
    const pace = { ...paceOf(changed.run, changed.limits.demold, molds), timer: null };
    const problem = cycleProblem(
      barModel(s, standIn(station)),
      pace,
      changed.shot.temperature,
      scenarioSurroundings(s),
      SEARCHING,
    );
    const settled = steadyShot(problem, pace, { within: 0.05 });
    if (changed === job) alone ??= settled;
    return settled.cycle / molds / changed.mold.cavities;
  };
  const now = timeOf(job);
  const factor = perBait / run.molds / now;
  const lever = (
    code: Lever["code"],
    effort: NonNullable<Lever["effort"]>,
    time: number,
    change?: Lever["change"],
  ): Lever => ({
    code,
    ...(change && { change }),
    gives: { kind: "duration", value: time * factor },
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
    lever("more_molds", 3, timeOf(job, run.molds + 1)),
  ];
  if (room.air === "still")
    levers.push(lever("fan", 1, timeOf({ ...job, room: { ...room, air: "fan" } })));
  if (run.bath === 0)
    levers.push(
      lever("water_bath", 2, timeOf({ ...job, run: { ...run, bath: DIP } }), {
        path: "run.bath",
        kind: "duration",
        to: DIP,
      }),
    );
  if (!mold.back) {
    const back = { ...BACK, material: materialNamed("copper"), water: 288.15 };
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
