/** Masters that nobody measured are the bait's own shape, bedded to their middle. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { withBody } from "../../../../lib/job/with-body.ts";
import { pourSection, sectionSizes, settingOf } from "../../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN } from "../../../../lib/models/pour/resin.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { measuresOf } from "../../../../lib/shape/polygon.ts";

/** A diamond 20 mm wide and 30 mm high: half of the product of its diagonals. */
const DIAMOND = `bait:
  length: 100 mm
  stations:
    - { name: back, at: 50 mm, width: 20 mm, height: 30 mm, outline: [[0 mm, 0 mm], [10 mm, 15 mm], [0 mm, 30 mm], [-10 mm, 15 mm]] }
pour: { depth: 40 mm, box: { length: 150 mm, width: 90 mm }`;

const mastersOf = (text: string) => {
  const { job } = readJob(text);
  return sectionSizes(job, settingOf(job)).masters;
};

describe("in the cut across the box", () => {
  test("a drawn bait stands in the resin with its own outline", () => {
    const [master] = mastersOf(`${DIAMOND} }`);
    if (master?.kind !== "polygon") throw new Error("not drawn");
    expect(measuresOf(master.points).area).toBeCloseTo((0.02 * 0.03) / 2, 9);
    // bedded to the middle: as high over the bed as below it, 25 mm of bench and 25 mm of clay
    const heights = master.points.map(([, y]) => y);
    const { job } = readJob(`${DIAMOND} }`);
    const bed = job.pour.bench.thickness + job.pour.clay.thickness;
    expect(Math.max(...heights) - bed).toBeCloseTo(0.015, 9);
    expect(bed - Math.min(...heights)).toBeCloseTo(0.015, 9);
  });

  test("a master that was measured is an ellipse of what was measured", () => {
    const [master] = mastersOf(`${DIAMOND}, masters: { width: 22 mm, height: 12 mm } }`);
    expect(master).toMatchObject({ kind: "ellipse", axes: [0.022, 0.024] });
  });

  test("a wide flat bait is wide", () => {
    const [master] = mastersOf(
      "{ bait: { thickness: 10 mm, width: 30 mm, form: flat }, pour: { depth: 30 mm } }",
    );
    expect(master).toMatchObject({ kind: "rectangle", size: [0.03, 0.01] });
  });

  test("and it is what is solved: resin and masters fill the box over the bed", () => {
    const { job } = readJob(`${DIAMOND} }`);
    const resin = pourRuns(job).resin(LIKELY_RESIN);
    const { shapes = [] } = pourSection(job, resin, settingOf(job), { until: 10 });
    expect(shapes.find(({ name }) => name === "master1")?.outline.kind).toBe("polygon");
  });
});

test("another body has other masters; measured ones stay", () => {
  const { job } = readJob("bait: { thickness: 16 mm }");
  expect(withBody(job, { thickness: 0.008, form: "round" }).pour.masters).toMatchObject({
    width: 0.008,
    height: 0.004,
  });
  const measured = readJob("{ bait: { thickness: 16 mm }, pour: { masters: { width: 20 mm } } }");
  expect(withBody(measured.job, { thickness: 0.008, form: "round" }).pour.masters).toMatchObject({
    width: 0.02,
    height: 0.008,
  });
});
