/** When may the mold be opened? The hottest point of the slowest station decides. SI and K. */

import type {
  Answer,
  Cause,
  CautionCode,
  Lever,
  Quantified,
  Reason,
} from "../../answers/answer.ts";
import { movedTo, scaledTo } from "../../confidence/spread.ts";
import { touchLimit } from "../../formulas/touch.ts";
import type { Form, Job, Station } from "../../job/types.ts";
import { materialNamed } from "../../materials/catalog.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { sectionModel } from "../../models/bait/section.ts";
import { type SectionPicture, sectionPicture } from "../../models/bait/section-picture.ts";
import {
  coolerBy,
  faceCautions,
  moldCautions,
  plasticCautions,
  waterCautions,
} from "../../models/cautions.ts";
import {
  COMPARING,
  type Cooled,
  type Course,
  cool,
  courseOf,
  DRAFTING,
  ignoredByShots,
  SEARCHING,
  type Solving,
} from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { causeOf, EffortSum, quantified, spreadOf, withClock } from "../../models/ranged.ts";
import { type Scenario, scenarioOf } from "../../models/scenario.ts";
import { heldBySprue } from "../../models/sprue/molten.ts";
import { ignoredByPreheat } from "../../models/start.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { type OpenTimeRow, openTimes } from "./open-times.ts";

/** One station of a bait at opening. SI and K. */
export interface StationDemold {
  readonly name: string;
  readonly form: Form;
  /** Diameter of the round bar, or thickness of the sheet, that stands for it in one dimension, m. */
  readonly standIn: number;
  readonly width: number;
  readonly height: number;
  /** Infinity: never. */
  readonly time: number;
  /** In one dimension. */
  readonly quickTime: number;
  readonly wallPeak: number;
  /** At opening, K. */
  readonly mean: number;
  readonly skin: number;
}

/** When the mold may be opened, and what decides it. Times in s from the shot, temperatures in K. */
export interface Demold {
  readonly time: Quantified;
  /** Until when the mold stays closed for its sprue, which may flow for longer than the bait needs, s; null: it has set by then. */
  readonly sprueUntil: number | null;
  readonly decidedBy: Reason;
  /** What makes most of the range of `time`; null when nothing is uncertain. */
  readonly cause: Cause | null;
  readonly stations: readonly StationDemold[];
  /** Hottest that the cavity face gets, at the station where it gets hottest. */
  readonly wallPeak: Quantified;
  /** K; null: the mold material has none. */
  readonly wallLimit: number | null;
  /** Hottest point at opening, K. */
  readonly limit: number;
  /** Of the slowest station at opening, K. */
  readonly mean: number;
  readonly skin: number;
  /** The two models of the slowest station; `full` null when only the quick look was taken. */
  readonly quick: { readonly time: number; readonly wallPeak: number };
  readonly full: { readonly time: number; readonly wallPeak: number } | null;
  /** full/quick - 1 of the time; null without `full`. */
  readonly difference: number | null;
  readonly table: readonly OpenTimeRow[];
  readonly levers: readonly Lever[];
  /** Hottest point, mean, skin and cavity face of the slowest station. */
  readonly course: Course;
  /** The whole section of the slowest station from the shot to the opening; null where no picture was asked for. */
  readonly picture: SectionPicture | null;
}

/** The answer to `demold`. */
export type DemoldAnswer = Answer<"demold", Demold>;

/** What `demold` may leave out or add. */
export interface DemoldOptions extends QuestionOptions {
  /** A picture of the slowest station's section. */
  readonly picture?: boolean;
  /** The table of open times and the levers; false leaves them empty, for what follows a changing dial. */
  readonly further?: boolean;
}

/** A surface hotter than this burns the hand that holds it for a minute, K. */
const HELD_A_MINUTE = touchLimit("plastic", 60);

/**
 * Time from the injection until the hottest point of the bait has cooled to `limits.demold`, in s, for every station;
 * the slowest decides.
 *
 * Each station is solved in one dimension (the round bar of its slowest mode, or the sheet of its thin side) and,
 * unless `quick`, in two: its cross-section in the real block with neighboring cavities, plates, parting line and
 * ends. The range is that of the uncertain inputs.
 *
 * @param given from `readJob`
 * @returns times in s, temperatures in K; a time of Infinity: it never gets that cool
 * @throws InputError when the job makes no solvable problem; NoConvergence when the solver fails
 * @example Math.round(demold(readJob("bait: { thickness: 6 mm }").job, { quick: true }).answer.time.value / 10) // 6
 */
