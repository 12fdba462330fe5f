/** What can be measured at the bench, what it takes, and how far it narrows which inputs. */

import type { LeverCode } from "../answers/answer.ts";
import type { Share } from "../confidence/spread.ts";
import type { Job } from "../job/types.ts";

interface Measurement {
  readonly code: LeverCode;
  /** Of work, s; a guess. */
  readonly takes: number;
  /** What is left of each input's width once it is measured, 0 to 1. */
  readonly leaves: Readonly<Record<string, number>>;
  /**
   * A measurement of an answer's like: how well one run repeats the next, as a share of its time; null: of inputs only. It
   * narrows whatever `leaves` names together, along the way in which they move the time.
   */
  readonly repeats: number | null;
}

/** Two baits of one shop, probe in the middle, differ by this share of their time: from memory. */
const BAITS_REPEAT = 0.05;

/** Width of a measured value over that of the value as it stands. */
function over(measured: number, given: number): number {
  return given > 0 ? Math.min(1, measured / given) : 1;
}

/**
 * Everything that could be measured to narrow an answer about this job.
 *
 * @param isCast false: the mold is yet to be poured, and only its room is there
 */
export function measurements({ uncertainty: u }: Job, isCast = true): Measurement[] {
  const of = (code: LeverCode, minutes: number, leaves: Measurement["leaves"]): Measurement => ({
    code,
    takes: minutes * 60,
    leaves,
    repeats: null,
  });
  return [
    of("measure_thickness", 2, { "bait.thickness": over(0.0003, u.thickness) }),
    of("more_stations", 5, { "bait.stations": 0.3 }),
    of("measure_shot", 2, {
      "shot.temperature": over(2, u.shotTemperature),
      "layer.temperature": over(2, u.shotTemperature),
      "layer.second.temperature": over(2, u.shotTemperature),
      "cup.heats": over(2, u.shotTemperature),
    }),
    of(isCast ? "measure_mold" : "measure_room", 2, {
      "mold.temperature": over(3, u.moldTemperature),
      "room.temperature": over(1, u.roomTemperature),
    }),
    of("measure_conductivity", 30, {
      "mold.material.conductivity": 0.7,
      "mold.material.filler": 0.3,
      "pour.material": 0.5,
    }),
    of("measure_set", 20, { "shot.material.setTemperature": 0.4, "limits.set": 0.6 }),
    of("weigh_baits", 5, {
      "shot.material.expansion": 0.5,
      "shot.material.density": 0.3,
    }),
    of("time_the_fall", 5, { "swim.drag": 0.3 }),
    of("measure_yellowing", 40, { "cup.yellowed": 0.6, "shot.material.degradationEnergy": 0.8 }),
    of("peel_test", 45, {
      "shot.material.bondTemperature": 0.4,
      "shot.material.healingTime": 0.6,
    }),
    of("measure_pot_life", 45, {
      "pour.potLife": 0.4,
      "pour.thinFilm": 0.8,
      "pour.peakExotherm": 0.7,
      "pour.speed": 0.4,
      "pour.energy": 0.8,
      "pour.heat": 0.7,
    }),
    {
      code: "log_one_bait",
      takes: 15 * 60,
      leaves: {
        "bait.thickness": 1,
        "shot.temperature": 1,
        "mold.temperature": 1,
        "room.temperature": 1,
        "shot.material.conductivity": 1,
        "shot.material.specificHeat": 1,
        "mold.material.conductivity": 1,
        "mold.material.filler": 1,
        "mold.contact": 1,
        air: 1,
      },
      repeats: BAITS_REPEAT,
    },
  ];
}

/**
 * Width of a range that is expected after a measurement, as a share of its width now.
 *
 * @param shares of the range's inputs
 * @param deviation standard deviation of the result as a share of it: for a measurement that repeats only so well
 */
export function widthLeft(
  shares: readonly Share[],
  { leaves, repeats }: Measurement,
  deviation: number,
): number {
  let gone = 0;
  if (repeats === null) {
    for (const { name, total } of shares)
      if (Object.hasOwn(leaves, name)) gone += total * (1 - leaves[name] ** 2);
  } else {
    // what the logged time tells of a combination of inputs: all of their common part but what doesn't repeat
    const seen = shares.reduce(
      (sum, { name, slope }) => (Object.hasOwn(leaves, name) ? sum + slope * slope : sum),
      0,
    );
    const scatter = deviation > 0 ? (repeats / deviation) ** 2 : 1;
    gone = seen > 0 ? (seen * seen) / (seen + scatter) : 0;
  }
  return Math.sqrt(Math.max(0, 1 - Math.min(1, gone)));
}
