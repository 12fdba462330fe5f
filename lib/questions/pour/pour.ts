/** Can I pour this in one go? Peak, gel, cliff, layers, and when it may be touched. SI and K. */

import type { Answer, Cause, CautionCode, IgnoredCode, Quantified } from "../../answers/answer.ts";
import {
  criticalRunaway,
  pourRunawayNumber,
  RUNAWAY_NUMBER_LEAVES_OUT,
} from "../../cure/runaway.ts";
import { makeTabulatedRateLaw } from "../../cure/tabulated.ts";
import { radiationCoefficient } from "../../formulas/air.ts";
import type { Job } from "../../job/types.ts";
import {
  causeOfPeak,
  type PourCorner,
  type PourCorners,
  pourCorners,
} from "../../models/pour/corners.ts";
import type { PourCourse } from "../../models/pour/course.ts";
import {
  type Cliff,
  cliffOf,
  deepestPour,
  depthCurve,
  lineDepthFor,
  wallShare,
} from "../../models/pour/depth.ts";
import { pouredVolume, pourFaces } from "../../models/pour/problem.ts";
import { isCalibrated, TOO_HOT } from "../../models/pour/resin.ts";
import { type PourOptions, type PourRuns, pourRuns } from "../../models/pour/runs.ts";
import type { Kind } from "../../units/kinds.ts";
import {
  type FillerReport,
  fillerOf,
  type PostCure,
  postCureOf,
  type SecondHalf,
  secondHalfOn,
} from "./after.ts";
import { type Alternative, alternativesTo, warmBoxAlternative } from "./alternatives.ts";
import { type ColdPour, coldPour } from "./cold.ts";
import { fewestLayers, layersOf, type PourLayer, type RatedPlan } from "./layers.ts";

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

export interface CliffAhead extends Cliff {
  /** Depth left to the cliff, m: negative, it is behind. */
  readonly depthLeft: number;
  /** K of the cliff's peak over today's in the pessimistic corner: below 15, the pour is refused. */
  readonly margin: number;
}

export interface PourContent {
  readonly recommended: boolean;
  readonly reasons: readonly PourReason[];
  readonly peak: Quantified;
  readonly peakTime: Quantified;
  readonly where: PourCourse["where"];
  /** First and last place to gel, s; Infinity: never within the time looked at. */
  readonly gelTime: Quantified;
  readonly gelLast: Quantified;
  readonly bed: Softening;
  readonly master: Softening | null;
  readonly limit: number;
  /** m; Infinity: no depth down to 300 mm gets to the limit. */
  readonly deepestSinglePour: Quantified;
  /** Deepest that would be recommended: below the limit and 15 K off the cliff in the pessimistic corner, m. */
  readonly recommendedDepth: number;
  readonly cliff: CliffAhead | null;
  /** Peak over depth: likely, and both corners; for the figure. */
  readonly curve: {
    readonly depth: readonly number[];
    readonly peak: readonly number[];
    readonly low: readonly number[];
    readonly high: readonly number[];
  };
  /** Deepest single pour by temperature of the room, stock as today against the room. */
  readonly byRoom: readonly { readonly room: number; readonly deepest: number }[];
  /** One entry when a single pour will do; none when no layers of 6 mm or more stay below the limit. */
  readonly layers: readonly PourLayer[];
  readonly layersPeak: number | null;
  /** The same layers with the fast resin of the pessimistic corner, K. */
  readonly layersWorstPeak: number | null;
  /** true: a layer is past its tack before it is past its peak: sand it first. */
  readonly sandBetween: boolean;
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
  readonly now: { readonly age: number; readonly cure: number; readonly glass: number } | null;
  readonly postCure: PostCure | null;
  readonly cold: ColdPour;
  readonly filler: FillerReport | null;
  readonly runawayNumber: number;
  readonly criticalNumber: number;
  readonly runawayLeavesOut: typeof RUNAWAY_NUMBER_LEAVES_OUT;
  /** Stock and all heat of reaction, nothing lost: K. */
  readonly adiabaticPeak: number;
  /** Poured volume m3 and mass kg by box and depth. */
  readonly volume: number;
  readonly mass: number;
  /** Whether the job says how fast the hardener is, or it is the catalog's usual. */
  readonly hardenerKnown: boolean;
  readonly energy: number; // J/mol
  readonly cause: Cause | null;
  /** Hottest place over time. */
  readonly course: { readonly times: readonly number[]; readonly hot: readonly number[] };
}

