/** What else could be done than this pour, each with its peak. T K, times s. */
import type { Lever } from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import { materialNamed } from "../../materials/catalog.ts";
import { GRANULES, inCoolerRoom, SAME_STOCK, SLOWER, unwarmed } from "../../models/pour/changes.ts";
import { cornerOf, type PourCorner, type PourCorners } from "../../models/pour/corners.ts";
import { hardens, LONGEST_TO_HARDEN } from "../../models/pour/hardening.ts";
import type { RatedPlan } from "../../models/pour/layers.ts";
import { wallShare } from "../../models/pour/line-depth.ts";
import { OVER_MASTERS } from "../../models/pour/measured.ts";
import { peakHeldTo } from "../../models/pour/peak-held-to.ts";
import { type PourSetting, settingOf } from "../../models/pour/problem.ts";
import { type PouredResin, type ResinChange, TOO_HOT } from "../../models/pour/resin.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import { hasRoom, type SafeDepth } from "../../models/pour/safe.ts";
import type { ColdPour } from "./cold.ts";

export interface Alternative extends Lever {
  /** Peak with it, in today's depth, K, and when; null: it gets no hotter than it is poured. */
  readonly peak: number;
  readonly peakTime: number | null;
  /** Peak with it when pot life, heat, energy and room all turn out badly, and for a front that is lost between the cells, K. */
  readonly worstPeak: number;
  /** That counts a front that is lost between the cells. */
  readonly countsLostFront?: true;
  /** Whether it hardens within a week, most likely; of layers, each by itself. */
  readonly hardens: boolean;
  /** true when it hardens, and even its worst stays below the chosen limit, off the cliff. */
  readonly serves: boolean;
}

/** Stock chilled by so much, a plate so thick. */
const CHILL = 15;
const COLDEST_STOCK = 278.15;
const PLATE = { thickness: 0.01, width: null, contact: 1000 } as const;
const PLATE_OVER_MASTERS = 0.006;
/** A rise below this tells nothing of its grid, K. */
const LEAST_RISE = 1;
/** Below this rise the coarser grid does, K: carried over, within 0.4 K of whole answers (measured: 49 alternatives of seven jobs). */
const MILD = 30;

/** A change of the likely setting, made in another corner: a room that is off by so much stays off by it. */
function shifted(
  change: Partial<PourSetting>,
  likely: PourSetting,
  corner: PourSetting,
): PourSetting {
  const { room, stock } = change;
  return {
    ...corner,
    ...change,
    ...(room !== undefined && { room: room + corner.room - likely.room }),
    ...(stock !== undefined && { stock: stock + corner.stock - likely.stock }),
  };
}

/** Peaks of changed pours as their own answers have them: what the grid adds to the rise of today's is taken off theirs. */
function peaksLike(runs: PourRuns, { likely }: PourCorners, peak: number) {
  const from = ({ room, stock }: PourSetting) => Math.max(room, stock);
  const carried = (peakAt: PourRuns["sectionPeak"]) => {
    const rise = peakAt(likely.resin, likely.setting).value - from(likely.setting);
    const share = rise > LEAST_RISE ? (peak - from(likely.setting)) / rise : 1;
    return (resin: PouredResin, setting: PourSetting) => {
      const { value, time } = peakAt(resin, setting);
      const over = value - from(setting);
      return { value: over > 0 ? from(setting) + share * over : value, time };
    };
  };
  const roughly = carried(runs.sectionPeak);
  let closely: ReturnType<typeof carried> | undefined;
  return (resin: PouredResin, setting: PourSetting) => {
    const found = roughly(resin, setting);
    if (found.value - from(setting) < MILD) return found;
    closely ??= carried(runs.closerPeak);
    return closely(resin, setting);
  };
}

/** What alternatives are held against, K. */
interface HeldAgainst {
  readonly limit: number;
  /** Today's, most likely. */
  readonly peak: number;
  /** Today's with everything unlucky, and what of it is for a lost front. */
  readonly worst: { readonly value: number; readonly lost: number };
  readonly plan: RatedPlan | null;
  readonly safe: SafeDepth;
  /** What the walls leave of today's depth. */
  readonly share: number;
}

/** Something to do, and what it changes of the pour. */
interface Change {
  readonly lever: Lever;
  readonly setting?: Partial<PourSetting>;
  readonly resin?: ResinChange;
}

