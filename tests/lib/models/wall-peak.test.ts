import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";

const wall = (mold: string, thickness: number) =>
  demold(readJob(`{ bait: { thickness: ${thickness} mm }, mold: { material: ${mold} } }`).job, {
    further: false,
  }).answer;

test("a face of metal gets as warm as its course says, which is near what two touching bodies have", () => {
  const { wallPeak, course } = wall("aluminum 6061", 12.7);
  expect(Math.abs(wallPeak.value - Math.max(...course.curves["wall"]))).toBeLessThan(0.5);
  // effusivities of about 21 000 and 560 W s^0.5/(m2 K): 24 degC of 170 on 20 (Carslaw and Jaeger, 2nd ed., 2.8)
  expect(Math.abs(wallPeak.value - 273.15 - 24)).toBeLessThan(1.5);
}, 30_000);

test("a face of epoxy moves evenly with the thickness, whatever cells its outline cuts", () => {
  const peaks = [16.5, 17, 17.5, 18].map((mm) => wall("filled epoxy", mm).wallPeak.value);
  for (let i = 1; i < peaks.length; i++)
    expect(Math.abs(peaks[i] - peaks[i - 1])).toBeLessThan(0.6);
}, 60_000);
