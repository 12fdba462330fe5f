import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { standInOf } from "../../../lib/models/bait/bar.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";

/** An ellipse of 14 by 18 mm as a drawing. */
const drawn = Array.from({ length: 60 }, (_, i) => {
  const angle = (2 * Math.PI * i) / 60;
  return `[${(7 * Math.cos(angle)).toFixed(3)} mm, ${(9 * Math.sin(angle)).toFixed(3)} mm]`;
}).join(", ");

const jobWith = (station: string) =>
  readJob(
    `bait: { length: 100 mm, stations: [{ at: 40 mm, width: 14 mm, height: 18 mm${station} }] }`,
  ).job;

test("a drawn ellipse cools like the ellipse", () => {
  const [plain, outlined] = ["", `, outline: [${drawn}]`].map((s) => jobWith(s));
  expect(standInOf(outlined!.bait.stations[0]!).across).toBeCloseTo(
    standInOf(plain!.bait.stations[0]!).across,
    4,
  );
  const [a, b] = [plain!, outlined!].map(
    (job) => demold(job, { further: false }).answer.time.value,
  );
  expect(Math.abs(b! / a! - 1)).toBeLessThan(0.01);
});

test("a drawing is stretched to the width and height that were measured", () => {
  const half = jobWith(
    `, outline: [${drawn.replaceAll("mm", "cm").replaceAll(/(\d)\.(\d)/g, "0.$1$2")}]`,
  );
  const whole = jobWith(`, outline: [${drawn}]`);
  expect(half.bait.thickness).toBeCloseTo(whole.bait.thickness, 5);
});

test("a lens is thinner at its edges, so it cools sooner than an ellipse of its size", () => {
  const times = ["round", "lens", "flat"].map(
    (form) => demold(jobWith(`, form: ${form}`), { further: false }).answer.time.value,
  );
  expect(times[1]).toBeLessThan(times[0]! * 0.99);
  expect(times[2]).toBeGreaterThan(times[0]! * 1.05);
});

test("one outline for the bait is that of its fattest station", () => {
  const { job } = readJob(
    "bait: { length: 100 mm, outline: [[0 mm, 0 mm], [12 mm, 0 mm], [6 mm, 12 mm]], stations: [{ at: 20 mm, width: 6 mm, height: 6 mm }, { at: 50 mm, width: 12 mm, height: 12 mm }] }",
  );
  expect(job.bait.stations.map(({ outline }) => outline?.length)).toEqual([undefined, 3]);
  // the largest circle of the triangle: twice the area over the perimeter, twice
  const side = Math.hypot(6, 12);
  expect(job.bait.thickness * 1000).toBeCloseTo((2 * 2 * 72) / (12 + 2 * side), 1);
});
