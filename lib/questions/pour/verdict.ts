/** What speaks against a pour: its peak, the cliff, what lies in it, and whether it hardens at all. K, s. */
import type { Quantified } from "../../answers/answer.ts";
import type { Range } from "../../confidence/range.ts";
import { movedTo, type Spreading, scaledTo } from "../../confidence/spread.ts";
import type { Cliff } from "../../models/pour/cliff.ts";
import type { PourCorners } from "../../models/pour/corners.ts";
import type { PourCourse } from "../../models/pour/course.ts";
import { LONGEST_TO_HARDEN } from "../../models/pour/hardening.ts";
import type { CourseNumber } from "../../models/pour/members.ts";
import { peakHeldTo } from "../../models/pour/peak-held-to.ts";
import { type PouredResin, peakLimit, TOO_HOT } from "../../models/pour/resin.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import { CLIFF_MARGIN, type SafeDepth } from "../../models/pour/safe.ts";
import { quantified } from "../../models/ranged.ts";

/** Why a pour is not recommended, or what it harms. */
export const pourReasons = [
  "too_hot", // predicted above 100 degC
  "too_hot_with_bad_luck", // above that with all luck bad alone; to be minded, no refusal
  "past_cliff", // most likely it runs away, for it is deeper than the depth from which it does
  "near_cliff", // in the pessimistic corner within 15 K of the cliff, or a little more depth runs away
  "lost_front", // it runs away as a front that is lost between the cells: no refusal, as such
  "above_limit", // above the limit of the job
  "no_room_for_bad_luck", // deeper than is safe with bad luck; to be minded, no refusal
  "melts_bed", // a harm, no refusal
  "melts_master", // a harm, no refusal
  "never_hardens",
] as const;
/** Why a pour is refused or minded, as a code of a sentence. */
export type PourReason = (typeof pourReasons)[number];

/** What something in the pour bears. */
export interface Softening {
  readonly hottest: Quantified;
  /** K; null: not known. */
  readonly bears: number | null;
  readonly holds: boolean;
}

/** The likely pour, and the ranges around it. */
export interface RangedCourse {
  readonly now: PourCourse;
  readonly ranges: Readonly<Record<CourseNumber, Spreading>>;
}

/** What is known of other depths. */
interface Depths {
  readonly cliff: Pick<Cliff, "depth"> | null;
  readonly pessimisticCliff: Cliff | null;
  /** What the walls leave of today's. */
  readonly share: number;
  readonly safe: SafeDepth;
}

/** What the peak, the bed, the masters and the hardening say of the pour. */
export function verdictOn(
  runs: PourRuns,
  { fast, likely }: PourCorners,
  { now, ranges }: RangedCourse,
  { cliff, pessimisticCliff, share, safe }: Depths,
) {
  const { pour, limits } = runs.job;
  const from = Math.max(likely.setting.room, likely.setting.stock);
  const drawn = movedTo(ranges.peak.range, now.peak);
  // moved from far from walls, the cooler end may land below what was poured: nine of ten stocks are warmer than this
  const coolest = likely.setting.stock - runs.job.uncertainty.roomTemperature;
  const low = Math.max(drawn.low, Math.min(coolest, now.peak));
  const peak = quantified({ ...drawn, low, high: drawn.high + now.lost }, "temperature");
  const worst = hottestWithBadLuck(runs, fast, share).reduce(
    (hottest, resin) => {
      const { value, lost } = peakHeldTo(runs, resin, fast.setting, [peakLimit(runs.job), TOO_HOT]);
      return value + lost > hottest.value ? { value: value + lost, lost } : hottest;
    },
    { value: peak.high, lost: now.lost },
  );
  const worstPeak = worst.value;
  const bears = pour.clay.material.wallLimit?.value ?? null;
  const bed = softening(inStep(now.bed, peak, from), bears);
  const master =
    now.master === null ? null : softening(inStep(now.master, peak, from), pour.masters.softens);
  const stalled = !((now.firm ?? Number.POSITIVE_INFINITY) < LONGEST_TO_HARDEN);
  const deeper = likely.setting.depth > safe.depth;
  const onCliff = pessimisticCliff !== null && worstPeak > pessimisticCliff.peak - CLIFF_MARGIN;
  const [tooHot, aboveLimit] = [now.peak > TOO_HOT, now.peak > limits.peak];
  // a depth that is said to be safe is
  const nearCliff = deeper && (onCliff || safe.boundBy === "runaway");
  const isPast = cliff !== null && likely.setting.depth >= cliff.depth;
  const found: readonly [PourReason, boolean][] = [
    ["too_hot", tooHot],
    ["too_hot_with_bad_luck", !tooHot && worstPeak > TOO_HOT],
    ["past_cliff", nearCliff && isPast],
    ["near_cliff", nearCliff && !isPast],
    ["lost_front", worst.lost > 0],
    ["above_limit", aboveLimit],
    ["no_room_for_bad_luck", deeper && !tooHot && !nearCliff && !aboveLimit],
    ["melts_bed", !bed.holds],
    ["melts_master", master !== null && !master.holds],
    ["never_hardens", stalled],
  ];
  const reasons = found.flatMap(([reason, holds]) => (holds ? [reason] : []));
  return {
    peak,
    worst,
    bed,
    master,
    stalled,
    reasons,
    refused: reasons.some((reason) => !NO_REFUSAL.includes(reason)),
    /** For its heat, whether or not it hardens. */
    tooHot: tooHot || nearCliff || aboveLimit,
  };
}

const NO_REFUSAL: readonly PourReason[] = [
  "too_hot_with_bad_luck",
  "lost_front",
  "no_room_for_bad_luck",
  "melts_bed",
  "melts_master",
];

/** A resin whose rise far from walls is below this share of the hotter one's is no rival within walls. */
const RIVALS = 0.8;

/**
 * The resins of the fast corner of which either may get hottest within walls.
 *
 * @param share what the walls leave of the depth
 */
export function hottestWithBadLuck(
  runs: PourRuns,
  { resin, rival, setting }: PourCorners["fast"],
  share: number,
): PouredResin[] {
  if (rival === undefined) return [resin];
  const from = Math.max(setting.room, setting.stock);
  const there = { ...setting, depth: share * setting.depth };
  const [own, other] = [resin, rival].map((one) => runs.linePeak(one, there).value - from);
  if (other < RIVALS * own) return [resin];
  return own < RIVALS * other ? [rival] : [resin, rival];
}

/** The range of a time around the better model's value; null: never within the time looked at. */
export function timeRange(value: number | null, { range }: Spreading): Quantified {
  return quantified(scaledTo(range, value ?? Number.POSITIVE_INFINITY), "duration");
}

/** What lies in the resin rises with it: its rise has the ratios of the peak's, K. */
function inStep(value: number, peak: Range, from: number): Range {
  const share = peak.value > from ? Math.max(0, value - from) / (peak.value - from) : 0;
  return movedTo(
    {
      value,
      low: value - share * (peak.value - peak.low),
      high: value + share * (peak.high - peak.value),
    },
    value,
  );
}

function softening(hottest: Range, bears: number | null): Softening {
  return {
    hottest: quantified(hottest, "temperature"),
    bears,
    holds: bears === null || hottest.value <= bears,
  };
}
