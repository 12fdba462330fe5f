import { expect, test } from "vitest";
import { checkHeatProblem } from "../../../../lib/heat/check.ts";
import { readJob } from "../../../../lib/index.ts";
import { pourCorners } from "../../../../lib/models/pour/corners.ts";
import { lineDepthFor } from "../../../../lib/models/pour/line-depth.ts";
import { pourLine, settingOf } from "../../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN, resinMaker } from "../../../../lib/models/pour/resin.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";

const { job } = readJob(
  "bait: { thickness: 16 mm }\npour: { depth: 40 mm, plate: { material: aluminum 6061, thickness: 10 mm, distance: 6 mm } }",
);
const resin = resinMaker(job)(LIKELY_RESIN);
const setting = settingOf(job);
const under = setting.plate?.over ?? 0;

test.each([-1e-3, -5e-5, 0, 5e-5, 9.99e-5, 2e-4, 9.95e-3, 1e-2, 1.00005e-2, 1.0099e-2, 1.02e-2])(
  "a pour that ends %d m over the underside of its plate is as deep as it was asked for",
  (over) => {
    const depth = under + over;
    const problem = pourLine(job, resin, { ...setting, depth }, { until: 100 });
    expect(checkHeatProblem(problem)).toEqual([]);
    const poured = problem.layers?.slice(2).reduce((sum, { thickness }) => sum + thickness, 0);
    expect(poured).toBeCloseTo(depth, 12);
  },
);

test("no depth above the one that gets to a limit is hotter, though a pour that just reaches its plate is hotter than deeper ones", () => {
  const hot = readJob(
    "room: { temperature: 38 degC }\nbait: { thickness: 16 mm }\npour: { depth: 20 mm, thinFilm: { time: 4 h, at: 25 degC }, plate: { distance: 6 mm } }",
  ).job;
  const lines = pourRuns(hot, { quick: true });
  const { resin, setting: there } = pourCorners(lines).likely;
  const peakAt = (depth: number) => lines.linePeak(resin, { ...there, depth }).value;
  const hump = peakAt(there.plate!.over);
  expect(hump).toBeGreaterThan(peakAt(1.6 * there.plate!.over) + 10);
  for (const limit of [hump - 25, hump - 4, hump - 1]) {
    // runs of their own: what was looked at before is known
    const deepest = lineDepthFor(pourRuns(hot, { quick: true }), resin, there, limit)!;
    const far = 2.5 * there.plate!.over;
    const near = lineDepthFor(pourRuns(hot, { quick: true }), resin, there, limit, far)!;
    expect(Math.abs(near / deepest - 1)).toBeLessThan(0.01);
    for (let k = 1; k < 12; k++) expect(peakAt((k / 12) * deepest)).toBeLessThan(limit);
  }
});
