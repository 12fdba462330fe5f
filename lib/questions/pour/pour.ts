/** Can I pour this in one go? Peak, gel, cliff, layers, and when it may be touched. SI and K. */

import type { Answer, Cause, CautionCode, IgnoredCode, Quantified } from "../../answers/answer.ts";
import { movedTo, type Spreading } from "../../confidence/spread.ts";
import { RUNAWAY_NUMBER_LEAVES_OUT } from "../../cure/runaway.ts";
import type { Job } from "../../job/types.ts";
import type { SectionPicture } from "../../models/bait/section-picture.ts";
import { castingCautions } from "../../models/cautions.ts";
import { type PourCorner, type PourCorners, pourCorners } from "../../models/pour/corners.ts";
import type { PourCourse } from "../../models/pour/course.ts";
import {
  fewestLayers,
  layersOf,
  type PourLayer,
  type RatedPlan,
  rated,
} from "../../models/pour/layers.ts";
import { openOfFront } from "../../models/pour/lost-front.ts";
import { measuredPour } from "../../models/pour/measured.ts";
import { courseSpread } from "../../models/pour/members.ts";
import { pouredVolume } from "../../models/pour/problem.ts";
import {
  ignoredByFiller,
  ignoredByPeak,
  ignoredBySheet,
  isCalibrated,
  type PouredResin,
  peakLimit,
} from "../../models/pour/resin.ts";
import { type PourOptions, type PourRuns, pourRuns } from "../../models/pour/runs.ts";
import {
  type DepthBound,
  ROOMS,
  type RoomDepth,
  type SafeDepth,
  safeBeside,
  safeDepth,
  safeDepthByRoom,
} from "../../models/pour/safe.ts";
import { progressOf } from "../../models/question-options.ts";
import { causeOf, quantified } from "../../models/ranged.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import {
  type FillerReport,
  type FirstShot,
  fillerOf,
  firstShotOn,
  type PostCure,
  postCureOf,
} from "./after.ts";
import { type Alternative, alternativesTo, warmBoxAlternative } from "./alternatives.ts";
import { type ColdPour, coldPour } from "./cold.ts";
import { type CliffAhead, cliffAhead, depthsOf } from "./depths.ts";
import { runawayOf } from "./runaway.ts";
import { type SecondHalf, secondHalfOf } from "./second-half.ts";
import {
  type PourReason,
  type RangedCourse,
  type Softening,
  timeRange,
  verdictOn,
} from "./verdict.ts";