export function demold(given: Job, options: DemoldOptions = {}): DemoldAnswer {
  const {
    quick = false,
    likelyOnly = false,
    further = !likelyOnly,
    inches = false,
    shouldStop,
  } = options;
  const scenario = scenarioOf(given, options);
  const { job } = scenario;
  const stopping = shouldStop ? { shouldStop } : {};
  const limit = job.limits.demold;
  const effort = new EffortSum();
  const solved = job.bait.stations.map((station) => {
    const cooled = coolStation(scenario, station, quick, stopping);
    effort.add(cooled.bar.history);
    if (!quick) effort.add(cooled.best.history);
    return cooled;
  });
  const slowest = solved.reduce((a, b) => (b.best.time > a.best.time ? b : a));
  const hottest = solved.reduce((a, b) => (b.best.wallPeak > a.best.wallPeak ? b : a));
  const draft = quick && !further;
  const [time, wall, opened] = rangesOf(scenario, slowest.station, hottest.station, draft);
  const { best, bar } = slowest;
  const wallLimit = wallLimitOf(job);
  const peak = movedTo(wall.range, hottest.best.wallPeak);
  const opens = withClock(scaledTo(time.range, best.time), scenario);
  const sprueUntil = heldBySprue(scenario, opens.low, stopping);
  const levers = further ? leversOf(scenario, best.time, quick, stopping) : [];
  const cautions: CautionCode[] = [
    ...plasticCautions(job, [job.shot]),
    ...(sprueUntil === null ? [] : (["sprue_molten"] as const)),
    ...moldCautions(job, movedTo(opened.range, best.wallOpened).high, levers),
    ...waterCautions(job),
  ];
  if (best.mean - best.skin > 5 || best.mean > HELD_A_MINUTE) cautions.push("touch_burn");
  cautions.push(...faceCautions(job, peak.high));
  const picture =
    options.picture === true && !quick && Number.isFinite(best.time)
      ? pictureOf(scenario, slowest.station, best)
      : null;
  return {
    question: "demold",
    answer: {
      time: quantified(opens, "duration"),
      decidedBy: { code: "station", name: slowest.station.name },
      sprueUntil,
      cause: causeOf(time, job),
      stations: solved.map(({ station, body, bar, best }) => ({
        name: station.name,
        form: body.form,
        standIn: body.across,
        width: station.width,
        height: station.height,
        time: best.time,
        quickTime: bar.time,
        wallPeak: best.wallPeak,
        mean: best.mean,
        skin: best.skin,
      })),
      wallPeak: quantified(peak, "temperature"),
      wallLimit,
      limit,
      mean: best.mean,
      skin: best.skin,
      quick: { time: bar.time, wallPeak: bar.wallPeak },
      full: quick ? null : { time: best.time, wallPeak: best.wallPeak },
      difference: quick ? null : best.time / bar.time - 1,
      table: further ? openTimes(scenario, { quick, inches, solving: stopping }) : [],
      levers,
      course: courseOf(best.history, ["hottest", "mean", "skin", "wall"]),
      picture,
    },
    cautions,
    ignored: [...ignoredByShots(quick, job), ...ignoredByPreheat(given)],
    effort: effort.done(),
  };
}

/** A station in one dimension and, unless `quick`, in its section. */
function coolStation(scenario: Scenario, station: Station, quick: boolean, solving: Solving) {
  const { limits } = scenario.job;
  const body = standInOf(station);
  const bar = cool(barModel(scenario, body), limits.demold, solving);
  const best = quick ? bar : cool(sectionModel(scenario, station), limits.demold, solving);
  return { station, body, bar, best };
}

/** A station that is quicker than the slowest by more in one dimension does not decide in its section either. */
const MAY_DECIDE = 0.6;

