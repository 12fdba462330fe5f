/** One shot cooling in its mold until its hottest point is at the limit. Times s, temperatures K. */

import type { IgnoredCode } from "../answers/answer.ts";
import type { HeatProblem, History, Stage } from "../heat/problem.ts";
import { simulate } from "../heat/simulate.ts";
import type { Job, Station } from "../job/types.ts";
import type { MaterialEntry } from "../materials/entry.ts";
import { linearAt } from "../numerics/linear.ts";
import type { BaitModel } from "./bait/bar.ts";
import { faceAt, wallPeakOf } from "./wall-peak.ts";

/** Longest cooling that is looked at, s: after that the answer is "never". */
export const LONGEST_COOLING = 24 * 3600;

export interface Cooled {
  /** Until the hottest point is at the limit; Infinity when it never is. */
  readonly time: number;
  /** Hottest that the cavity face gets: `wallPeakOf`. */
  readonly wallPeak: number;
  /** As the mold is opened. */
  readonly mean: number;
  readonly skin: number;
  /** Hottest cavity face then. */
  readonly wallOpened: number;
  readonly history: History;
}

export type Solving = Partial<
  Pick<HeatProblem, "resolution" | "estimateGrid" | "tolerance" | "shouldStop" | "snapshots">
>;

/**
 * For searches and ranges: one grid only, somewhat finer, and looser steps. Times are 0.4 to 0.6 % long by the grid, less for sheets, and
 * scatter by 0.05 % around that (measured: 280 random members of seven jobs); steps half as rough change neither.
 */
export const SEARCHING: Solving = { estimateGrid: false, resolution: 1.5, tolerance: 1e-3 };

/**
 * For levers: a section on about the coarser of the two grids of an answer, to be carried over to it by what it says of the
 * job itself. The ratio is within 1 % of that of whole answers (measured: shots and demold, seven levers, three jobs).
 */
export const COMPARING: Solving = { estimateGrid: false, resolution: 0.5, tolerance: 5e-4 };

/** For ranges while a dial is turned, before the finished answer: their ends then move by 1 %, rarely 3 % (five example jobs). */
export const DRAFTING: Solving = { estimateGrid: false, resolution: 1, tolerance: 2e-3 };

/** The stage of cooling until the limit. */
export function coolingStage(limit: number): Stage {
  return { until: LONGEST_COOLING, stop: { probe: "hottest", below: limit } };
}

/** Cools a bait from the shot on. */
export function cool(model: BaitModel, limit: number, solving: Solving = {}): Cooled {
  const history = simulate({ ...model.problem, ...solving, stages: [coolingStage(limit)] });
  return cooledBy(history, limit);
}

/** What the first stage of a history says about its cooling: most ask for the time alone, and the trace need not be laid out. */
function cooledBy(history: History, limit: number): Cooled {
  const [end] = history.stageEnds;
  const atEnd = (name: string) => {
    const values = history.trace.probes[name];
    return values[values.length - 1];
  };
  const never = end >= LONGEST_COOLING * (1 - 1e-9) && atEnd("hottest") > limit;
  return {
    time: never ? Number.POSITIVE_INFINITY : end,
    get wallPeak() {
      return wallPeakOf(history.trace);
    },
    get mean() {
      return atEnd("mean");
    },
    get skin() {
      return Math.max(atEnd("skin"), history.trace.probes["skin above"] ? atEnd("skin above") : 0);
    },
    get wallOpened() {
      const { times } = history.trace;
      return faceAt(history.trace, times[times.length - 1]);
    },
    history,
  };
}

/** A course for drawing: the same times for every curve. */
export interface Course {
  readonly times: readonly number[];
  readonly curves: Readonly<Record<string, readonly number[]>>;
}

/** Points of a course. */
const POINTS = 61;