/** Whether a pour can be made in one go, how hot it gets and when, and other ways. SI and K. */
export interface PourContent {
  /** As given, or as the mass of the pour fills the box, m. */
  readonly depth: number;
  readonly recommended: boolean;
  readonly reasons: readonly PourReason[];
  readonly peak: Quantified;
  /** With pot life, heat, energy, conductivity and room all as unlucky as they may be at once, K. */
  readonly worstPeak: number;
  /** What of `worstPeak` is for a front of reaction narrower than the cells that are looked at, K. */
  readonly lostFront: number;
  /** Of the reaction's own peak, also where the resin is hotter as it is poured. */
  readonly peakTime: Quantified;
  /** Most likely it gets no hotter than it is poured. */
  readonly hottestAsPoured: boolean;
  readonly where: PourCourse["where"];
  /** First and last place to gel, s; Infinity: never within the time looked at. */
  readonly gelTime: Quantified;
  readonly gelLast: Quantified;
  readonly bed: Softening;
  readonly master: Softening | null;
  /** The job's limit for the peak, K, or the 100 degC that no pour may reach where that is less. */
  readonly limit: number;
  /** Below the limit, m; Infinity: no depth down to 300 mm gets to it. What is safe with bad luck is `heatDepth`. */
  readonly deepestSinglePour: Quantified;
  /** Deepest that would be recommended, m: the `heatDepth`, where it hardens at all; null: in this room none is. */
  readonly recommendedDepth: number | null;
  /**
   * Deepest for its heat alone: in the pessimistic corner below the limit and 15 K off the cliff, and a tenth more depth does
   * not run away, m.
   */
  readonly heatDepth: number;
  /** What a deeper one comes to with bad luck; null: none is too deep. */
  readonly heatDepthBoundBy: DepthBound | null;
  readonly cliff: CliffAhead | null;
  /** Peak over depth: likely, and both corners; for the figure. */
  readonly curve: {
    readonly depth: readonly number[];
    readonly peak: readonly number[];
    readonly low: readonly number[];
    readonly high: readonly number[];
  };
  /** `heatDepth` by temperature of the room, stock with the room or, where it was not of its temperature, as today, and whether it hardens there. */
  readonly byRoom: readonly RoomDepth[];
  /** One entry when a single pour will do; none when no layers of 6 mm or more stay below the limit. */
  readonly layers: readonly PourLayer[];
  readonly layersPeak: number | null;
  /** The same layers with the fast resin of the pessimistic corner, K. */
  readonly layersWorstPeak: number | null;
  /** Whether each of them hardens within a week by itself, most likely. */
  readonly layersHarden: boolean | null;
  /** true: a layer is past its tack before it is past its peak: sand it first. */
  readonly sandBetween: boolean;
  /** Of a plan of several, s after the last one was poured as early as it may be; Infinity: never within the time looked at. */
  readonly layersLeave: Quantified | null;
  readonly layersTurn: Quantified | null;
  readonly layersDemold: Quantified | null;
  readonly layersClamp: Quantified | null;
  readonly alternatives: readonly Alternative[];
  /** s; Infinity: never within the time looked at. */
  readonly leave: Quantified;
  readonly turn: Quantified;
  readonly demold: Quantified;
  readonly clamp: Quantified;
  readonly secondHalf: SecondHalf | null;
  readonly cureReached: number;
  readonly glassReached: Quantified;
  /** `pour.age` after mixing, of the least cured place; null: not asked. */
  readonly now: {
    readonly age: number;
    readonly cure: number;
    readonly glass: number;
    /** `not`: liquid all through; `partly`: gelled somewhere. */
    readonly gelled: "not" | "partly" | "all";
  } | null;
  /** A shot into it as soon as it may be clamped; null: a rubber, or never to be clamped. */
  readonly firstShot: FirstShot | null;
  readonly postCure: PostCure | null;
  readonly cold: ColdPour;
  readonly filler: FillerReport | null;
  readonly runawayNumber: number;
  readonly criticalNumber: number;
  readonly runawayLeavesOut: typeof RUNAWAY_NUMBER_LEAVES_OUT;
  /** Stock and all heat of reaction, nothing lost: K. */
  readonly adiabaticPeak: number;
  /** How far off the likely peak may be for the front that makes it hotter than that, K: 0 where none does. */
  readonly frontOpen: number;
  /** Poured volume m3 and mass kg by box and depth. */
  readonly volume: number;
  readonly mass: number;
  /** Whether the job says how fast the hardener is, or it is the catalog's usual. */
  readonly hardenerKnown: boolean;
  readonly energy: number; // J/mol
  readonly cause: Cause | null;
  /** Hottest place over time. */
  readonly course: { readonly times: readonly number[]; readonly hot: readonly number[] };
  /** The cut across the box as it likely goes; null where no picture was asked for. */
  readonly picture: SectionPicture | null;
}

/** Today's pour, depths, ranges and, after every room of the table, the alternatives. */
const PARTS = 4;

/** The answer to `pour`. */
export type PourAnswer = Answer<"pour", PourContent>;

/**
 * What becomes of the job's pour: one mold half, a master or a silicone mold over its bed.
 *
 * The answer comes from a cut across the box; what is searched (depth, cliff, layers) from 1-D solves with the walls'
 * part carried over. Ranges are drawn over the resin's speed, heat, activation energy and conductivity and the room; what
 * is refused, and the safe depth, have all of them unlucky at once.
 *
 * @param given `pour`, `room`, `limits.peak` and `uncertainty` are read; for its first shot `shot`, `bait`, `mold` and `run.preheat`
 * @param options `quick`: 1-D only
 * @throws InputError when the material does not cure, or more filler is asked for than fits in
 * @example pour(readJob("bait: { thickness: 16 mm }\npour: { depth: 6 mm }").job, { quick: true }).answer.recommended // true
 */
