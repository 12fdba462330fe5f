import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { simulate } from "../../../../lib/heat/simulate.ts";
import { checkJob, type Job, readJob } from "../../../../lib/job/job.ts";
import { parseJobText } from "../../../../lib/job/text.ts";
import { withSetting } from "../../../../lib/job/with-setting.ts";
import { pourCorners } from "../../../../lib/models/pour/corners.ts";
import { horizonOf } from "../../../../lib/models/pour/course.ts";
import { type PourSetting, pourSection } from "../../../../lib/models/pour/problem.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { pourQuestion } from "../../../../src/cli/questions/pour.ts";

const text = readFileSync(
  new URL("../../../../data/jobs/hot-garage.yaml", import.meta.url),
  "utf8",
);
const jobAt = (depth: string): Job =>
  checkJob(withSetting(parseJobText(text), "pour.depth", depth)).job;

/** The hottest of the section, of the unlucky one or the likely, on cells about five times finer, where the front is followed. */
function finerPeak(
  job: Job,
  change: Partial<PourSetting> = {},
  which: "fast" | "likely" = "fast",
): { value: number; front: number } {
  const corner = pourCorners(pourRuns(job))[which];
  const { resin } = corner;
  const setting = { ...corner.setting, ...change };
  const until = 0.1 * horizonOf(resin, setting.room, setting.stock);
  const { probes, ...problem } = pourSection(job, resin, setting, {
    until,
    estimateGrid: false,
    tolerance: 1e-3,
    resolution: 1.8,
  });
  const { effort, extremes } = simulate({ ...problem, probes: { hot: probes["hot"] } });
  return { value: extremes["hot"].max, front: effort.frontError };
}

describe("a front that is lost between the cells", () => {
  // coarse cells show it too hot where the pour hardly runs away, and lose no front; too cool where it is deep
  test.each(["14 mm", "20 mm", "40 mm"])(
    "is counted with bad luck: hot garage at %s",
    (depth) => {
      const job = jobAt(depth);
      const { answer } = pour(job, { brief: true });
      const finer = finerPeak(job);
      expect(finer.front).toBe(0);
      expect(answer.lostFront > 15).toBe(depth !== "14 mm");
      expect(answer.reasons.includes("lost_front")).toBe(depth !== "14 mm");
      expect(answer.worstPeak).toBeGreaterThan(finer.value);
      // without it the deep one is promised to stay cooler than it gets
      if (depth === "40 mm")
        expect(answer.worstPeak - answer.lostFront).toBeLessThan(finer.value - 5);
      // never in a pour that may be made
      expect(answer.recommended).toBe(false);
    },
    120_000,
  );

  test("is told, and nothing where there is none", () => {
    const said = (depth: string) => {
      const job = jobAt(depth);
      const found = pour(job, { brief: true });
      const { headline } = pourQuestion.text(found, job, "metric");
      return { ...found.answer, told: headline.join(" ") };
    };
    const deep = said("40 mm");
    expect(deep.told).toMatch(/runs away in a front narrower than the cells/);
    const shallow = said("6 mm");
    expect(shallow.lostFront).toBe(0);
    expect(shallow.told).not.toMatch(/a front/);
    expect(shallow.recommended).toBe(true);
  }, 60_000);

  test("is looked for on finer cells where it alone decides: a cooler room makes nothing hotter", () => {
    const { job } = readJob(
      "{ bait: { thickness: 20 mm }, room: { temperature: 37 degC }, pour: { material: filled epoxy, depth: 92 mm, hardener: fast, granules: 15 %, box: { length: 400 mm, width: 150 mm } } }",
    );
    const { worstPeak, lostFront, alternatives } = pour(job, { brief: true }).answer;
    expect(lostFront).toBe(0);
    const cooler = alternatives.find(({ code }) => code === "cooler_room");
    expect(cooler?.countsLostFront).toBeUndefined();
    const { room, stock } = pourCorners(pourRuns(job)).fast.setting;
    const finer = finerPeak(job, { room: room - 10, stock: stock - 10 });
    expect(finer.front).toBe(0);
    expect(Math.abs((cooler?.worstPeak ?? 0) - finer.value)).toBeLessThan(1);
    expect(cooler?.worstPeak).toBeLessThan(worstPeak);
  }, 60_000);
});

describe("a quick look, which knows no box", () => {
  const boxes = ["15 mm", "22 mm", "28 mm"].map(
    (depth) => `{ box: { width: 200 mm, length: 260 mm }, depth: ${depth} }`,
  );
  boxes.push("{ box: { width: 110 mm }, depth: 53 mm, filler: 61 %, potLife: { time: 40 min } }");
  test.each(boxes)("is not the cooler one with bad luck: %s", (box) => {
    const { job } = readJob(`{ bait: { thickness: 20 mm, length: 150 mm }, pour: ${box} }`);
    const [quick, whole] = [true, false].map((q) => pour(job, { quick: q, brief: true }).answer);
    expect(quick!.worstPeak).toBeGreaterThan(whole!.worstPeak - 1);
  });
});

describe("a likely peak above all its heat", () => {
  // filled: the front is hardly wider than the cells
  const RUNS_AWAY =
    "{ box: { width: 140 mm, length: 220 mm }, depth: 35 mm, thinFilm: { time: 8 h }, potLife: { time: 10 min } }";
  test("leaves open what finer cells make of it, and that is told", () => {
    const { job } = readJob(`{ bait: { thickness: 20 mm, length: 150 mm }, pour: ${RUNS_AWAY} }`);
    const found = pour(job, { brief: true });
    const { peak, adiabaticPeak, frontOpen } = found.answer;
    expect(peak.value).toBeGreaterThan(adiabaticPeak + 5);
    const finer = finerPeak(job, {}, "likely").value;
    expect(Math.abs(finer - peak.value)).toBeGreaterThan(5);
    expect(Math.abs(finer - peak.value)).toBeLessThan(frontOpen);
    const told = pourQuestion.text(found, job, "metric").body.join(" ");
    expect(told).toMatch(/by how much is\s+known to within 30 \u00b0C only/);
  }, 60_000);

  test("is open nowhere else", () => {
    const { job } = readJob("{ bait: { thickness: 20 mm }, pour: { depth: 15 mm } }");
    expect(pour(job, { brief: true }).answer.frontOpen).toBe(0);
  });
});