export type PourAnswer = Answer<"pour", PourContent>;

/** Nearer to the cliff than this no pour is recommended, K. */
const CLIFF_MARGIN = 15;
const ROOMS = [278.15, 283.15, 288.15, 293.15, 298.15, 303.15, 311.15];
/** Not firm everywhere within this, s: it counts as never hardening. */
const PATIENCE = 7 * 24 * 3600;

/**
 * What becomes of the job's pour: one mold half, a master or a silicone mold over its bed.
 *
 * The answer comes from a cut across the box; what is searched (depth, cliff, layers) from 1-D solves with the walls'
 * part carried over. Ranges are the pessimistic and the optimistic corner of pot life, heat of reaction, activation
 * energy, conductivity and room.
 *
 * @param job `pour`, `room`, `limits.peak` and `uncertainty` are read
 * @param options `quick`: 1-D only
 * @throws InputError when the material does not cure, or more filler is asked for than fits in
 * @example pour(readJob("bait: { thickness: 16 mm }\npour: { depth: 6 mm }").job, { quick: true }).answer.recommended // true
 */
export function pour(job: Job, options: PourOptions = {}): PourAnswer {
  const runs = pourRuns(job, options);
  const corners = pourCorners(runs);
  const { likely, fast, slow } = corners;
  const limit = job.limits.peak;
  const now = runs.course(likely.resin, likely.setting, "fine");
  const hot = runs.course(fast.resin, fast.setting, "coarse");
  const mild = runs.course(slow.resin, slow.setting, "coarse");
  const rise = likely.resin.heat / likely.resin.specificHeat;

  const depths = depthsOf(runs, corners, [now, hot, mild], limit);
  const { cliff, pessimisticCliff } = depths;
  const safePeak = Math.min(limit, pessimisticCliff ? pessimisticCliff.peak - CLIFF_MARGIN : limit);
  const recommendedDepth =
    deepestPour(runs, fast.resin, fast.setting, safePeak, depths.share).depth ??
    Number.POSITIVE_INFINITY;

  const rivalPeak = ({ rival, setting }: PourCorner, otherwise: number) =>
    rival === undefined ? otherwise : runs.sectionPeak(rival, setting).value;
  const worstPeak = Math.max(hot.peak, rivalPeak(fast, hot.peak));
  const mildest = Math.min(mild.peak, rivalPeak(slow, mild.peak));
  const peak = spreadAround(now.peak, mildest, worstPeak, "temperature");
  const bed = softening(
    [now.bed, mild.bed, hot.bed],
    job.pour.clay.material.wallLimit?.value ?? null,
  );
  const master =
    now.master === null
      ? null
      : softening([now.master, mild.master!, hot.master!], job.pour.masters.softens);
  const nearCliff = pessimisticCliff !== null && worstPeak > pessimisticCliff.peak - CLIFF_MARGIN;
  const stalled = !((now.milestones.turn ?? Number.POSITIVE_INFINITY) < PATIENCE);
  const reasons: PourReason[] = [];
  if (now.peak > TOO_HOT) reasons.push("too_hot");
  if (nearCliff) reasons.push("near_cliff");
  if (now.peak > limit) reasons.push("above_limit");
  if (!bed.holds) reasons.push("melts_bed");
  if (master !== null && !master.holds) reasons.push("melts_master");
  if (stalled) reasons.push("never_hardens");
  const refused = reasons.some((r) => r !== "melts_bed" && r !== "melts_master");

  const plan = planLayers(runs, corners, refused && !stalled, depths.shareAt(job.pour.depth));
  const cold = coldPour(runs, corners, limit, stalled);
  const alternatives = stalled
    ? warmBoxAlternative(cold, limit)
    : alternativesTo(runs, corners, limit, plan);
  const time = (pick: (course: PourCourse) => number | null) =>
    timeRange(pick(now), pick(hot), pick(mild));
  const volume = pouredVolume(job.pour);
  const { runawayNumber, criticalNumber } = runawayOf(job, corners);
  return {
    question: "pour",
    answer: {
      recommended: !refused,
      reasons,
      peak,
      peakTime: time((c) => c.peakTime),
      where: now.where,
      gelTime: time((c) => c.gelFirst),
      gelLast: time((c) => c.gelLast),
      bed,
      master,
      limit,
      deepestSinglePour: depths.deepest,
      recommendedDepth,
      cliff:
        cliff === null
          ? null
          : {
              ...cliff,
              depthLeft: cliff.depth - likely.setting.depth,
              margin: (pessimisticCliff ?? cliff).peak - worstPeak,
            },
      curve: depths.curve,
      byRoom: options.quick ? [] : depths.byRoom(),
      layers: plan?.layers ?? [],
      layersPeak: plan?.peak ?? null,
      layersWorstPeak: plan?.worstPeak ?? null,
      sandBetween: plan?.mechanical ?? false,
      alternatives,
      leave: time((c) => c.milestones.leave),
      turn: time((c) => c.milestones.turn),
      demold: time((c) => c.milestones.demold),
      clamp: time((c) => c.milestones.clamp),
      secondHalf:
        now.milestones.demold === null
          ? null
          : secondHalfOn(
              runs,
              likely.resin,
              {
                ...likely.setting,
                depth: depths.shareAt(likely.setting.depth) * likely.setting.depth,
              },
              now,
            ),
      cureReached: now.cureReached,
      glassReached: spreadAround(
        now.glassReached,
        mild.glassReached,
        hot.glassReached,
        "temperature",
      ),
      now: stateAt(job.pour.age, now),
      postCure: postCureOf(job, likely.resin, now),
      cold,
      filler: fillerOf(job, likely.resin, likely.setting),
      runawayNumber,
      criticalNumber,
      runawayLeavesOut: RUNAWAY_NUMBER_LEAVES_OUT,
      adiabaticPeak: likely.setting.stock + rise,
      volume,
      mass: volume * likely.resin.density,
      hardenerKnown: isCalibrated(job),
      energy: likely.resin.energy,
      cause: causeOfPeak(runs, corners),
      course: { times: now.curve.t, hot: now.curve.hot },
    },
    cautions: cautionsFor(job, { refused, stalled, peak: worstPeak }),
    ignored: ignoredIn(options.quick === true),
    effort: runs.effort.done(),
  };
}

