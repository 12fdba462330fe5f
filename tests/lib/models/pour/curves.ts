/** Pours whose peaks are curves with a known inverse, so that a search can be held to the depth that it should find. */
import type { PourSetting } from "../../../../lib/models/pour/problem.ts";
import type { PouredResin } from "../../../../lib/models/pour/resin.ts";
import type { PourRuns } from "../../../../lib/models/pour/runs.ts";

export const ROOM = 293;
export const SETTING: PourSetting = {
  depth: 0.03,
  room: ROOM,
  stock: ROOM,
  fan: false,
  bath: null,
  plate: null,
};

/** A plate in the resin, m over the bed. */
export const plateOver = (over: number): PourSetting => ({
  ...SETTING,
  plate: { over, thickness: 0.003, width: null, contact: 500 } as unknown as PourSetting["plate"],
});

/** A rise over the room that grows with a power of the depth, by `at` K at 10 mm; and the depth of a rise. */
export const power = (at: number, exponent: number) => ({
  peak: (depth: number) => ROOM + at * (depth / 0.01) ** exponent,
  depth: (peak: number) => 0.01 * ((peak - ROOM) / at) ** (1 / exponent),
});

/** A slope that turns into a runaway by `rise` K around a depth, the steeper the larger `steep`. */
export const runaway = (cliff: number, rise: number, steep: number) => ({
  peak: (depth: number) => ROOM + rise / (1 + (depth / cliff) ** -steep),
  depth: (peak: number) => cliff * (rise / (peak - ROOM) - 1) ** (-1 / steep),
});

interface Curves {
  readonly line: (depth: number, setting: PourSetting, resin: PouredResin) => number;
  readonly section?: (depth: number) => number;
}

/** Runs of a pour with such peaks, which tell what they were asked. */
export function curveRuns({ line, section = () => Number.NaN }: Curves) {
  const looked = { line: 0, section: 0, depths: [] as number[] };
  const known = new Map<PouredResin, Map<number, number>>();
  const of = (resin: PouredResin) => {
    const peaks = known.get(resin) ?? new Map<number, number>();
    known.set(resin, peaks);
    return peaks;
  };
  const runs = {
    linePeak(resin: PouredResin, setting: PourSetting) {
      const peaks = of(resin);
      if (!peaks.has(setting.depth)) {
        looked.line += 1;
        looked.depths.push(setting.depth);
        peaks.set(setting.depth, line(setting.depth, setting, resin));
      }
      return { value: peaks.get(setting.depth)!, time: 1 };
    },
    linePeaks: (resin: PouredResin) =>
      [...of(resin)]
        .map(([depth, value]) => ({ depth, value, time: 1 }))
        .sort((a, b) => a.depth - b.depth),
    sectionPeak(_: PouredResin, { depth }: PourSetting) {
      looked.section += 1;
      return { value: section(depth), time: 1 };
    },
  };
  return { runs: runs as unknown as PourRuns, looked };
}

export const RESIN = {} as PouredResin;
