/**
 * The cold side of a pour: the cure that stops as glass, warming after the gel and not before, and a post-cure that
 * does not outrun its own glass transition. T K, times s, cure 0 to 1.
 */
import { START } from "../../cure/cup.ts";
import { glassAt, glassTransition, vitrificationCure } from "../../cure/glass-transition.ts";
import { timeToCure } from "../../cure/isothermal.ts";
import type { Boundary, HeatProblem, OverTime } from "../../heat/problem.ts";
import type { Job } from "../../job/types.ts";
import type { RateLaw } from "../../materials/material.ts";
import {
  cornerOf,
  lateCorners,
  type PourCorner,
  type PourCorners,
} from "../../models/pour/corners.ts";
import { horizonOf } from "../../models/pour/course.ts";
import { lostFront } from "../../models/pour/lost-front.ts";
import { highest, reaches } from "../../models/pour/moments.ts";
import { peakHeldTo } from "../../models/pour/peak-held-to.ts";
import { type PourSetting, pourLine } from "../../models/pour/problem.ts";
import { peakLimit, VITRIFICATION_OFFSET } from "../../models/pour/resin.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import { DEPTH_MARGIN, runawayOver } from "../../models/pour/safe.ts";
import { integrate } from "../../numerics/runge-kutta.ts";
import { Checks } from "../../units/check.ts";
import { hottestWithBadLuck } from "./verdict.ts";

/** A moment of a post-cure: s, K, cure 0 to 1, and the glass transition then, K. */
export interface PostCureStep {
  readonly time: number;
  readonly T: number;
  readonly cure: number;
  readonly glass: number;
}

/** How fast an oven may warm a cast mold without softening it. */
export interface PostCureRamp {
  /** Fastest even ramp that keeps the resin `margin` below its glass transition, K/s; 0: no ramp needed or possible. */
  readonly ramp: number;
  /** Time from `from` to `to` at that ramp, s; Infinity: the resin never gets there, however slowly. */
  readonly duration: number;
  /** Glass transition when the oven has reached `to`, K. */
  readonly glassReached: number;
  readonly steps: readonly PostCureStep[];
}

/** Durations of a ramp are known to this share: more would show as steps. */
const CLOSE_ENOUGH = 2e-3;

/**
 * The fastest ramp of an oven that a cast mold bears: its temperature stays `margin` below the glass transition, which
 * rises as the resin cures on.
 *
 *     T(t) <= Tg(a(t)) - margin,   da/dt = rate(a, T)
 *
 * The mold is taken as evenly warm, right for ramps of hours.
 *
 * @param start cure of the least cured place and the temperature `from` that it starts at
 * @param to temperature of the oven, K
 * @param margin K, 0 or more
 * @returns the even ramp from `from` to `to`, and its course
 * @throws InputError when a temperature, the cure or the margin is out of range
 * @example postCureRamp(makeRateLaw({ law: "nth-order", A: 1e6, E: 6e4, n: 1 }), { uncured: 230, cured: 380, lambda:
 * 0.4 }, { cure: 0.8, from: 298 }, 353).duration // 4258
 */
export function postCureRamp(
  law: RateLaw,
  glass: { readonly uncured: number; readonly cured: number; readonly lambda: number },
  start: { readonly cure: number; readonly from: number },
  to: number,
  margin = 5,
): PostCureRamp {
  const checks = new Checks();
  checks.number("cure", start.cure, { least: 0, most: 1 });
  checks.number("from", start.from, { above: 200, most: 600 });
  checks.number("to", to, { least: start.from, most: 600 });
  checks.number("margin", margin, { least: 0, most: 100 });
  checks.done();
  // checks the constants
  glassTransition(glass, start.cure);
  const Tg = (a: number) => glassAt(glass, Math.min(Math.max(a, 0), 1));
  const course = (duration: number) => {
    const out = new Float64Array(3);
    const steps: PostCureStep[] = [];
    let ahead = Number.POSITIVE_INFINITY;
    const at = (t: number) => start.from + ((to - start.from) * t) / duration;
    const run = integrate({
      slope(t, y, d) {
        law.evaluate(Math.min(y[0], 1), at(t), out);
        d[0] = out[0];
      },
      from: 0,
      until: duration,
      start: [start.cure],
      eachStep(t, y) {
        const a = Math.min(y[0], 1);
        ahead = Math.min(ahead, Tg(a) - at(t));
        steps.push({ time: t, T: at(t), cure: a, glass: Tg(a) });
      },
      relative: 1e-6,
      absolute: 1e-9,
    });
    return { ahead, steps, cure: Math.min(run.y[0], 1) };
  };
  const none = (duration: number): PostCureRamp => ({
    ramp: 0,
    duration,
    glassReached: Tg(start.cure),
    steps: [],
  });
  if (to === start.from) return none(0);
  const slowest = 60 * 24 * 3600;
  if (!(course(slowest).ahead >= margin)) return none(Number.POSITIVE_INFINITY);
  let [long, short] = [Math.log(slowest), Math.log(600)];
  if (course(600).ahead >= margin) long = short;
  while (long - short > CLOSE_ENOUGH) {
    const middle = (long + short) / 2;
    if (course(Math.exp(middle)).ahead >= margin) long = middle;
    else short = middle;
  }
  const duration = Math.exp(long);
  const { steps, cure } = course(duration);
  return { ramp: (to - start.from) / duration, duration, glassReached: Tg(cure), steps };
}

