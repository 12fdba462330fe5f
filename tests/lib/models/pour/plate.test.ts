import { expect, test } from "vitest";
import { checkHeatProblem } from "../../../../lib/heat/check.ts";
import { readJob } from "../../../../lib/index.ts";
import { pourLine, settingOf } from "../../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN, resinMaker } from "../../../../lib/models/pour/resin.ts";

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
