/** A search that asks for the peak alone ends once it is past: it must find the same one as the whole course. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { horizonOf } from "../../../../lib/models/pour/course.ts";
import {
  type PourSetting,
  pourLine,
  pourSection,
  settingOf,
} from "../../../../lib/models/pour/problem.ts";
import type { ResinCorner } from "../../../../lib/models/pour/resin.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";

const LIKELY: ResinCorner = {
  speed: "value",
  energy: "value",
  heat: "value",
  conductivity: "value",
};
const HOT: ResinCorner = { speed: "high", energy: "high", heat: "high", conductivity: "low" };
/** Grid and steps of searches. */
const SEARCHING = { estimateGrid: false, tolerance: 1e-3 } as const;

/** Peak of the whole course and of the search, and how many steps either took. */
function bothPeaks(
  text: string,
  changed: Partial<PourSetting>,
  { corner = LIKELY, section = false }: { corner?: ResinCorner; section?: boolean } = {},
) {
  const { job } = readJob(`bait: { thickness: 16 mm }\npour: { ${text} }`);
  const runs = pourRuns(job);
  const resin = runs.resin(corner);
  const setting = { ...settingOf(job), ...changed };
  const until = horizonOf(resin, setting.room, setting.stock);
  const whole = (section ? pourSection : pourLine)(job, resin, setting, {
    until,
    ...SEARCHING,
    resolution: section ? 0.35 : 1,
  });
  const wholeRuns = pourRuns(job);
  const course = wholeRuns.run({ ...whole, probes: { hot: whole.probes["hot"] } });
  const found = (section ? runs.sectionPeak : runs.linePeak)(resin, setting);
  const { max, maxTime } = course.extremes["hot"]!;
  return {
    whole: { value: max, time: maxTime },
    found,
    steps: [wholeRuns.effort.done().steps, runs.effort.done().steps],
  };
}

const C = 273.15;
const filled = "material: filled epoxy, thinFilm: { time: 4 h, at: 25 degC }";

describe("the peak of a search is that of the whole course", () => {
  const cases: readonly [string, Parameters<typeof bothPeaks>][] = [
    ["mild", [`${filled}, depth: 12 mm`, {}]],
    ["running away", [`${filled}, depth: 60 mm`, {}, { corner: HOT }]],
    ["cold and slow", [`${filled}, depth: 30 mm`, { room: 5 + C, stock: 5 + C }]],
    ["stock warmer than the room", [`${filled}, depth: 30 mm`, { room: 8 + C, stock: 30 + C }]],
    // from outside it is warmed first, and runs away in the middle hours later
    ["chilled stock", [`${filled}, depth: 70 mm`, { room: 23 + C, stock: 5 + C }, { corner: HOT }]],
    [
      "chilled stock in its box",
      [`${filled}, depth: 70 mm`, { room: 23 + C, stock: 5 + C }, { corner: HOT, section: true }],
    ],
    // it runs away at the top, and from there on down as a front that gets hotter where it ends
    [
      "a front",
      ["material: epoxy, depth: 82 mm", { room: 17 + C, stock: 12 + C }, { corner: HOT }],
    ],
    [
      "a front in its box",
      [
        "material: epoxy, depth: 64 mm",
        { room: 25 + C, stock: 16 + C },
        { corner: HOT, section: true },
      ],
    ],
    // a first small rise, as the room warms its top, is cooled away by the bath, and what is left runs away after it
    [
      "cooled from below",
      [
        "material: epoxy, depth: 22 mm, clay: { thickness: 3 mm }, bench: { thickness: 3 mm }",
        { room: 36 + C, stock: 31 + C, bath: 0 + C },
      ],
    ],
  ];
  for (const [name, asked] of cases)
    test(name, () => {
      const { whole, found } = bothPeaks(...asked);
      // the same steps to the peak: what differs is where the look ends
      expect(Math.abs(found.value - whole.value)).toBeLessThan(0.02);
      expect(Math.abs(found.time / whole.time - 1)).toBeLessThan(1e-3);
    });
});

test("past the peak of a mild pour no step is spent", () => {
  const { steps } = bothPeaks(`${filled}, depth: 12 mm`, {});
  expect(steps[1]).toBeLessThan(0.8 * steps[0]);
});