/**
 * Cure after a program of ramps and holds; evenly warm.
 *
 * @example cureAfterProgram(makeRateLaw({ law: "nth-order", A: 1e-4, E: 0, n: 1 }), { uncured: 230, cured: 360,
 * lambda: 0.4 }, { cure: 0, T: 333 }, [{ ramp: 1, temperature: 333, hold: 1e4 }]).cure // 0.632
 */
export function cureAfterProgram(
  law: RateLaw,
  glass: { readonly uncured: number; readonly cured: number; readonly lambda: number },
  start: { readonly cure: number; readonly T: number },
  program: Job["pour"]["postCure"],
): { readonly cure: number; readonly glass: number; readonly outruns: number } {
  const out = new Float64Array(3);
  let { cure, T } = start;
  // checks the constants
  glassTransition(glass, cure);
  let outruns = Number.NEGATIVE_INFINITY;
  const along = (duration: number, from: number, to: number) => {
    if (!(duration > 0)) return;
    const run = integrate({
      slope(t, y, d) {
        law.evaluate(Math.min(y[0], 1), from + ((to - from) * t) / duration, out);
        d[0] = out[0];
      },
      from: 0,
      until: duration,
      start: [cure],
      eachStep(t, y) {
        const now = from + ((to - from) * t) / duration;
        outruns = Math.max(outruns, now - glassAt(glass, Math.min(y[0], 1)));
      },
      relative: 1e-6,
      absolute: 1e-9,
    });
    cure = Math.min(run.y[0], 1);
  };
  for (const { temperature, hold, ramp } of program) {
    if (!(ramp > 0)) outruns = Math.max(outruns, temperature - glassTransition(glass, cure));
    along(ramp, T, temperature);
    along(hold, temperature, temperature);
    T = temperature;
  }
  return { cure, glass: glassTransition(glass, cure), outruns };
}

/** A pour that stiffens as glass before it has hardened, and what helps. */
export interface ColdPour {
  /** Cure at which the resin turns to glass at the room's temperature. */
  readonly stallsAt: number;
  /** true when that lies below the gel point: it stiffens as glass, and is liquid again when warmed. */
  readonly beforeGel: boolean;
  /** Warm box after this time, to that temperature, for so long until it is firm everywhere; null: none needed. */
  readonly warmBox: {
    readonly from: number;
    readonly to: number;
    readonly firmAfter: number | null;
    /** Peak with the box warmed then, and what it would be if it stood warm from the start, K. */
    readonly peak: number;
    /**
     * Hottest of the fast resins, which may run away by themselves, and of the slow ones, which have more heat left by then,
     * K: above the limit, no wait that was looked at makes warming safe.
     */
    readonly worstPeak: number;
    readonly peakAtOnce: number;
  } | null;
  /** The usual tip and its trap: stock warmed to 25 degC in this room; null in a warm room. */
  readonly warmStock: {
    readonly stock: number;
    readonly peak: number;
    /** With all luck bad, K. */
    readonly worstPeak: number;
    /** Whether that pour runs away when it is a little deeper. */
    readonly atEdge: boolean;
  } | null;
}

/** Target of a warm box, K: 25 degC, or 10 K over a warmer room. */
const BOX = 298.15;
/** Time in which a box comes to temperature, s. */
const BOX_RAMP = 3600;

/**
 * Looks at the cold side: what stalls, and how to warm it without waking the cliff.
 *
 * @param share what the walls leave of the depth
 */
export function coldPour(
  runs: PourRuns,
  corners: PourCorners,
  { share, stalled }: { readonly share: number; readonly stalled: boolean },
): ColdPour {
  const { resin, setting } = corners.likely;
  const stallsAt = vitrificationCure(resin.glass, setting.room, VITRIFICATION_OFFSET);
  const cold = setting.room < 288.15;
  return {
    stallsAt,
    beforeGel: stallsAt < resin.gel,
    warmBox: stalled || cold ? warmBoxOf(runs, corners) : null,
    // stock that is as warm as that needs no warming
    warmStock: cold && setting.stock < BOX ? warmStockOf(runs, corners, share) : null,
  };
}

