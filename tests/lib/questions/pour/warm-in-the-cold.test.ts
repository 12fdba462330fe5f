import { expect, test } from "vitest";
import { simulate } from "../../../../lib/heat/simulate.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { cornersAt } from "../../../../lib/models/pour/corners.ts";
import { horizonOf } from "../../../../lib/models/pour/course.ts";
import { pourSection } from "../../../../lib/models/pour/problem.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { pourQuestion } from "../../../../src/cli/questions/pour.ts";

/** Stock of 50 degC in a room below freezing, in a box so narrow that most likely it only cools. */
const NARROW = "hardener: slow, thinFilm: { time: 24 h, at: 25 degC }";
const jobOf = (pouring: string, room: number, depth: number) =>
  readJob(
    `{ bait: { thickness: 16 mm }, room: { temperature: ${room} degC }, pour: { material: filled epoxy, ${pouring}, depth: ${depth} mm } }`,
  ).job;
const narrow = (depth: number) =>
  jobOf(`${NARROW}, stock: 50 degC, box: { length: 60 mm, width: 40 mm }`, -5, depth);

const hasFew = { brief: true } as const;

test("how deep a warm pour may be does not depend on the depth that is asked about", () => {
  for (const depth of [20, 100, 250, 300]) {
    const job = narrow(depth);
    const { answer } = pour(job, hasFew);
    expect(answer.heatDepth, `${depth} mm`).toBe(Number.POSITIVE_INFINITY);
    expect(answer.deepestSinglePour.low).toBe(Number.POSITIVE_INFINITY);
    expect(answer.cliff).toBeNull();
    expect(answer.reasons).toEqual(["never_hardens"]);
    // 48 to 52 degC is what was poured; a depth far from walls that runs away is none of this box
    expect(answer.peak.high).toBeLessThanOrEqual(answer.worstPeak);
    // the unluckiest pours, each alone on finer cells: no corner of this box runs away
    if (depth !== 300) continue;
    const runs = pourRuns(job);
    for (const { resin, setting } of cornersAt(runs, "high")) {
      const until = 0.15 * horizonOf(resin, setting.room, setting.stock);
      const finer = simulate(
        pourSection(job, resin, setting, { until, estimateGrid: false, resolution: 1 }),
      ).extremes["hot"].max;
      expect(Math.abs(finer - answer.worstPeak)).toBeLessThan(1);
    }
  }
}, 120_000);

test("the deepest that likely holds is not less than the deepest that does with all bad luck", () => {
  const cold = (depth: number) =>
    pour(
      jobOf("hardener: slow, stock: 2.1 degC, box: { length: 223 mm, width: 126 mm }", -3, depth),
      hasFew,
    ).answer;
  const { deepestSinglePour, heatDepth } = cold(100);
  expect(deepestSinglePour.value).toBe(Number.POSITIVE_INFINITY);
  expect(heatDepth).toBeGreaterThan(0.07);
  expect(deepestSinglePour.low).toBeGreaterThan(heatDepth);
}, 60_000);

test("stock that is warm already is not to be warmed", () => {
  expect(pour(narrow(40), hasFew).answer.cold.warmStock).toBeNull();
  const cold = jobOf(NARROW, -5, 40);
  expect(pour(cold, hasFew).answer.cold.warmStock).not.toBeNull();
}, 60_000);

test("a peak above what all heat alone would make of it is told of its front", () => {
  const told = (material: string) => {
    const { job } = readJob(
      `{ bait: { thickness: 16 mm }, pour: { material: ${material}, hardener: fast, depth: 45 mm } }`,
    );
    const found = pour(job, hasFew);
    const { body } = pourQuestion.text(found, job, "metric");
    return { ...found.answer, text: body.join("\n") };
  };
  const neat = told("unfilled epoxy");
  expect(neat.peak.value).toBeGreaterThan(neat.adiabaticPeak + 10);
  expect(neat.text).toMatch(/more than all its heat alone/);
  // where a front ends it has warmed all there was before it
  expect(neat.where.overBed).toBeLessThan(0.045 / 3);
  const filled = told("filled epoxy");
  expect(filled.peak.value).toBeLessThan(filled.adiabaticPeak);
  expect(filled.text).not.toMatch(/all its heat alone/);
}, 60_000);
