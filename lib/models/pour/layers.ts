/** A pour in layers: how deep, and from when until when the next may go on. T K, times s from the first pour. */
import { glassCure } from "../../cure/glass-transition.ts";
import type { History } from "../../heat/problem.ts";
import type { PourCorner, PourCorners } from "./corners.ts";
import { horizonOf, type Milestones, milestonesOfStack, reactionPeak } from "./course.ts";
import { hardens } from "./hardening.ts";
import { lostFront } from "./lost-front.ts";
import { fallsTo, highest, reaches } from "./moments.ts";
import { pourStack } from "./problem.ts";
import { type PouredResin, TOO_HOT, VITRIFICATION_OFFSET } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** One of the layers in which a pour is made. Times in s from the first, temperatures in K. */
export interface PourLayer {
  readonly number: number;
  readonly depth: number; // m
  /** May be poured from then until then, each earlier layer poured as early as it may be; the first at 0. */
  readonly from: number;
  readonly until: number;
  /** The same counted from the pour of the layer below; 0 for the first. */
  readonly waitFrom: number;
  readonly waitUntil: number;
  /** Hottest that this layer gets, K, and when. */
  readonly peak: number;
  readonly peakTime: number;
  /** true: not by itself, but under a layer that was poured on it later. */
  readonly reheated: boolean;
}

interface LayerPlan {
  readonly layers: readonly PourLayer[];
  /** Hottest of all, K. */
  readonly peak: number;
  /** How much hotter it may be for a front that is lost between the cells, K. */
  readonly lost: number;
  /** true when the last layer found no time at which the one below was both past its peak and still tacky. */
  readonly mechanical: boolean;
  /** When all of it may be touched, s after the last layer was poured. */
  readonly milestones: () => Milestones;
}

/**
 * Cure past the one at which glass forms where the reaction has practically stopped (the cap is down to 5 %): no more
 * chemical bond, sand first.
 */
const STIFF = 0.1;
/** Longest that a surface counts as tacky, s: published for a very slow resin is 12 to 24 h. */
const LONGEST_TACK = 24 * 3600;
const LOOKS = 160;
/** All of the last layer's cells are looked at at one in so many of these times, the last among them: as often as those of one pour. */
const LOOK_AT_ALL = 10;

/**
 * One plan: `count` even layers, each poured as soon as it may be.
 *
 * @param share what the walls leave of the depth (`wallShare`): 1-D layers are thinner by as much
 * @param enough K: a plan of which a layer gets hotter is not followed to its end, and has the layers so far
 */
export function layersOf(
  runs: PourRuns,
  { resin, setting }: PourCorner,
  count: number,
  share: number,
  enough = Number.POSITIVE_INFINITY,
): LayerPlan {
  const each = setting.depth / count;
  const depths = Array.from({ length: count }, () => each * share);
  const starts = [0];
  const waits: { from: number; until: number }[] = [{ from: 0, until: 0 }];
  const horizon = horizonOf(resin, setting.room, setting.stock);
  let mechanical = false;
  let last: History | undefined;
  for (let i = 0; i < count; i++) {
    const begin = starts[i];
    const until = begin + horizon;
    const times = Array.from(
      { length: LOOKS },
      (_, k) => begin + horizon * 2000 ** (k / (LOOKS - 1) - 1),
    );
    last = runs.run(
      pourStack(runs.job, resin, setting, {
        depths: depths.slice(0, i + 1),
        starts,
        until,
        estimateGrid: false,
        estimateSteps: false,
        times,
        ...(i === count - 1 && {
          snapshots: times.filter((_, k) => (LOOKS - 1 - k) % LOOK_AT_ALL === 0),
        }),
      }),
    );
    if (i === count - 1 || hottestOf(last, i + 1) > enough) break;
    const wait = windowAfter(last, resin, i, begin, setting.room);
    mechanical ||= wait.mechanical;
    waits.push({ from: wait.from - begin, until: wait.until - begin });
    starts.push(wait.from);
  }
  const history = last!;
  const layers = starts.map((_, i): PourLayer => {
    const { value, time } = highest(history, nameOf(i));
    return {
      number: i + 1,
      depth: each,
      from: starts[i],
      until: i === 0 ? 0 : starts[i - 1] + waits[i].until,
      waitFrom: waits[i].from,
      waitUntil: waits[i].until,
      peak: value,
      peakTime: time,
      reheated: time > (starts[i + 1] ?? Number.POSITIVE_INFINITY),
    };
  });
  const peak = Math.max(...layers.map((l) => l.peak));
  return {
    layers,
    peak,
    lost: lostFront(history, resin),
    mechanical,
    milestones: () =>
      milestonesOfStack(
        history,
        resin,
        starts.map((_, i) => nameOf(i)),
        {
          room: setting.room,
          begin: starts[starts.length - 1],
        },
      ),
  };
}