/** The time that a case has: of its slowest station; its sections as levers compare them unless `quick`. */
function openingTime(scenario: Scenario, quick: boolean, solving: Solving): number {
  const { bait, limits } = scenario.job;
  const bars = bait.stations.map(
    (station) =>
      cool(barModel(scenario, standInOf(station)), limits.demold, {
        ...solving,
        ...(!quick && SEARCHING),
      }).time,
  );
  const slowest = Math.max(...bars);
  if (quick || !Number.isFinite(slowest)) return slowest;
  const sections = bait.stations
    .filter((_, i) => bars[i] >= MAY_DECIDE * slowest)
    .map(
      (station) =>
        cool(sectionModel(scenario, station), limits.demold, { ...solving, ...COMPARING }).time,
    );
  return Math.max(...sections);
}

/** Time of one station, wall peak of another, and the face as the first is opened, in one dimension, with their ranges. */
function rangesOf(scenario: Scenario, slowest: Station, hottest: Station, draft: boolean) {
  const at = (s: Scenario, station: Station): Station =>
    s.job.bait.stations[scenario.job.bait.stations.indexOf(station)];
  const one = (s: Scenario, station: Station): Cooled =>
    cool(barModel(s, standInOf(at(s, station))), s.job.limits.demold, DRAFTING);
  return spreadOf(
    scenario,
    (s) => {
      const a = one(s, slowest);
      return [a.time, (hottest === slowest ? a : one(s, hottest)).wallPeak, a.wallOpened];
    },
    [],
    draft ? { least: 20, most: 20 } : { deciding: 2 },
  );
}

/** What gains less of the time shows no change. */
const LEAST_GAIN = 0.02;

/** What would open the mold sooner, with the time that the answer has once it is pulled. */
function leversOf(scenario: Scenario, time: number, quick: boolean, solving: Solving): Lever[] {
  const { job } = scenario;
  if (!Number.isFinite(time)) return [];
  // from sections as they are compared to those of the answer
  const finer = quick ? 1 : time / openingTime(scenario, quick, solving);
  const lever = (code: Lever["code"], changed: Job, change?: Lever["change"]): Lever => ({
    code,
    ...(change && { change }),
    gives: {
      kind: "duration",
      value:
        (Number.isFinite(finer) ? finer : 1) *
        openingTime({ ...scenario, job: changed }, quick, solving),
    },
  });
  const { limits, room, mold, shot } = job;
  const warmer = Math.min(limits.demold + 10, 383.15);
  const cooler = coolerBy(shot, 10);
  const plate = { thickness: 0.01, distance: 0.006, width: null, contact: 1000 };
  const tried = [
    lever(
      "higher_demold",
      { ...job, limits: { ...limits, demold: warmer } },
      { path: "limits.demold", kind: "temperature", to: warmer },
    ),
    ...(cooler !== null
      ? [
          lever(
            "cooler_shot",
            { ...job, shot: { ...shot, temperature: cooler } },
            { path: "shot.temperature", kind: "temperature", to: cooler },
          ),
        ]
      : []),
    ...(room.air === "still" ? [lever("fan", { ...job, room: { ...room, air: "fan" } })] : []),
    ...(mold.inserts.length === 0 && !mold.back && mold.wall >= 0.016
      ? [
          lever("metal_insert", {
            ...job,
            mold: { ...mold, inserts: [{ ...plate, material: materialNamed("aluminum 6061") }] },
          }),
        ]
      : []),
    ...(mold.material.family === "metal"
      ? []
      : [
          lever("better_conductor", {
            ...job,
            mold: { ...mold, material: materialNamed("aluminum 6061") },
          }),
        ]),
  ];
  return tried
    .filter(({ gives }) => gives !== undefined && gives.value < time * (1 - LEAST_GAIN))
    .sort((a, b) => (a.gives?.value ?? 0) - (b.gives?.value ?? 0));
}

/** Enough times for the slider to run smoothly, closer together at first, when most happens. */
const PICTURE_TIMES = 30;

function pictureOf(scenario: Scenario, station: Station, { time }: Cooled): SectionPicture {
  const at = Array.from({ length: PICTURE_TIMES }, (_, i) => ((i + 1) / PICTURE_TIMES) ** 2 * time);
  const model = sectionModel(scenario, station);
  const { history } = cool(model, scenario.job.limits.demold - 0.1, {
    estimateGrid: false,
    snapshots: at,
  });
  return sectionPicture(model.problem, history.snapshots);
}
