import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { demold } from "../../../../lib/questions/demold/demold.ts";
import { fit } from "../../../../lib/questions/fit/fit.ts";

const { job } = readJob(
  "{ bait: { thickness: 16 mm }, mold: { material: filled epoxy, wall: 20 mm, temperature: 24 degC }, shot: { temperature: 170 degC } }",
);
const { time } = demold(job).answer;

test("verdicts that contradict each other leave the time as it was: soft ones are not thrown away for a sooner time", () => {
  const line = (opened: number, verdict: "good" | "soft") => ({
    mold: null,
    shot: null,
    opened,
    verdict,
  });
  const lines = [line(300, "good"), line(330, "good"), line(900, "soft"), line(800, "soft")];
  const found = fit(job, { lines });
  const { fitted, means, parameters } = found.answer;
  expect(fitted).toBeNull();
  expect(means[0]!.value).toEqual(means[0]!.before);
  expect(means[0]!.value.low).toBeCloseTo(time.low, 6);
  expect(parameters.every(({ told, fitted, before }) => !told && fitted === before)).toBe(true);
});

test("a curve in the wrong unit leaves it as it was, too", () => {
  const at = Array.from({ length: 40 }, (_, i) => 20 * i);
  // 170 degF where degC was meant
  const temperature = at.map((t) => 297 + (350 - 297) * Math.exp(-t / 300));
  const { fitted, means } = fit(job, { time: at, temperature, of: "bait" }).answer;
  expect(fitted).toBeNull();
  expect(means[0]!.value).toEqual(means[0]!.before);
});

test("a preheated job learns what the same one without a preheat learns from a mold as warm", () => {
  const verdicts = [600, 720, 640, 760, 680, 800].map((opened, i) => ({
    mold: 338.15,
    shot: null,
    opened,
    verdict: i % 2 === 0 ? ("soft" as const) : ("good" as const),
  }));
  const means = [
    "mold: { material: filled epoxy, wall: 20 mm }, run: { preheat: 45 degC }",
    "mold: { material: filled epoxy, wall: 20 mm, temperature: 45 degC }",
  ].map((keys) => {
    const own = readJob(`{ bait: { thickness: 16 mm, length: 100 mm }, ${keys} }`).job;
    return fit(own, { lines: verdicts }, { quick: true }).answer.means[0]!.value;
  });
  expect(means[0]!.value).toBeCloseTo(means[1]!.value, 3);
  expect(means[0]!.high).toBeCloseTo(means[1]!.high, 3);
});