const nameOf = (i: number): string => (i === 0 ? "resin" : `resin${i + 1}`);

/** Hottest of the first layers, K. */
function hottestOf(history: History, count: number): number {
  return Math.max(...Array.from({ length: count }, (_, i) => highest(history, nameOf(i)).value));
}

/** When the next layer may go on layer `i`, which was poured at `begin`. */
function windowAfter(
  history: History,
  resin: PouredResin,
  i: number,
  begin: number,
  room: number,
): { from: number; until: number; mechanical: boolean } {
  const name = nameOf(i);
  const { times } = history;
  const top = history.probes[`top${i + 1}`];
  const cure = history.cure[`top${i + 1}`];
  const t = [...times];
  const peak = reactionPeak(history, name, highest(history, name, begin), {
    t,
    cure: [...cure],
    from: begin,
  });
  // the mild peak is past: it has begun to fall
  const past =
    fallsTo(history, name, peak.value - Math.max(0.3, 0.1 * (peak.value - room)), peak.time) ??
    peak.time;
  const gelled = reaches(t, [...cure], resin.gel) ?? history.end;
  const toStiff = t.map(
    (_, k) => cure[k] - Math.min(1, glassCure(resin.glass, top[k] + VITRIFICATION_OFFSET)),
  );
  const stiff = reaches(t, toStiff, STIFF, begin) ?? history.end;
  const from = Math.max(past, gelled);
  const until = Math.min(stiff, begin + LONGEST_TACK);
  // past its tack already: sand, and pour when it is past its peak
  return until > from
    ? { from, until, mechanical: false }
    : { from, until: from + LONGEST_TACK, mechanical: true };
}

/** Most layers that are tried. */
const MOST_LAYERS = 8;

/** Thinner than this no layer is worth its work, m (common practice, no source). */
const THINNEST = 0.006;

export interface RatedPlan extends LayerPlan {
  /** Peak of the same layers with the fast resin of the pessimistic corner, K. */
  readonly worstPeak: number;
  /** Whether a layer hardens within a week by itself, most likely. */
  readonly hardens: boolean;
}

/** A plan with its worst case, and whether its layers harden. */
export function rated(
  runs: PourRuns,
  { resin, setting }: PourCorner,
  plan: LayerPlan,
  worstPeak: number,
): RatedPlan {
  const { depth } = plan.layers[0];
  return { ...plan, worstPeak, hardens: hardens(runs, resin, { ...setting, depth }) };
}

/**
 * The fewest even layers whose peak stays below the limit even with the fast resin of the pessimistic corner; where
 * there are none, those that stay below it in the likely case and in that corner below what no pour may reach.
 *
 * @returns null when no layers do that are thick enough to be worth it
 */
export function fewestLayers(
  runs: PourRuns,
  { likely, fast }: PourCorners,
  limit: number,
  share: number,
): RatedPlan | null {
  let probably: RatedPlan | null = null;
  for (let count = 2; count <= MOST_LAYERS; count++) {
    if (likely.setting.depth / count < THINNEST) break;
    const unlucky = layersOf(runs, fast, count, share, TOO_HOT);
    const worstPeak = unlucky.peak + unlucky.lost;
    const sure = worstPeak <= limit;
    if (!sure && (probably !== null || worstPeak > TOO_HOT)) continue;
    const plan = layersOf(runs, likely, count, share);
    if (!sure && plan.peak > limit) continue;
    probably = rated(runs, likely, plan, worstPeak);
    if (sure) return probably;
  }
  return probably;
}
