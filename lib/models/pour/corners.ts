/** The corners of what is known of a pour: likely, fast and hot, slow and cool; and which input matters the most. */
import type { Cause, LeverCode } from "../../answers/answer.ts";
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
  readonly slow: PourCorner;
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

/** Pot life, heat of reaction, activation energy, conductivity and room at their ends, by the peak that they give. */
export function pourCorners(runs: PourRuns): PourCorners {
  const corner = (end: "low" | "high"): PourCorner => {
    const peakAt = ({ resin, setting }: PourCorner) => runs.linePeak(resin, setting).value;
    const all = cornersAt(runs, end).sort((a, b) => peakAt(a) - peakAt(b));
    if (end === "high") all.reverse();
    const [first, ...others] = all;
    const rival = others.find((one) => one.end.energy !== first.end.energy);
    return { ...first, ...(rival && { rival: rival.resin }) };
  };
  return {
    likely: { end: LIKELY_RESIN, resin: runs.resin(LIKELY_RESIN), setting: settingOf(runs.job) },
    fast: corner("high"),
    slow: corner("low"),
  };
}

/** The input whose spread moves the peak the most, one at a time. */
export function causeOfPeak(runs: PourRuns, { likely }: PourCorners): Cause | null {
  const { job } = runs;
  const peakAt = (resin: PouredResin, setting: PourSetting) => runs.linePeak(resin, setting).value;
  const here = peakAt(likely.resin, likely.setting);
  const ends = (change: (end: "low" | "high") => Partial<ResinCorner>) =>
    ENDS.map((end) => peakAt(runs.resin({ ...LIKELY_RESIN, ...change(end) }), likely.setting));
  const give = job.uncertainty.roomTemperature;
  const inputs: { name: string; measure: LeverCode; peaks: number[] }[] = [
    {
      name: job.pour.thinFilm && !job.pour.potLife ? "pour.thinFilm" : "pour.potLife",
      measure: "measure_pot_life",
      peaks: ends((speed) => ({ speed })),
    },
    {
      name: "pour.thinFilm",
      measure: "measure_pot_life",
      peaks: ends((energy) => ({ energy })),
    },
    { name: "pour.peakExotherm", measure: "measure_pot_life", peaks: ends((heat) => ({ heat })) },
    {
      name: "pour.material",
      measure: "measure_conductivity",
      peaks: ends((conductivity) => ({ conductivity })),
    },
    {
      name: "room.temperature",
      measure: "measure_mold",
      peaks: [-give, give].map((by) => peakAt(likely.resin, warmer(likely.setting, by))),
    },
  ];
  const squares = inputs.map(({ peaks }) => Math.max(...peaks.map((p) => (p - here) ** 2)));
  const whole = squares.reduce((sum, s) => sum + s, 0);
  if (!(whole > 0)) return null;
  const first = squares.indexOf(Math.max(...squares));
  const { name, measure } = inputs[first];
  const share = squares[first] / whole;
  return { code: "input", name, measure, share, others: [], narrows: null };
}