export function pour(given: Job, options: PourOptions = {}): PourAnswer {
  const job = measuredPour(given);
  const runs = pourRuns(job, options);
  const corners = pourCorners(runs);
  const { likely } = corners;
  const limit = peakLimit(job);
  const rooms = options.quick || options.likelyOnly ? 0 : ROOMS.length;
  const done = progressOf(options, PARTS + rooms);
  const now = todayOf(runs, likely);
  done();
  const depths = depthsOf(runs, corners, { peak: now.peak, limit, brief: options.brief === true });
  done();
  const course: RangedCourse = { now, ranges: courseSpread(runs, depths.anyLuck) };
  const glassReached = movedTo(course.ranges.glassReached.range, now.glassReached);
  const safe = safeBeside(safeDepth(runs, limit, depths.share), job.pour.depth);
  const verdict = verdictOn(runs, corners, course, { ...depths, safe });
  const { refused, stalled, worst } = verdict;
  done();
  const plan = planLayers(runs, corners, refused && !stalled, depths.shareAt(job.pour.depth));
  const cold = coldPour(runs, corners, { share: depths.anyLuck, stalled });
  const volume = pouredVolume(job);
  const byRoom = rooms === 0 ? [] : safeDepthByRoom(runs, limit, safe, done);
  // drawn last: searches start from what is known by then, and must not hang on what is shown
  const curve = depths.curve();
  const { anyLuck } = depths;
  const held = { limit, peak: now.peak, worst, plan, safe, share: anyLuck };
  const alternatives = stalled
    ? warmBoxAlternative(cold, limit)
    : alternativesTo(runs, corners, held);
  return {
    question: "pour",
    answer: {
      depth: job.pour.depth,
      recommended: !refused,
      reasons: verdict.reasons,
      peak: verdict.peak,
      worstPeak: worst.value,
      lostFront: worst.lost,
      where: now.where,
      bed: verdict.bed,
      master: verdict.master,
      limit,
      deepestSinglePour: depths.deepest,
      ...withRoom(safe, stalled),
      cliff: cliffAhead(depths, likely.setting.depth, worst.value),
      curve,
      byRoom,
      ...layered(plan, course.ranges.gelFirst),
      alternatives,
      ...timesOf(course),
      secondHalf: secondHalfOf(runs, corners, now, depths),
      cureReached: now.cureReached,
      glassReached: quantified(glassReached, "temperature"),
      now: stateAt(job.pour.age, now),
      firstShot: firstShotOn(job, likely.resin, now, glassReached),
      postCure: postCureOf(job, likely.resin, now),
      cold,
      filler: fillerOf(job, likely.resin, likely.setting),
      ...runawayOf(job, corners),
      runawayLeavesOut: RUNAWAY_NUMBER_LEAVES_OUT,
      adiabaticPeak: likely.setting.stock + likely.resin.heat / likely.resin.specificHeat,
      frontOpen: openOfFront(now.peak, likely.setting.stock, now.frontError, likely.resin),
      volume,
      mass: volume * likely.resin.density,
      hardenerKnown: isCalibrated(job),
      energy: likely.resin.energy,
      cause: causeOf(course.ranges.peak, job, false),
      course: { times: now.curve.t, hot: now.curve.hot },
      picture:
        options.picture === true && !options.quick
          ? runs.picture(likely.resin, likely.setting, now.peakTime)
          : null,
    },
    cautions: cautionsFor(job, verdict, alternatives),
    ignored: ignoredIn(options.quick === true, job, likely.resin),
    effort: runs.effort.done(),
  };
}

/** The likely pour, from the fine cut. */
function todayOf(runs: PourRuns, { resin, setting }: PourCorner): PourCourse {
  // alternatives are compared with it: asked for now, the fine cut's first steps find compiled code
  if (!runs.likelyOnly) runs.sectionPeak(resin, setting);
  return runs.course(resin, setting, "fine");
}

/** The depth with room for bad luck. */
function withRoom({ depth, boundBy }: SafeDepth, stalled: boolean) {
  return {
    recommendedDepth: stalled ? null : depth,
    heatDepth: depth,
    heatDepthBoundBy: Number.isFinite(depth) ? boundBy : null,
  };
}

/**
 * What a plan of layers is told by; null: no layers are safe. Layers that are kept cool take their time from the resin's
 * speed, as the gel of the one pour does: their moments have its range.
 */
