/** The second half of a mold, poured on the first: does that one's face stay hard under it? T K, times s. */
import type { Quantified } from "../../answers/answer.ts";
import { cornersAt, type PourCorner, type PourCorners } from "../../models/pour/corners.ts";
import { horizonOf, isRubber, type PourCourse } from "../../models/pour/course.ts";
import { highest } from "../../models/pour/moments.ts";
import { type PourSetting, pourLine } from "../../models/pour/problem.ts";
import type { PouredResin } from "../../models/pour/resin.ts";
import type { PourRuns } from "../../models/pour/runs.ts";
import { quantified } from "../../models/ranged.ts";
import type { depthsOf } from "./depths.ts";
import { hottestWithBadLuck } from "./verdict.ts";

/** Its ends are those of all luck good or bad at once, of the same resin for both halves. */
export interface SecondHalf {
  /** Peak of the second pour, and the hottest that the face of the first half gets under it, K. */
  readonly peak: Quantified;
  readonly facePeak: Quantified;
  /** Glass transition of the first half less that, K: negative, it goes soft and takes the print of the second. */
  readonly margin: Quantified;
  /** `maybe`: with bad luck it does not. */
  readonly holds: "surely" | "maybe" | "no";
}

/** What one resin, with one luck, does to the first half that was poured of it. */
interface Met {
  readonly peak: number;
  readonly facePeak: number;
  readonly margin: number;
}

/** @param first the likely pour @returns null: it is not taken off its bed, or a rubber, which has no glass to lose */
export function secondHalfOf(
  runs: PourRuns,
  corners: PourCorners,
  first: PourCourse,
  { shareAt, anyLuck }: Pick<ReturnType<typeof depthsOf>, "shareAt" | "anyLuck">,
): SecondHalf | null {
  const { likely, fast } = corners;
  if (first.milestones.comesOff === null || isRubber(likely.resin.glass)) return null;
  const { depth } = likely.setting;
  const now = secondOn(
    runs,
    likely.resin,
    { ...likely.setting, depth: shareAt(depth) * depth },
    first.glassReached,
  );
  // the halves are poured on two days: each on the worse of what the room may be
  const withLuck = (resin: PouredResin, own: PourSetting, other: PourSetting): Met => {
    const there = (setting: PourSetting) => ({ ...setting, depth: anyLuck * depth });
    const { glassReached } = runs.draftCourse(resin, there(other));
    return secondOn(runs, resin, there(own), glassReached);
  };
  const lucky: PourCorner[] = runs.likelyOnly ? [] : cornersAt(runs, "low").slice(0, 1);
  const met = [
    now,
    ...lucky.map(({ resin, setting }) => withLuck(resin, setting, fast.setting)),
    ...(runs.likelyOnly
      ? []
      : hottestWithBadLuck(runs, fast, anyLuck).map((resin) =>
          withLuck(resin, fast.setting, lucky[0].setting),
        )),
  ];
  const range = (key: keyof Met, kind: "temperature" | "temperatureDifference") => {
    const all = met.map((one) => one[key]);
    return quantified({ value: now[key], low: Math.min(...all), high: Math.max(...all) }, kind);
  };
  const margin = range("margin", "temperatureDifference");
  return {
    peak: range("peak", "temperature"),
    facePeak: range("facePeak", "temperature"),
    margin,
    holds: margin.low > 0 ? "surely" : margin.value > 0 ? "maybe" : "no",
  };
}

/** The same depth poured on the cured first half instead of on clay. */
function secondOn(runs: PourRuns, resin: PouredResin, setting: PourSetting, glass: number): Met {
  const until = horizonOf(resin, setting.room, setting.stock);
  const onClay = pourLine(
    runs.job,
    resin,
    { ...setting, plate: null },
    { until, estimateGrid: false, estimateSteps: false },
  );
  const { cure: _, ...cured } = resin.material;
  const history = runs.run({
    ...onClay,
    materials: { ...onClay.materials, clay: cured },
    layers: onClay.layers!.map((layer) =>
      layer.name === "bed" ? { ...layer, thickness: setting.depth } : layer,
    ),
    probes: { hot: onClay.probes["hot"], bed: onClay.probes["bed"] },
  });
  const facePeak = highest(history, "bed").value;
  return { peak: highest(history, "hot").value, facePeak, margin: glass - facePeak };
}
