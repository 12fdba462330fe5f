import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { demold } from "../../../../lib/questions/demold/demold.ts";
import { fit } from "../../../../lib/questions/fit/fit.ts";
import { shots } from "../../../../lib/questions/shots/shots.ts";

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

test("an evening whose times are told is not taken for shots into a cold mold", () => {
  const { job: own } = readJob(
    "{ bait: { thickness: 16 mm, length: 100 mm }, mold: { material: aluminum, wall: 15 mm }, run: { shots: 6, open: 60 s }, room: { temperature: 18 degC } }",
  );
  const run = shots(own, { likelyOnly: true }).answer.shots.map(({ demold }) => demold);
  expect(run[5]! / run[0]!).toBeGreaterThan(1.5);
  let at = 19 * 3600;
  // opened a tenth too early and a tenth late by turns
  const lines = run.map((needed, i) => {
    const opened = (i % 2 === 0 ? 0.9 : 1.1) * needed;
    const filled = { mold: "1", at };
    at += opened + 60;
    const verdict = i % 2 === 0 ? ("soft" as const) : ("good" as const);
    return { mold: null, shot: null, opened, verdict, filled };
  });
  const told = fit(own, { lines }).answer;
  expect(told.cannotTell.map(({ code }) => code)).not.toContain("verdicts_contradict");
  expect(told.odd).toEqual([]);
  const { value, before } = told.means[0]!;
  expect(Math.abs(value.value / before!.value - 1)).toBeLessThan(0.07);
  expect(value.high - value.low).toBeLessThan(0.75 * (before!.high - before!.low));
  // the same lines of who knows which shots: longer ones came out soft
  const untold = fit(own, { lines: lines.map(({ filled: _, ...line }) => line) }).answer;
  expect(untold.cannotTell.map(({ code }) => code)).toContain("verdicts_contradict");
  // another evening finds its mold as the first did
  const later = [
    lines[0]!,
    { ...lines[0]!, filled: { mold: "1", at: lines[0]!.filled.at + 86400 } },
  ];
  const twice = [
    ...later,
    ...later.map((line) => ({ ...line, filled: { mold: "2", at: line.filled.at } })),
  ];
  const cold = twice.map(({ filled: _, ...line }) => ({ ...line, mold: own.mold.temperature }));
  const [ofTold, ofRead] = [twice, cold].map(
    (given) => fit(own, { lines: given }).answer.means[0]!.value.value,
  );
  expect(ofTold! / ofRead!).toBeCloseTo(1, 3);
});
