import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { shots } from "../../../../lib/questions/shots/shots.ts";
import { timerLines } from "../../../../src/messages/timer.ts";

const timed = (timer: string) =>
  shots(
    readJob(
      `bait: { thickness: 5/8 in }\nmold: { wall: 20 mm }\nrun: { shots: 4${timer === "" ? "" : `, timer: ${timer}`} }`,
    ).job,
    { quick: true },
  );

test("a fixed timer is too early where the hottest point is above the limit when it rings", () => {
  const free = timed("").answer;
  expect(free.tooEarly).toBeNull();
  // long enough for the first shot, likely and no more: later ones find a warmer mold
  const seconds = Math.ceil(free.shots[0]!.demold + 2);
  const { answer, cautions } = timed(`${seconds} s`);
  expect(answer.tooEarly).toMatchObject({ likely: true, from: 2, molten: false });
  expect(answer.shots[1]!.hottestByTimer).toBeGreaterThan(free.shots[0]!.hottestByTimer);
  expect(cautions).toContain("touch_burn");
  expect(timerLines(answer.tooEarly).join()).toMatch(/too early from shot 2 on\./);
});

test("plastic that still flows is told", () => {
  const { answer, cautions } = timed("45 s");
  // the catalog's soft plastisol sets at 120 degC
  expect(answer.tooEarly).toMatchObject({ likely: true, from: 1, molten: true });
  expect(answer.tooEarly!.hottest).toBeGreaterThan(393.15);
  expect(cautions[0]).toBe("touch_burn");
  expect(timerLines(answer.tooEarly).join()).toMatch(/at every shot: the core is still molten/);
});

test("between the likely and the sure time it is too early with bad luck only, past that not at all", () => {
  const { settled, first } = timed("").answer;
  const sure = Math.max(settled.high, first.high);
  const between = timed(`${Math.round((sure + Math.max(settled.value, first.value)) / 2)} s`);
  expect(between.answer.tooEarly).toMatchObject({ likely: false, from: null });
  expect(timed(`${Math.ceil(sure + 1)} s`).answer.tooEarly).toBeNull();
});

test("the timer at 5:20 that brings the third one out soft is told to be too early", () => {
  const file = new URL("../../../../data/jobs/evening-of-two.yaml", import.meta.url);
  const { tooEarly } = shots(readJob(readFileSync(file, "utf8")).job, { quick: true }).answer;
  expect(timerLines(tooEarly).join()).toMatch(/too early/);
});

test("a preheated mold is too hot for the timer at first only", () => {
  const job = (run: string) =>
    readJob(
      `bait: { thickness: 8 mm }\nmold: { wall: 20 mm }\nrun: { shots: 6, open: 30 min, preheat: 75 degC${run} }`,
    ).job;
  const free = shots(job(""), { quick: true }).answer;
  const likely = Math.ceil(free.shots[1]!.demold * 1.05);
  expect(free.shots[0]!.demold).toBeGreaterThan(likely);
  const { tooEarly, shots: rows } = shots(job(`, timer: ${likely} s`), { quick: true }).answer;
  // the mold, kept at that timer's pace, cools from shot to shot
  const hot = rows
    .filter((row) => row.hottestByTimer > 55 + 273.15 + 0.5)
    .map(({ number }) => number);
  expect(hot.length).toBeLessThan(rows.length);
  expect(tooEarly).toMatchObject({ likely: true, from: 1, to: hot.at(-1) });
  expect(timerLines(tooEarly).join()).toMatch(/too early at shots? 1\b/);
});