function layered(plan: RatedPlan | null, gel: Spreading) {
  const several = plan !== null && plan.layers.length > 1 ? plan.milestones() : null;
  const leave = several && timeRange(several.leave, gel);
  const turn = several && timeRange(several.turn, gel);
  const demold = several && timeRange(several.comesOff, gel);
  const clamp = several && timeRange(several.clamp, gel);
  return {
    layersLeave: leave,
    layersTurn: turn,
    layersDemold: demold,
    layersClamp: clamp,
    layers: plan?.layers ?? [],
    layersPeak: plan?.peak ?? null,
    layersWorstPeak: plan?.worstPeak ?? null,
    layersHarden: plan?.hardens ?? null,
    sandBetween: plan?.mechanical ?? false,
  };
}

/** When it peaks, gels, and may be left, turned, taken out and clamped. */
function timesOf({ now, ranges }: RangedCourse) {
  const { milestones } = now;
  const peakTime = timeRange(now.peakTime, ranges.peakTime);
  const gelTime = timeRange(now.gelFirst, ranges.gelFirst);
  const gelLast = after(timeRange(now.gelLast, ranges.gelLast), gelTime);
  const leave = after(timeRange(milestones.leave, ranges.leave), gelTime, peakTime);
  const turn = after(timeRange(milestones.turn, ranges.turn), gelLast, leave);
  const demold = after(timeRange(milestones.comesOff, ranges.comesOff), turn);
  const clamp = after(timeRange(milestones.clamp, ranges.clamp), demold);
  return {
    peakTime,
    hottestAsPoured: now.hottestAsPoured,
    gelTime,
    gelLast,
    leave,
    turn,
    demold,
    clamp,
  };
}

/** A moment that no case has before another: each range was scaled to the better model by itself. */
function after(moment: Quantified, ...before: readonly Quantified[]): Quantified {
  const low = Math.max(moment.low, ...before.map((one) => one.low));
  const high = Math.max(moment.high, ...before.map((one) => one.high));
  // no range of its own leaves its value
  return { ...moment, low: Math.min(low, moment.value), high };
}

/** How far the least cured place is at a time; from the last look on it stays as it was then. */
function stateAt(
  age: number | null,
  { hardening, gelFirst, gelLast }: PourCourse,
): PourContent["now"] {
  if (age === null) return null;
  const { t, cure, glass } = hardening;
  const isPast = (time: number | null) => time !== null && age >= time;
  // nothing has cured when it is poured
  return {
    age,
    cure: monotoneCubic([0, ...t], [0, ...cure])(age),
    glass: monotoneCubic(t, glass)(age),
    gelled: isPast(gelLast) ? "all" : isPast(gelFirst) ? "partly" : "not",
  };
}

function planLayers(
  runs: PourRuns,
  corners: PourCorners,
  needed: boolean,
  share: number,
): RatedPlan | null {
  const { likely, fast } = corners;
  const { layers } = runs.job.pour;
  const limit = peakLimit(runs.job);
  if (layers === null && needed) return fewestLayers(runs, corners, limit, share);
  const count = layers ?? 1;
  const unlucky = layersOf(runs, fast, count, share);
  const worstPeak = unlucky.peak + unlucky.lost;
  return rated(runs, likely, layersOf(runs, likely, count, share), worstPeak);
}

function cautionsFor(
  job: Job,
  { refused, stalled, tooHot, reasons, worst: { value: peak } }: ReturnType<typeof verdictOn>,
  alternatives: readonly Alternative[],
): CautionCode[] {
  const cautions: CautionCode[] = [];
  // one that most likely never hardens may still run away with bad luck
  if (refused && (!stalled || tooHot || peak > peakLimit(job)))
    cautions.push("pour_not_recommended");
  else {
    if (reasons.includes("too_hot_with_bad_luck")) cautions.push("pour_may_smoke");
    if (peak > job.room.temperature + 15) cautions.push("pour_unattended");
  }
  cautions.push(...castingCautions(job.pour.material));
  const granules = job.pour.granules > 0 || alternatives.some(({ code }) => code === "granules");
  if (granules && !cautions.includes("metal_powder")) cautions.push("metal_powder");
  if (job.pour.postCure.length > 0) cautions.push("oven_ramp");
  return cautions;
}

function ignoredIn(quick: boolean, job: Job, { mix }: PouredResin): IgnoredCode[] {
  return [
    ...(quick ? (["one_dimension"] as const) : []),
    ...(mix.filler ? (["settling"] as const) : []),
    "mixing_faults",
    "humidity",
    "air_drafts",
    ...ignoredByPeak(job),
    ...ignoredBySheet(job),
    ...ignoredByFiller(job),
  ];
}
