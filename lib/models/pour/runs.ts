/** The simulations of one pour, those of one dimension run once each, with the effort added up. With `quick` all are 1-D. */

import type { HeatProblem, History, Snapshot } from "../../heat/problem.ts";
import { simulate } from "../../heat/simulate.ts";
import type { Job } from "../../job/types.ts";
import type { SectionPicture } from "../bait/section-picture.ts";
import type { QuestionOptions } from "../question-options.ts";
import { EffortSum } from "../ranged.ts";
import { horizonOf, lookTimes, type PourCourse, pourCourseOf } from "./course.ts";
import { frontInTheBox, lostFront } from "./lost-front.ts";
import { pourPicture } from "./picture.ts";
import { HOT_ABOVE, type PourSetting, pourLine, pourSection, sectionSizes } from "./problem.ts";
import {
  type PouredResin,
  type ResinChange,
  type ResinCorner,
  type ResinMaker,
  resinMaker,
} from "./resin.ts";

/** One grid, and no word of what it and its steps leave. */
const ALONE = { estimateGrid: false, estimateSteps: false } as const;
/** Grid of the cut for ranges and searches: within 1 K of the full one (measured). */
const COARSE = 0.35;
const FINE = 1;
/** Grid for a peak that is promised: within half a kelvin of the full one, of which most is common to all (measured). */
const CLOSER = 0.5;
/** Grid of members of which the peak alone is asked: within a kelvin, most of it alike in all (measured). */
const DRAFTING = { resolution: 0.5, tolerance: 5e-4 } as const;
/** Steps of searches: 95 of 100 peaks within 0.1 K, in a section within 0.15 K; of 900 one, at 204 degC, by 3 K (measured). */
const SEARCHING = { ...ALONE, tolerance: 1e-3 } as const;

/** Steps of the whole course: its peak within 0.03 K and its times within 0.2 % of steps three hundred times finer (measured, five jobs). */
const FOLLOWING = { ...ALONE, tolerance: 3e-4 } as const;

/** Steps of a look at how far it has cured. */
const LOOKING = { ...ALONE, tolerance: 5e-4 } as const;

/** A pour peaks within this share of the time that is looked at, where it does not peak late; past that share of it, it has. */
const PEAKS_WITHIN = 0.15;
const SURELY_PAST = 0.7;

/** A picture runs on for this many times the time of the peak, in as many times. */
const PAST_PEAK = 2;
const PICTURE_TIMES = 30;

/** A peak, K, and when, s. */
export interface PourPeak {
  readonly value: number;
  readonly time: number;
  /** How much hotter it may be for a front that is lost between the cells, K. */
  readonly lost: number;
}

interface DepthPeak extends PourPeak {
  readonly depth: number;
}

export interface PourRuns {
  readonly job: Job;
  /** Ranges have no width. */
  readonly likelyOnly: boolean;
  readonly make: ResinMaker;
  readonly effort: EffortSum;
  run(problem: HeatProblem): History;
  /** Peak far from the walls, K. */
  linePeak(resin: PouredResin, setting: PourSetting): PourPeak;
  /** Depths of a setting whose peak far from the walls is known by now, from shallow to deep. */
  linePeaks(resin: PouredResin, setting: PourSetting): readonly DepthPeak[];
  /** Peak in the cut across the box on the coarse grid, K. */
  sectionPeak(resin: PouredResin, setting: PourSetting): PourPeak;
  /** The same on a grid in between. */
  closerPeak(resin: PouredResin, setting: PourSetting): PourPeak;
  /** The same on the fine grid. */
  finePeak(resin: PouredResin, setting: PourSetting): PourPeak;
  /** The cut across the box on the coarse grid, to be changed and run. */
  searched(resin: PouredResin, setting: PourSetting, until: number): HeatProblem;
  /** The cut across the box at the end of a look, on the coarse grid. */
  looked(resin: PouredResin, setting: PourSetting, until: number): Snapshot;
  /** Everything about the cut across the box, on the fine or the coarse grid. */
  course(resin: PouredResin, setting: PourSetting, grid: "fine" | "coarse"): PourCourse;
  /** Peak far from the walls on the grid of members, K: not kept. */
  draftPeak(resin: PouredResin, setting: PourSetting): number;
  /** The course far from the walls, in one look of a few milliseconds: for the members of a range. */
  draftCourse(resin: PouredResin, setting: PourSetting): PourCourse;
  /** The cut across the box, drawn from the pour until well past its peak. */
  picture(resin: PouredResin, setting: PourSetting, peakTime: number): SectionPicture;
  resin(corner: ResinCorner, change?: ResinChange): PouredResin;
}