/** Every alternative that can be tried with this pour; none where the likely pour alone is asked for. */
export function alternativesTo(
  runs: PourRuns,
  corners: PourCorners,
  { limit, peak, worst, plan, safe, share }: HeldAgainst,
): Alternative[] {
  if (runs.likelyOnly) return [];
  const { likely, fast } = corners;
  const likelyPeak = peaksLike(runs, corners, peak);
  // what may be lost makes nothing worse than a pour in which nothing is
  const heldTo = [limit, TOO_HOT, ...(worst.lost > 0 ? [] : [worst.value])];
  // a pour that is safe as it is stays so
  const roomLeft = likely.setting.depth <= safe.depth;
  const warmed = likely.setting.stock > likely.setting.room;
  const rated = ({ lever, setting = {}, resin }: Change): Alternative => {
    const changedAt = (corner: PourCorner, end = corner.end): PourCorner => ({
      end,
      resin: runs.resin(end, resin),
      setting: shifted(setting, likely.setting, corner.setting),
    });
    const now = changedAt(likely);
    // resin that is warmer than its room may be hottest where it conducts well, and unwarmed where it does not
    const hottest: PourCorner =
      warmed && setting.stock !== undefined ? cornerOf(runs, "high", now.setting) : changedAt(fast);
    const { value, time } = likelyPeak(now.resin, now.setting);
    const unlucky = peakHeldTo(runs, hottest.resin, hottest.setting, heldTo);
    let worstPeak = Math.max(value, unlucky.value + unlucky.lost);
    const hard = hardens(runs, now.resin, now.setting);
    let serves = hard && worstPeak <= limit;
    if (serves && !roomLeft) {
      // changed, it may be the one of the other activation energy that gets further
      const energy = hottest.end.energy === "high" ? "low" : "high";
      const rival = hottest.rival
        ? { ...hottest, resin: hottest.rival }
        : changedAt(fast, { ...fast.end, energy });
      const { value: other, lost } = peakHeldTo(runs, rival.resin, rival.setting, heldTo);
      worstPeak = Math.max(worstPeak, other + lost);
      serves = [hottest, rival].every((one) => keepsOff(runs, one, { limit, worstPeak, share }));
    }
    return {
      ...lever,
      gives: { kind: "temperature", value },
      peak: value,
      peakTime: value > now.setting.stock + LEAST_RISE ? time : null,
      worstPeak,
      ...(unlucky.lost > 0 && { countsLostFront: true }),
      hardens: hard,
      serves,
    };
  };
  const found = changesOf(runs.job, likely.setting).map(rated);
  if (plan && plan.layers.length > 1) found.push(inLayers(runs.job, plan, limit));
  return found.sort((a, b) => Number(b.hardens) - Number(a.hardens) || a.peak - b.peak);
}

/** Whether a pour stays below the limit and off its cliff, with room for a little more depth. */
function keepsOff(
  runs: PourRuns,
  corner: PourCorner,
  {
    limit,
    worstPeak,
    share,
  }: { readonly limit: number; readonly worstPeak: number; readonly share: number },
): boolean {
  if (worstPeak > limit) return false;
  const { resin, setting } = corner;
  const own = wallShare(runs, resin, setting, worstPeak);
  // hottest as it is poured it tells nothing of its walls
  const left = setting.stock > setting.room ? Math.max(own, share) : own;
  return hasRoom(runs, corner, limit, { worst: worstPeak, line: left * setting.depth });
}

function inLayers({ pour }: Job, plan: RatedPlan, limit: number): Alternative {
  const hottest = plan.layers.reduce((a, b) => (b.peak > a.peak ? b : a));
  const to = plan.layers[0].depth;
  return {
    code: "layers",
    // a first layer that leaves the masters standing out is no single pour
    ...(to >= pour.masters.height + OVER_MASTERS && {
      change: { path: "pour.depth", kind: "length" as const, to },
    }),
    gives: { kind: "temperature", value: plan.peak },
    peak: plan.peak,
    peakTime: hottest.peakTime,
    worstPeak: plan.worstPeak,
    hardens: plan.hardens,
    serves: plan.hardens && plan.worstPeak <= limit,
  };
}

/** What can be changed of this pour, one thing at a time. */
function changesOf(job: Job, setting: PourSetting): Change[] {
  const { granules, masters } = job.pour;
  const found: Change[] = [{ lever: slowerHardener(job), resin: { slower: SLOWER } }];
  const add = (change: Change) => found.push(change);
  if (granules < GRANULES)
    add({
      lever: { code: "granules", change: { path: "pour.granules", kind: "ratio", to: GRANULES } },
      resin: { granules: GRANULES },
    });
  const addJob = (changed: ReturnType<typeof unwarmed>) => {
    if (changed === null) return;
    const { room, stock } = settingOf(changed.job);
    add({ lever: changed.lever, setting: { room, stock } });
  };
  addJob(unwarmed(job));
  const unchilled = Math.min(setting.stock, setting.room);
  const to = Math.max(COLDEST_STOCK, unchilled - CHILL);
  if (unchilled - to > SAME_STOCK)
    add({
      lever: { code: "chilled_stock", change: { path: "pour.stock", kind: "temperature", to } },
      setting: { stock: to },
    });
  addJob(inCoolerRoom(job));
  // a box that stands in a bath is taken out of it
  if (!setting.fan) add({ lever: { code: "fan" }, setting: { fan: true, bath: null } });
  const over = masters.height + PLATE_OVER_MASTERS;
  if (setting.plate === null && over + PLATE.thickness < setting.depth)
    add({
      lever: { code: "metal_insert" },
      setting: { plate: { ...PLATE, material: materialNamed("aluminum 6061"), over } },
    });
  return found;
}

function slowerHardener({ pour: { potLife, thinFilm } }: Job): Lever {
  const typed = potLife
    ? { path: "pour.potLife.time", to: SLOWER * potLife.time }
    : thinFilm
      ? { path: "pour.thinFilm.time", to: SLOWER * thinFilm.time }
      : null;
  return {
    code: "slower_hardener",
    ...(typed && { change: { ...typed, kind: "duration" as const } }),
  };
}

/** For a pour that would never harden: warm it, but only once it can no longer run away; none where with bad luck it always can. */
export function warmBoxAlternative({ warmBox }: ColdPour, limit: number): Alternative[] {
  if (warmBox === null || warmBox.worstPeak > limit) return [];
  const { from, firmAfter, peak, worstPeak } = warmBox;
  const hardens = firmAfter !== null && firmAfter < LONGEST_TO_HARDEN;
  return [
    {
      // a warm room from the start is another pour: what is done once it has gelled has no key
      code: "warm_box_after_gel",
      gives: { kind: "temperature", value: peak },
      peak,
      peakTime: from,
      worstPeak,
      hardens,
      serves: hardens,
    },
  ];
}
