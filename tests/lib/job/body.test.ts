import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";

test("a flat body without a width is taken as wide, and said to be", () => {
  const { job, defaults } = readJob("bait: { form: flat, thickness: 10 mm }");
  expect(job.bait.stations[0]).toMatchObject({ form: "flat", height: 0.01 });
  // over three to one the ends matter little
  expect(job.bait.stations[0].width).toBeGreaterThan(3 * 0.01);
  expect(defaults).toContain("bait.width");
});

test("a width is read where a body is given by its thickness, and refused beside stations", () => {
  const { job, defaults } = readJob("bait: { form: flat, thickness: 16 mm, width: 2 in }");
  expect(job.bait.stations[0].width).toBeCloseTo(0.0508, 12);
  expect(defaults).not.toContain("bait.width");
  expect(readJob("bait: { thickness: 16 mm }").job.bait.stations[0].width).toBe(0.016);
  expect(() =>
    readJob("bait: { stations: [{ width: 10 mm, height: 10 mm }], width: 16 mm }"),
  ).toThrow(/width_twice/);
});