/** The resin over a plate may be the hotter one. */
function peakOfBoth({ extremes }: History): { readonly value: number; readonly time: number } {
  const { hot, [HOT_ABOVE]: above } = extremes;
  const { max, maxTime } = above !== undefined && above.max > hot.max ? above : hot;
  return { value: max, time: maxTime };
}

/** Where there is resin over a plate, `hot` is the hottest of both. */
function hottestOfBoth({ probes }: HeatProblem, history: History): History {
  if (probes[HOT_ABOVE] === undefined) return history;
  const { trace } = history;
  const above = trace.probes[HOT_ABOVE];
  const hot = trace.probes["hot"].map((v, i) => Math.max(v, above[i]));
  return { ...history, trace: { ...trace, probes: { ...trace.probes, hot } } };
}

/** A pour that has risen by so many K, and fallen again by this share of it, has peaked. */
const RISEN = 10;
const FALLEN = 0.1;

/** The same problem for its peak alone. Below and above a plate there are two, one after the other. */
function upToPeak(problem: HeatProblem): HeatProblem {
  const { hot, [HOT_ABOVE]: above } = problem.probes;
  if (above !== undefined) return { ...problem, probes: { hot, [HOT_ABOVE]: above } };
  const past = { probe: "hot", risen: RISEN, fallen: FALLEN };
  return {
    ...problem,
    probes: { hot },
    stages: problem.stages.map((stage) => ({ ...stage, past })),
  };
}

/** Peaks of a resin in a setting, each run once. */
function makeKnownPeaks(run: (resin: PouredResin, setting: PourSetting) => PourPeak) {
  const byResin = new Map<PouredResin, Map<string, DepthPeak[]>>();
  const known = (resin: PouredResin, { depth: _, ...setting }: PourSetting): DepthPeak[] => {
    const bySetting = byResin.get(resin) ?? new Map<string, DepthPeak[]>();
    byResin.set(resin, bySetting);
    const key = JSON.stringify(setting);
    const peaks = bySetting.get(key) ?? [];
    bySetting.set(key, peaks);
    return peaks;
  };
  const at = (resin: PouredResin, setting: PourSetting): DepthPeak => {
    const peaks = known(resin, setting);
    const { depth } = setting;
    const deeper = peaks.findIndex((one) => one.depth >= depth);
    const place = deeper < 0 ? peaks.length : deeper;
    if (peaks[place]?.depth !== depth) peaks.splice(place, 0, { depth, ...run(resin, setting) });
    return peaks[place];
  };
  return { known, at };
}

export interface PourOptions extends QuestionOptions {
  /** false: the slowing of the cure by glass is left out, as simpler models do. */
  readonly vitrification?: boolean;
  /** A picture of the cut across the box. */
  readonly picture?: boolean;
}