/** Curves at evenly spread times from `from` to `to`, linear between the times they are known at. */
export function courseBetween(
  times: ArrayLike<number>,
  valuesOf: (name: string) => ArrayLike<number>,
  names: readonly string[],
  from: number,
  to: number,
): Course {
  const wanted = Array.from({ length: POINTS }, (_, k) => from + ((to - from) * k) / (POINTS - 1));
  const curves: Record<string, number[]> = {};
  for (const name of names) {
    const values = valuesOf(name);
    curves[name] = wanted.map((t) => linearAt(times, values, t));
  }
  return { times: wanted, curves };
}

/** Probes of a history at evenly spread times from `from` to `to`. */
export function courseOf(
  { end, trace }: History,
  names: readonly string[],
  to = end,
  from = 0,
): Course {
  return courseBetween(trace.times, (name) => trace.probes[name], names, from, to);
}

/** A flat body no wider than so many times its thickness gives heat to the block beside it in any mold (measured: 2 to 20 mm, six molds). */
const NARROW = 7;
/** From this much below its limit on a mold that is in balance with its shot takes it up only with the block beside it, K. */
const NEARLY_FULL = 10;
/** The block beside a flat body counts for shots in a row where it is this share of its width; then they take 0.03 to 0.86 of the sheet's time. */
const BESIDE = 0.1;

/** Whether a flat body's first shot opens much sooner in its block than as a sheet: by a fifth or more, as measured. */
function spreadsSideways({ bait, mold, shot, limits }: Job): boolean {
  const through = diffusivity(shot.material);
  const along = diffusivity(mold.material);
  return bait.stations.some(({ form, width, height }) => {
    const [thin, wide] = [Math.min(width, height), Math.max(width, height)];
    const carries = wide ** 2 / along < thin ** 2 / through;
    if (form !== "flat" || !(carries || wide < NARROW * thin)) return false;
    // what half the body and the wall behind it come to, once they share their heat
    const [body, wall] = [
      (heatCapacity(shot.material) * thin) / 2,
      heatCapacity(mold.material) * mold.wall,
    ];
    const start = (mold.temperature + mold.upperTemperature) / 2;
    const shared = (body * shot.temperature + wall * start) / (body + wall);
    return shared > limits.demold - NEARLY_FULL;
  });
}

/** As wide a round bar cools as slowly as this station, by their slowest modes, m. */
const slowness = ({ form, width, height }: Station): number =>
  Math.min(width, height) * (form === "flat" ? (2 * 2.4048) / Math.PI : 1);
const ABOUT_SLOWEST = 0.9;

/** J/(m3 K). */
const heatCapacity = ({ density, specificHeat }: MaterialEntry): number =>
  density.value * specificHeat.value;

/** m2/s. */
const diffusivity = (material: MaterialEntry): number =>
  material.conductivity.value / heatCapacity(material);

/**
 * What a bar or a sheet leaves out of its block.
 *
 * @param inARow the mold warms up over its shots, and the block beside a flat body with it
 */
export function ignoredByBar(job: Job, inARow: boolean): IgnoredCode[] {
  const { bait, mold } = job;
  const codes: IgnoredCode[] = ["one_dimension", "corners_of_block", "mold_ends"];
  const slowest = Math.max(...bait.stations.map(slowness));
  const isWarmedBeside = (station: Station) =>
    station.form === "flat" &&
    slowness(station) > ABOUT_SLOWEST * slowest &&
    2 * mold.wall > BESIDE * Math.max(station.width, station.height);
  if (spreadsSideways(job) || (inARow && bait.stations.some(isWarmedBeside)))
    codes.push("sides_of_block");
  if (mold.cavities > 1) codes.push("neighbor_cavities");
  return codes;
}

/** What one shot, or one after the other, leaves out of account. */
export function ignoredByShots(quick: boolean, job: Job, inARow = false): IgnoredCode[] {
  const always: IgnoredCode[] = [
    "fill_time",
    "shrink_gap",
    "constant_contact",
    "runner_heat",
    "bench_below",
    "air_drafts",
  ];
  return quick ? [...ignoredByBar(job, inARow), ...always] : always;
}
