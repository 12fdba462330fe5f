/** The simulations of a pour: what is run once is known, what is asked to stop stops, and each grid agrees with the others. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { settingOf } from "../../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN } from "../../../../lib/models/pour/resin.ts";
import { type PourOptions, pourRuns } from "../../../../lib/models/pour/runs.ts";

const TEXT =
  "bait: { thickness: 16 mm }\npour: { depth: 30 mm, box: { width: 120 mm, wall: 12 mm } }";
function pouring(options: PourOptions = {}, text = TEXT) {
  const { job } = readJob(text);
  const runs = pourRuns(job, options);
  return { runs, resin: runs.resin(LIKELY_RESIN), setting: settingOf(job) };
}

describe("peaks far from the walls", () => {
  test("are run once for each depth, and known from shallow to deep", () => {
    const { runs, resin, setting } = pouring({ quick: true });
    expect(runs.linePeaks(resin, setting)).toEqual([]);
    const depths = [0.03, 0.01, 0.02, 0.03, 0.01];
    const first = depths.map((depth) => runs.linePeak(resin, { ...setting, depth }));
    const { steps } = runs.effort;
    expect(steps).toBeGreaterThan(0);
    const again = depths.map((depth) => runs.linePeak(resin, { ...setting, depth }));
    expect(again).toEqual(first);
    expect(runs.effort.steps).toBe(steps);
    const known = runs.linePeaks(resin, { ...setting, depth: 0.5 });
    expect(known.map(({ depth }) => depth)).toEqual([0.01, 0.02, 0.03]);
    expect(known[1]).toMatchObject(first[2]!);
    // a deeper pour of a resin that heats itself is hotter
    expect(known[0]!.value).toBeLessThan(known[1]!.value);
    expect(known[1]!.value).toBeLessThan(known[2]!.value);
    // another setting, and another resin, are others
    const warm = { ...setting, room: setting.room + 8, stock: setting.stock + 8 };
    expect(runs.linePeaks(resin, warm)).toEqual([]);
    expect(runs.linePeak(resin, warm).value).toBeGreaterThan(first[0]!.value);
    expect(runs.linePeaks(resin, setting)).toHaveLength(3);
    const other = runs.resin(LIKELY_RESIN, {});
    if (other !== resin) expect(runs.linePeaks(other, setting)).toEqual([]);
  });
  test("agree with a draft and with the course, far from walls", () => {
    const { runs, resin, setting } = pouring({ quick: true });
    const { value, time } = runs.linePeak(resin, setting);
    // 0.1 K and 1 K are what searches and drafts are said to be off by at most, nearly always
    expect(Math.abs(runs.draftPeak(resin, setting) - value)).toBeLessThan(1);
    for (const course of [runs.course(resin, setting, "fine"), runs.draftCourse(resin, setting)]) {
      expect(Math.abs(course.peak - value)).toBeLessThan(1);
      expect(Math.abs(course.peakTime / time - 1)).toBeLessThan(0.02);
    }
    // without the walls the cut is the line
    for (const cut of [runs.sectionPeak(resin, setting), runs.closerPeak(resin, setting)])
      expect([cut.value, cut.time]).toEqual([value, time]);
  });
});

test("walls take heat: in the cut a narrow pour is cooler than far from them, on either grid", () => {
  const { runs, resin, setting } = pouring(
    {},
    "bait: { thickness: 16 mm }\npour: { depth: 30 mm, box: { width: 40 mm, wall: 12 mm } }",
  );
  const line = runs.linePeak(resin, setting).value;
  const coarse = runs.sectionPeak(resin, setting).value;
  const closer = runs.closerPeak(resin, setting).value;
  expect(coarse).toBeLessThan(line - 2);
  expect(Math.abs(closer - coarse)).toBeLessThan(1.5);
  expect(runs.sectionPeak(resin, setting)).toBe(runs.sectionPeak(resin, setting));
  const look = runs.looked(resin, setting, 600);
  expect(look.time).toBeCloseTo(600, 6);
  expect(look.y.length).toBeGreaterThan(3);
  const quick = pouring({ quick: true });
  expect(quick.runs.looked(quick.resin, quick.setting, 600).y.length).toBe(2);
});

test("who asks to stop is asked in every run, and is heard", () => {
  let asked = 0;
  const stopping = pouring({
    quick: true,
    shouldStop: () => {
      asked += 1;
      return asked > 3;
    },
  });
  stopping.runs.linePeak(stopping.resin, stopping.setting);
  expect(asked).toBeGreaterThan(3);
  const { steps } = stopping.runs.effort;
  const whole = pouring({ quick: true });
  whole.runs.linePeak(whole.resin, whole.setting);
  expect(steps).toBeLessThan(whole.runs.effort.steps);
  // without a word it runs to its end
  expect(pouring().runs.likelyOnly).toBe(false);
  expect(pouring({ likelyOnly: true }).runs.likelyOnly).toBe(true);
});