/** @param make of another pour of the same resin, whose calibration is taken over */
export function pourRuns(
  job: Job,
  options: PourOptions = {},
  make: ResinMaker = resinMaker(job, options),
): PourRuns {
  const effort = new EffortSum();
  const { quick = false, likelyOnly = false, shouldStop } = options;
  const stop = shouldStop === undefined ? {} : { shouldStop };
  const run = (problem: HeatProblem) => {
    const history = simulate({ ...problem, ...stop });
    effort.add(history);
    return hottestOfBoth(problem, history);
  };
  const untilOf = (resin: PouredResin, { room, stock }: PourSetting) =>
    horizonOf(resin, room, stock);
  const peakOf = (
    problem: typeof pourLine,
    resin: PouredResin,
    setting: PourSetting,
    grid: { readonly resolution: number; readonly tolerance?: number },
  ) => {
    const all = untilOf(resin, setting);
    const peakUntil = (until: number) => {
      const whole = problem(job, resin, setting, { until, ...SEARCHING, ...grid });
      const history = run(upToPeak(whole));
      return { ...peakOfBoth(history), lost: lostFront(history, resin) };
    };
    const found = peakUntil(PEAKS_WITHIN * all);
    // a peak so near to the end of the look may not be the last
    return found.time < SURELY_PAST * PEAKS_WITHIN * all ? found : peakUntil(all);
  };
  const peakOn = (problem: typeof pourLine, resolution: number) =>
    makeKnownPeaks((resin, setting) => peakOf(problem, resin, setting, { resolution }));
  const lines = peakOn(pourLine, 1);
  const sectionsOn = (resolution: number) => peakOn(pourSection, resolution);
  const [sections, closer, fine] = [COARSE, CLOSER, FINE].map(sectionsOn);
  const lineForSection = (resin: PouredResin, setting: PourSetting) => {
    const line = lines.at(resin, setting);
    return { ...line, lost: frontInTheBox(line.value, setting.stock, resin) };
  };
  const problemOf = quick ? pourLine : pourSection;
  return {
    job,
    likelyOnly,
    make,
    effort,
    run,
    linePeak: lines.at,
    linePeaks: lines.known,
    sectionPeak: quick ? lineForSection : sections.at,
    closerPeak: quick ? lineForSection : closer.at,
    finePeak: quick ? lineForSection : fine.at,
    resin: make,
    searched(resin, setting, until) {
      const grid = { until, ...SEARCHING, resolution: quick ? 1 : COARSE };
      return problemOf(job, resin, setting, grid);
    },
    looked(resin, setting, until) {
      const grid = { until, ...LOOKING, resolution: quick ? 1 : COARSE, snapshots: [until] };
      return run(problemOf(job, resin, setting, grid)).snapshots[0];
    },
    picture(resin, setting, peakTime) {
      const until = Math.min(untilOf(resin, setting), PAST_PEAK * peakTime);
      const at = Array.from({ length: PICTURE_TIMES }, (_, i) => ((i + 1) / PICTURE_TIMES) * until);
      const drawn = { until, ...ALONE, resolution: FINE, snapshots: at };
      const problem = pourSection(job, resin, setting, drawn);
      return pourPicture(problem, run(problem).snapshots);
    },
    draftPeak: (resin, setting) => peakOf(pourLine, resin, setting, DRAFTING).value,
    draftCourse(resin, setting) {
      const until = untilOf(resin, setting);
      const grid = {
        until,
        ...LOOKING,
        resolution: 1,
        snapshots: lookTimes(until),
        everyStep: true,
      };
      const history = run(pourLine(job, resin, setting, grid));
      const { bed, wall } = sectionSizes(job, setting);
      return pourCourseOf(history, resin, { room: setting.room, bed, wall });
    },
    course(resin, setting, grid) {
      const until = untilOf(resin, setting);
      const history = run(
        problemOf(job, resin, setting, {
          until,
          ...FOLLOWING,
          resolution: quick ? 1 : grid === "fine" ? FINE : COARSE,
          snapshots: lookTimes(until),
          everyStep: true,
        }),
      );
      const { bed, wall } = sectionSizes(job, setting);
      return pourCourseOf(history, resin, { room: setting.room, bed, wall });
    },
  };
}
