/** What else could be done than this pour, each with its peak. T K, times s. */
import type { Lever } from "../../answers/answer.ts";
import { materialNamed } from "../../materials/catalog.ts";
import type { PourCorner, PourCorners } from "../../models/pour/corners.ts";
import { OVER_MASTERS } from "../../models/pour/measured.ts";
import { peakHeldTo } from "../../models/pour/peak-held-to.ts";
import type { PourSetting } from "../../models/pour/problem.ts";
import { type PouredResin, type ResinChange, TOO_HOT } from "../../models/pour/resin.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import type { ColdPour } from "./cold.ts";
import type { RatedPlan } from "./layers.ts";

export interface Alternative extends Lever {
  /** Peak with it, in today's depth, K, and when. */
  readonly peak: number;
  readonly peakTime: number;
  /** Peak with it when pot life, heat, energy and room all turn out badly, and for a front that is lost between the cells, K. */
  readonly worstPeak: number;
  /** That counts a front that is lost between the cells. */
  readonly countsLostFront?: true;
  /** true when even that stays below the chosen limit. */
  readonly serves: boolean;
}

/** A hardener this many times slower, granules of this share, stock chilled by so much, a plate so thick. */
const SLOWER = 3;
const GRANULES = 0.3;
const CHILL = 15;
const COLDEST_STOCK = 278.15;
const COOLER_ROOM = 10;
const PLATE = { thickness: 0.01, width: null, contact: 1000 } as const;
const PLATE_OVER_MASTERS = 0.006;
const TAP_WATER = 288.15;
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
}

/** Every alternative that can be tried with this pour; none where the likely pour alone is asked for. */
export function alternativesTo(
  runs: PourRuns,
  corners: PourCorners,
  { limit, peak, worst, plan }: HeldAgainst,
): Alternative[] {
  const { job, likelyOnly } = runs;
  if (likelyOnly) return [];
  const { likely, fast } = corners;
  const { setting } = likely;
  const likelyPeak = peaksLike(runs, corners, peak);
  // what may be lost makes nothing worse than a pour in which nothing is
  const heldTo = [limit, TOO_HOT, ...(worst.lost > 0 ? [] : [worst.value])];
  const found: Alternative[] = [];
  const add = (
    lever: Lever,
    changed: { setting?: Partial<PourSetting>; resin?: ResinChange },
  ): void => {
    const changedAt = (corner: PourCorner) =>
      [
        runs.resin(corner.end, changed.resin),
        shifted(changed.setting ?? {}, setting, corner.setting),
      ] as const;
    const { value, time } = likelyPeak(...changedAt(likely));
    const unlucky = peakHeldTo(runs, ...changedAt(fast), heldTo);
    const worstPeak = Math.max(value, unlucky.value + unlucky.lost);
    found.push({
      ...lever,
      gives: { kind: "temperature", value },
      peak: value,
      peakTime: time,
      worstPeak,
      ...(unlucky.lost > 0 && { countsLostFront: true }),
      serves: worstPeak <= limit,
    });
  };
  if (plan && plan.layers.length > 1) {
    const hottest = plan.layers.reduce((a, b) => (b.peak > a.peak ? b : a));
    const to = plan.layers[0].depth;
    found.push({
      code: "layers",
      // a first layer that leaves the masters standing out is no single pour
      ...(to >= job.pour.masters.height + OVER_MASTERS && {
        change: { path: "pour.depth", kind: "length" as const, to },
      }),
      gives: { kind: "temperature", value: plan.peak },
      peak: plan.peak,
      peakTime: hottest.peakTime,
      worstPeak: plan.worstPeak,
      serves: plan.worstPeak <= limit,
    });
  }
  const { potLife, thinFilm } = job.pour;
  const slowed = potLife
    ? { path: "pour.potLife.time", to: SLOWER * potLife.time }
    : thinFilm
      ? { path: "pour.thinFilm.time", to: SLOWER * thinFilm.time }
      : null;
  add(
    {
      code: "slower_hardener",
      ...(slowed && { change: { ...slowed, kind: "duration" as const } }),
    },
    { resin: { slower: SLOWER } },
  );
  const granules = job.pour.granules;
  if (granules < GRANULES)
    add(
      { code: "granules", change: { path: "pour.granules", kind: "ratio", to: GRANULES } },
      { resin: { granules: GRANULES } },
    );
  const chilled = Math.max(COLDEST_STOCK, setting.stock - CHILL);
  if (setting.stock - chilled > 2)
    add(
      { code: "chilled_stock", change: { path: "pour.stock", kind: "temperature", to: chilled } },
      { setting: { stock: chilled } },
    );
  const cooler = setting.room - COOLER_ROOM;
  if (cooler >= 283.15)
    add(
      {
        code: "cooler_room",
        change: { path: "room.temperature", kind: "temperature", to: cooler },
      },
      { setting: { room: cooler, stock: Math.min(setting.stock, cooler) } },
    );
  if (!setting.fan) add({ code: "fan" }, { setting: { fan: true } });
  const over = job.pour.masters.height + PLATE_OVER_MASTERS;
  if (setting.plate === null && over + PLATE.thickness < setting.depth)
    add(
      { code: "metal_insert" },
      {
        setting: { plate: { ...PLATE, material: materialNamed("aluminum 6061"), over } },
      },
    );
  if (setting.waterBack === null && setting.room > TAP_WATER)
    add({ code: "water_back" }, { setting: { waterBack: TAP_WATER } });
  return found.sort((a, b) => a.peak - b.peak);
}

/** For a pour that would never harden: warm it, but only once it can no longer run away; none where with bad luck it always can. */
export function warmBoxAlternative({ warmBox }: ColdPour, limit: number): Alternative[] {
  if (warmBox === null || warmBox.worstPeak > limit) return [];
  const { from, peak, worstPeak } = warmBox;
  return [
    {
      // a warm room from the start is another pour: what is done once it has gelled has no key
      code: "warm_box_after_gel",
      gives: { kind: "temperature", value: peak },
      peak,
      peakTime: from,
      worstPeak,
      serves: true,
    },
  ];
}
