/** The corners of what is known of a pour: likely, fast and hot, slow and cool. */
import { type PourSetting, settingOf } from "./problem.ts";
import { LIKELY_RESIN, type PouredResin, type ResinCorner } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

export interface PourCorner {
  readonly end: ResinCorner;
  readonly resin: PouredResin;
  readonly setting: PourSetting;
  /** The hottest with the other end of the activation energy, which within walls may get further. */
  readonly rival?: PouredResin;
}

export interface PourCorners {
  readonly likely: PourCorner;
  /** Pot life, heat, energy, conductivity and room all as unlucky as they may be. */
  readonly fast: PourCorner;
}

const ENDS = ["low", "high"] as const;

function warmer(setting: PourSetting, by: number): PourSetting {
  return { ...setting, room: setting.room + by, stock: setting.stock + by };
}

/**
 * Everything that is as unlucky (`high`) or as lucky (`low`) at either end of activation energy and conductivity: whether
 * a high energy is the hot or the cool end depends on the side of the data sheet's temperature, and a mix that conducts
 * well cools a thick pour, but draws heat into a thin one from its neighbors.
 */
export function cornersAt(
  runs: PourRuns,
  end: "low" | "high",
  setting = settingOf(runs.job),
): PourCorner[] {
  const give = runs.job.uncertainty.roomTemperature;
  const there = warmer(setting, end === "high" ? give : -give);
  return ENDS.flatMap((energy) =>
    ENDS.map((conductivity): PourCorner => {
      const at: ResinCorner = { speed: end, energy, heat: end, conductivity };
      return { end: at, resin: runs.resin(at), setting: there };
    }),
  );
}

/**
 * Who is left with most heat after a wait in the cold of which the likely pour needs no more: a slow resin that the wait
 * found colder, whichever its activation energy.
 */
export function lateCorners(runs: PourRuns): PourCorner[] {
  const setting = warmer(settingOf(runs.job), -runs.job.uncertainty.roomTemperature);
  return ENDS.map((energy): PourCorner => {
    const end: ResinCorner = { speed: "low", energy, heat: "high", conductivity: "low" };
    return { end, resin: runs.resin(end), setting };
  });
}

/** Pot life, heat of reaction, activation energy, conductivity and room at their ends, by the peak that they give. */
export function pourCorners(runs: PourRuns): PourCorners {
  return {
    likely: { end: LIKELY_RESIN, resin: runs.resin(LIKELY_RESIN), setting: settingOf(runs.job) },
    fast: cornerOf(runs, "high"),
  };
}

/** The hottest of the unlucky corners, or the coolest of the lucky ones. */
export function cornerOf(
  runs: PourRuns,
  end: "low" | "high",
  setting: PourSetting = settingOf(runs.job),
): PourCorner {
  const peakAt = ({ resin, setting }: PourCorner) => runs.linePeak(resin, setting).value;
  const all = cornersAt(runs, end, setting).sort((a, b) => peakAt(a) - peakAt(b));
  if (end === "high") all.reverse();
  const [first, ...others] = all;
  const rival = others.find((one) => one.end.energy !== first.end.energy);
  return { ...first, ...(rival && { rival: rival.resin }) };
}
