/** What speaks against a pour: its peak, the cliff, what lies in it, and whether it hardens at all. K, s. */
import type { Quantified } from "../../answers/answer.ts";
import type { PourCorner, PourCorners } from "../../models/pour/corners.ts";
import type { PourCourse } from "../../models/pour/course.ts";
import type { Cliff } from "../../models/pour/depth.ts";
import { LONGEST_TO_HARDEN } from "../../models/pour/hardening.ts";
import { TOO_HOT } from "../../models/pour/resin.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import { CLIFF_MARGIN } from "../../models/pour/safe.ts";
import type { Kind } from "../../units/kinds.ts";

/** Why a pour is not recommended, or what it harms. */
export const pourReasons = [
  "too_hot", // predicted above 100 degC
  "near_cliff", // within 15 K of the cliff in the pessimistic corner
  "above_limit", // above the limit of the job
  "melts_bed", // a harm, no refusal
  "melts_master", // a harm, no refusal
  "never_hardens",
] as const;
export type PourReason = (typeof pourReasons)[number];

/** What something in the pour bears. */
export interface Softening {
  readonly hottest: Quantified;
  /** K; null: not known. */
  readonly bears: number | null;
  readonly holds: boolean;
}

/** The likely pour, and what becomes of it in the pessimistic and in the optimistic corner. */
export interface CornerCourses {
  readonly now: PourCourse;
  readonly hot: PourCourse;
  readonly mild: PourCourse;
}

/** What the peak, the bed, the masters and the hardening say of the pour. */
export function verdictOn(
  runs: PourRuns,
  { fast, slow }: PourCorners,
  { now, hot, mild }: CornerCourses,
  pessimisticCliff: Cliff | null,
) {
  const { pour, limits } = runs.job;
  const rivalPeak = ({ rival, setting }: PourCorner, otherwise: number) =>
    rival === undefined ? otherwise : runs.sectionPeak(rival, setting).value;
  const worstPeak = Math.max(hot.peak, rivalPeak(fast, hot.peak));
  const mildest = Math.min(mild.peak, rivalPeak(slow, mild.peak));
  const bed = softening([now.bed, mild.bed, hot.bed], pour.clay.material.wallLimit?.value ?? null);
  const master =
    now.master === null
      ? null
      : softening([now.master, mild.master!, hot.master!], pour.masters.softens);
  const stalled = !((now.milestones.turn ?? Number.POSITIVE_INFINITY) < LONGEST_TO_HARDEN);
  const found: readonly [PourReason, boolean][] = [
    ["too_hot", now.peak > TOO_HOT],
    ["near_cliff", pessimisticCliff !== null && worstPeak > pessimisticCliff.peak - CLIFF_MARGIN],
    ["above_limit", now.peak > limits.peak],
    ["melts_bed", !bed.holds],
    ["melts_master", master !== null && !master.holds],
    ["never_hardens", stalled],
  ];
  const reasons = found.flatMap(([reason, holds]) => (holds ? [reason] : []));
  return {
    peak: spreadAround(now.peak, mildest, worstPeak, "temperature"),
    worstPeak,
    bed,
    master,
    stalled,
    reasons,
    refused: reasons.some((r) => r !== "melts_bed" && r !== "melts_master"),
  };
}

/** A likely value with what the corners make of it; the grids differ, so the ends are put in order. */
export function spreadAround(value: number, a: number, b: number, kind: Kind): Quantified {
  return { value, low: Math.min(value, a, b), high: Math.max(value, a, b), kind };
}

export function timeRange(value: number | null, a: number | null, b: number | null): Quantified {
  const never = Number.POSITIVE_INFINITY;
  return spreadAround(value ?? never, a ?? never, b ?? never, "duration");
}

function softening([value, a, b]: readonly number[], bears: number | null): Softening {
  return {
    hottest: spreadAround(value, a, b, "temperature"),
    bears,
    holds: bears === null || value <= bears,
  };
}