function warmStockOf(
  runs: PourRuns,
  { likely: { resin, setting } }: PourCorners,
  share: number,
): ColdPour["warmStock"] {
  const warm = { ...setting, stock: BOX };
  const { value: peak } = runs.sectionPeak(resin, warm);
  const fast = cornerOf(runs, "high", warm);
  const resins = hottestWithBadLuck(runs, fast, share);
  const limit = peakLimit(runs.job);
  const over = runawayOver(limit);
  const hottest = (depth: number) =>
    Math.max(
      ...resins.map((one) => {
        const { value, lost } = peakHeldTo(runs, one, { ...fast.setting, depth }, [limit, over]);
        return value + lost;
      }),
    );
  const worstPeak = Math.max(peak, hottest(setting.depth));
  const atEdge = worstPeak <= over && hottest(DEPTH_MARGIN * setting.depth) > over;
  return { stock: BOX, peak, worstPeak, atEdge };
}

/** Waits before a box is warmed: as long as the likely resin takes to so much of what it comes to in the cold, and longer. */
const WAITS_TO = [0.5, 0.7, 0.85, 0.95];
const LONGER = [1.5, 2.5];

function warmBoxOf(runs: PourRuns, { likely, fast }: PourCorners): ColdPour["warmBox"] {
  const { resin, setting } = likely;
  const limit = peakLimit(runs.job);
  const law = resin.material.cure!.law;
  const to = Math.max(BOX, setting.room + 10);
  const start = Math.max(START, resin.material.cure!.initial);
  const horizon = horizonOf(resin, setting.room, setting.stock);
  const stall = vitrificationCure(resin.glass, setting.room, VITRIFICATION_OFFSET);
  const waits = WAITS_TO.flatMap((part) => {
    const cure = Math.max(2 * start, part * Math.min(stall, resin.gel));
    return timeToCure(law, setting.room, { from: start, to: cure }) ?? [];
  });
  const longest = waits[waits.length - 1] ?? 0;
  const all = [...waits, ...LONGER.map((by) => by * longest)].filter((t) => t > 0 && t < horizon);
  // those that are left with most heat first: they tell soonest that a wait is too short
  const rival = fast.rival === undefined ? [] : [{ ...fast, resin: fast.rival }];
  const unlucky = [...lateCorners(runs).reverse(), fast, ...rival];
  const stays = (from: number) =>
    [likely, ...unlucky].every((one) => boxPeak(runs, one, { from, to }).worst <= limit);
  // as soon as so much has reacted that the rest can no longer run away, with bad luck either
  const from = all.find(stays) ?? all[all.length - 1];
  if (from === undefined) return null;
  const { peak } = boxPeak(runs, likely, { from, to });
  return {
    from,
    to,
    firmAfter: firmInBox(runs, likely, { from, to, until: from + horizon }),
    peak,
    worstPeak: Math.max(peak, ...unlucky.map((one) => boxPeak(runs, one, { from, to }).worst)),
    peakAtOnce: runs.linePeak(resin, { ...setting, room: to }).value,
  };
}

type Boxed = Pick<PourCorner, "resin" | "setting">;

/** Every face in a room that is warmed to `to` from `from` on. */
function inBox(
  boundary: HeatProblem["boundary"],
  { room }: PourSetting,
  { from, to }: { readonly from: number; readonly to: number },
): HeatProblem["boundary"] {
  const ambient: OverTime = { t: [from, from + BOX_RAMP], value: [room, to] };
  const warm = (b: Boundary): Boundary => (b.kind === "exchange" ? { ...b, ambient } : b);
  return Object.fromEntries(Object.entries(boundary).map(([face, b]) => [face, warm(b)]));
}

/** Peak, and with what a lost front leaves open, when the room is warmed, as if no heat left by the short walls of the box: no cooler than it is. */
function boxPeak(
  runs: PourRuns,
  { resin, setting }: Boxed,
  box: { readonly from: number; readonly to: number },
): { readonly peak: number; readonly worst: number } {
  const until = box.from + horizonOf(resin, box.to, box.to);
  const { ends: _, ...problem } = runs.searched(resin, setting, until);
  const boundary = inBox(problem.boundary, setting, box);
  const history = runs.run({ ...problem, boundary });
  const { value: peak } = highest(history, "hot");
  return { peak, worst: peak + lostFront(history, resin) };
}

/** When the top of a pour in a warmed room is firm; null: not until then. */
function firmInBox(
  runs: PourRuns,
  { resin, setting }: Boxed,
  { until, ...box }: { readonly from: number; readonly to: number; readonly until: number },
): number | null {
  const times = Array.from({ length: 160 }, (_, i) => (until * (i + 1)) / 160);
  const problem = pourLine(runs.job, resin, setting, {
    until,
    estimateGrid: false,
    estimateSteps: false,
    times,
  });
  const boundary = inBox(problem.boundary, setting, box);
  const history = runs.run({ ...problem, boundary });
  const least = times.map((_, i) =>
    Math.min(...["top", "bottom"].map((p) => history.cure[p]?.[i] ?? 0)),
  );
  return reaches(times, least, resin.gel + 0.05);
}