/** How far the least cured place is at a time; from the last look on it stays as it was then. */
function stateAt(age: number | null, { hardening }: PourCourse): PourContent["now"] {
  if (age === null) return null;
  const { t, cure, glass } = hardening;
  const k = t.findIndex((time) => time >= age);
  if (k < 0) return { age, cure: cure[cure.length - 1], glass: glass[glass.length - 1] };
  if (k === 0) return { age, cure: (cure[0] * age) / t[0], glass: glass[0] };
  const share = (age - t[k - 1]) / (t[k] - t[k - 1]);
  const between = (v: readonly number[]) => v[k - 1] + share * (v[k] - v[k - 1]);
  return { age, cure: between(cure), glass: between(glass) };
}

/** A likely value with what the corners make of it; the grids differ, so the ends are put in order. */
function spreadAround(value: number, a: number, b: number, kind: Kind): Quantified {
  return { value, low: Math.min(value, a, b), high: Math.max(value, a, b), kind };
}

function timeRange(value: number | null, a: number | null, b: number | null): Quantified {
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

function depthsOf(
  runs: PourRuns,
  { likely, fast, slow }: PourCorners,
  courses: readonly PourCourse[],
  limit: number,
) {
  const today = likely.setting.depth;
  const share = wallShare(runs, likely.resin, likely.setting, courses[0].peak);
  const search = (c: typeof likely) => deepestPour(runs, c.resin, c.setting, limit, share);
  const [mid, shallow, deep] = [search(likely), search(fast), search(slow)];
  const points: [number, number][] = [
    [0, 1],
    [today, share],
  ];
  for (const { depth, share } of [mid, shallow, deep])
    if (depth !== null && points.every(([d]) => Math.abs(depth - d) > 1e-3))
      points.push([depth, share]);
  points.sort((a, b) => a[0] - b[0]);
  /** What the walls leave of a depth, linear between the depths where it was found out. */
  const shareAt = (depth: number) => {
    for (let i = 1; i < points.length; i++) {
      const [d0, s0] = points[i - 1];
      const [d1, s1] = points[i];
      if (depth <= d1) return s0 + ((depth - d0) / (d1 - d0)) * (s1 - s0);
    }
    return points[points.length - 1][1];
  };
  const peakOf = (c: typeof likely) => (depth: number) =>
    runs.linePeak(c.resin, { ...c.setting, depth: depth * shareAt(depth) }).value;
  const curveOf = (c: typeof likely) => depthCurve(peakOf(c), today);
  const riseOf = (c: typeof likely) => c.resin.heat / c.resin.specificHeat;
  const [likelyCurve, fastCurve, slowCurve] = [curveOf(likely), curveOf(fast), curveOf(slow)];
  const deepestOf = (d: number | null) => d ?? Number.POSITIVE_INFINITY;
  return {
    shareAt,
    deepest: spreadAround(
      deepestOf(mid.depth),
      deepestOf(shallow.depth),
      deepestOf(deep.depth),
      "length",
    ),
    curve: {
      depth: likelyCurve.depth,
      peak: likelyCurve.peak,
      low: slowCurve.peak.map((p, i) => Math.min(p, likelyCurve.peak[i])),
      high: fastCurve.peak.map((p, i) => Math.max(p, likelyCurve.peak[i])),
    },
    share,
    cliff: cliffOf(likelyCurve, peakOf(likely), riseOf(likely)),
    pessimisticCliff: cliffOf(fastCurve, peakOf(fast), riseOf(fast)),
    byRoom: () =>
      ROOMS.map((room) => {
        const stock = room + likely.setting.stock - likely.setting.room;
        const line = lineDepthFor(runs, likely.resin, { ...likely.setting, room, stock }, limit);
        return {
          room,
          deepest: line === null ? Number.POSITIVE_INFINITY : line / mid.share,
        };
      }),
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
  const limit = runs.job.limits.peak;
  if (layers === null && needed) return fewestLayers(runs, corners, limit, share);
  const count = layers ?? 1;
  const worstPeak = layersOf(runs, fast, count, share).peak;
  return { ...layersOf(runs, likely, count, share), worstPeak };
}

function runawayOf(job: Job, { likely }: PourCorners) {
  const { resin, setting } = likely;
  const { cap: _, ...plain } = resin.spec;
  const half = setting.depth / 2;
  const { delta } = pourRunawayNumber(makeTabulatedRateLaw(plain), {
    heat: resin.heat * resin.density,
    half,
    conductivity: resin.conductivity,
    T: setting.room,
  });
  const faces = pourFaces(job, setting);
  const film = (face: (typeof faces)["top"]) =>
    face.kind === "exchange" && typeof face.h === "number"
      ? face.h + radiationCoefficient(face.emissivity ?? 0, setting.room, setting.room)
      : 0;
  const { clay, bench } = job.pour;
  const below =
    1 /
    (clay.thickness / clay.material.conductivity.value +
      bench.thickness / bench.material.conductivity.value +
      1 / film(faces.under));
  const biot = (((film(faces.top) + below) / 2) * half) / resin.conductivity;
  return { runawayNumber: delta, criticalNumber: criticalRunaway("slab", biot).delta };
}

function cautionsFor(
  job: Job,
  { refused, stalled, peak }: { refused: boolean; stalled: boolean; peak: number },
): CautionCode[] {
  const cautions: CautionCode[] = [];
  if (refused && !stalled) cautions.push("pour_not_recommended");
  else if (peak > job.room.temperature + 15) cautions.push("pour_unattended");
  if (job.pour.granules > 0) cautions.push("metal_powder");
  if (job.pour.material.family === "resin")
    cautions.push(job.pour.material.resin?.law === "polyurethane" ? "isocyanate" : "resin_contact");
  if (job.pour.material.family === "silicone") cautions.push("silicone_inhibited");
  if (job.pour.postCure.length > 0) cautions.push("oven_ramp");
  return cautions;
}

function ignoredIn(quick: boolean): IgnoredCode[] {
  return [
    ...(quick ? (["one_dimension"] as const) : []),
    "mixing_faults",
    "humidity",
    "air_drafts",
  ];
}
