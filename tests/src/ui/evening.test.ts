import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { plan } from "../../../lib/questions/plan/plan.ts";
import type { LogEntry } from "../../../src/ui/log/entries.ts";
import { happenedOf, tonight } from "../../../src/ui/log/evening.ts";

/** Opened at this time of day, after so many seconds. */
const line = (at: string, seconds: number, job = "Shad"): LogEntry => ({
  id: at,
  at: `2026-03-01T${at}.000Z`,
  job,
  room: "",
  mold: "",
  plastisol: "",
  shot: 1,
  seconds,
  weight: "",
  verdict: "good",
  note: "",
});

test("tonight is what was written since the last long pause, of this job only", () => {
  const all = [
    line("20:20:00", 300),
    line("09:00:00", 300),
    line("20:10:00", 300),
    line("20:15:00", 300, "Pike"),
    { ...line("20:30:00", 1), at: "not a time" },
  ];
  expect(tonight(all, "Shad").map(({ at }) => at.slice(11, 16))).toEqual(["20:10", "20:20"]);
  expect(tonight([], "Shad")).toEqual([]);
});

test("one mold: shot after shot, counted from the first injection", () => {
  expect(happenedOf([line("20:05:00", 300), line("20:12:00", 240)], 1, 60)).toEqual([
    { mold: 1, injected: 0, opened: 300 },
    { mold: 1, injected: 480, opened: 720 },
  ]);
});

test("molds take turns; one that is still closed is passed over", () => {
  const evening = [
    line("20:05:00", 300), // from 20:00
    line("20:06:00", 300), // from 20:01
    line("20:10:00", 270), // from 20:05:30: the first is free again
    line("20:11:00", 330), // from 20:05:30, too: only now open is the second one
  ];
  expect(happenedOf(evening.slice(0, 3), 2, 60).map(({ mold }) => mold)).toEqual([1, 2, 1]);
  // with the fourth there would have been three molds closed at once: the second was opened before it was written down
  expect(happenedOf(evening, 2, 30)).toEqual([
    { mold: 1, injected: 0, opened: 300 },
    { mold: 2, injected: 0, opened: 300 },
    { mold: 1, injected: 330, opened: 600 },
    { mold: 2, injected: 330, opened: 660 },
  ]);
});

test("lines that are written one after the other go to molds there are, each shot as long as it says", () => {
  const typed = [
    line("20:30:00", 312),
    line("20:30:20", 315),
    line("20:30:40", 370),
    line("20:31:00", 360),
    line("20:31:20", 430),
  ];
  for (const molds of [1, 2, 3]) {
    const log = happenedOf(typed, molds, 60);
    expect(log.map(({ injected, opened }) => opened! - injected).toSorted()).toEqual(
      typed.map(({ seconds }) => seconds).toSorted(),
    );
    for (let mold = 1; mold <= molds; mold++) {
      const own = log.filter((shot) => shot.mold === mold);
      expect(own.length).toBeGreaterThan(0);
      for (let i = 1; i < own.length; i++)
        expect(own[i]!.injected - own[i - 1]!.opened!).toBeGreaterThanOrEqual(60 - 1e-6);
    }
    // the last was opened when it was written
    const first = Math.min(...log.map(({ injected }) => injected));
    expect(first).toBe(0);
    const { job } = readJob(
      `bait: { thickness: 14 mm }\nrun: { session: 2 h, molds: ${molds}, hands: 60 s }`,
    );
    const { shots } = plan(job, { quick: true, log }).answer;
    expect(shots.filter(({ done }) => done)).toHaveLength(5);
  }
});

test("a plan takes it: what happened stays, the rest follows", () => {
  const { job } = readJob("bait: { thickness: 12 mm }\nrun: { session: 40 min, molds: 1 }");
  const log = happenedOf([line("20:15:00", 900)], 1, 60);
  const { shots, late } = plan(job, { quick: true, log }).answer;
  expect(shots[0]).toMatchObject({ done: true, mold: 1, injected: 0, opened: 900 });
  expect(shots[1]?.injected).toBeGreaterThan(900);
  expect(late).toBe(0);
});
