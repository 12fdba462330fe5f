import { expect, test } from "vitest";
import { parse } from "yaml";
import { checkJob, readJob } from "../../../lib/job/job.ts";
import { withThickness } from "../../../lib/job/with-body.ts";
import { withSetting } from "../../../lib/job/with-setting.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { InputError } from "../../../lib/units/problem.ts";

const SHAD = `
bait:
  length: 4.5 in
  stations:
    - { name: head, at: 0.75 in, width: 5/8 in, height: 11/16 in, form: round, rise: 2 mm }
    - { name: belly, at: 1 3/8 in, width: 3/4 in, height: 15/16 in, form: round }
    - { name: paddle, at: 4.2 in, width: 0.15 in, height: 0.5 in, form: lens }
mold: { material: filled epoxy, wall: 3/4 in }
`;
const DRAWN = `
bait:
  length: 60 mm
  outline: [[0 mm, 0 mm], [20 mm, 0 mm], [20 mm, 9 mm], [0 mm, 14 mm]]
`;
const ROUND = "bait: { thickness: 16 mm }";
const FLAT = "bait: { thickness: 8 mm, form: flat }";
const WIDE = "bait: { thickness: 12 mm, width: 22 mm }";

const set = (text: string, typed: string) =>
  checkJob(withSetting(parse(text), "bait.thickness", typed)).job;

test("all that was measured is scaled alike across, and the length stays", () => {
  const [before, after] = [readJob(SHAD).job.bait, set(SHAD, "1 1/8 in").bait];
  // 3/4 in to 1 1/8 in: one and a half times
  expect(after.thickness).toBeCloseTo(1.5 * before.thickness, 12);
  expect(after.length).toBe(before.length);
  for (const [i, station] of after.stations.entries()) {
    const { at, width, height } = before.stations[i]!;
    expect(station.at).toBe(at);
    expect(station.width).toBeCloseTo(1.5 * width, 12);
    expect(station.height).toBeCloseTo(1.5 * height, 12);
  }
  expect(after.stations[0]!.rise).toBeCloseTo(0.003, 12);
});

test("a thickness means one body, set in the file or dialed on a page", () => {
  for (const text of [SHAD, DRAWN, ROUND, FLAT, WIDE])
    for (const thickness of ["9 mm", "13/16 in", "18 mm"]) {
      const typed = set(text, thickness).bait;
      const dialed = withThickness(readJob(text).job, typed.thickness).bait;
      expect(typed.even).toEqual(dialed.even);
      expect(typed.stations.length).toBe(dialed.stations.length);
      for (const [i, station] of typed.stations.entries()) {
        expect(station.width).toBeCloseTo(dialed.stations[i]!.width, 9);
        expect(station.height).toBeCloseTo(dialed.stations[i]!.height, 9);
      }
    }
});

test("the same thickness in another unit is the same job", () => {
  const { job } = readJob(SHAD);
  expect(withThickness(job, 19.05e-3)).toBe(job);
  expect(set(SHAD, "19.05 mm").bait.stations[1]!.height).toBeCloseTo((15 / 16) * 0.0254, 12);
});

test("thicker never opens earlier, measured or not", () => {
  for (const text of [SHAD, DRAWN, WIDE]) {
    const { job } = readJob(text);
    const times = [0.8, 0.99, 1, 1.013, 1.1, 1.6].map(
      (by) =>
        demold(withThickness(job, by * job.bait.thickness), { quick: true }).answer.time.value,
    );
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(new Set(times).size).toBe(times.length);
  }
});

test("a thickness at which a station could not be is refused with what is possible", () => {
  const problems = (typed: string) => {
    try {
      set(SHAD, typed);
      return [];
    } catch (error) {
      if (error instanceof InputError) return error.problems;
      throw error;
    }
  };
  // the paddle, 0.15 in of 3/4 in, may be 0.5 mm: 2.5 mm, and no less by its rounding
  expect(problems("2 mm")).toMatchObject([
    { code: "stations_scaled", path: "bait.thickness", given: "2 mm", least: "2.501 mm" },
  ]);
  expect(problems("2.501 mm")).toEqual([]);
  expect(problems("90 mm")).toMatchObject([{ code: "too_big", path: "bait.thickness" }]);
  expect(problems("thick")).toMatchObject([{ path: "bait.thickness" }]);
});
