import { expect, test } from "vitest";
import { answerMarks, isTime, marksOf } from "../../../src/ui/bench/marks.ts";
import {
  type BenchTimer,
  corrected,
  delayed,
  dueMarks,
  lateness,
  readStored,
  readTimer,
  startTimer,
  withRung,
} from "../../../src/ui/bench/timer.ts";

const MARKS = [
  { word: "Surely open", seconds: 370 },
  { word: "Sprue closed: let go", seconds: 30 },
  { word: "May open", seconds: 320 },
];
const START = 1_000_000;
const at = (seconds: number) => START + 1000 * seconds;

function started(): BenchTimer {
  const what = {
    name: "A",
    kind: "open",
    jobName: "bait",
    shot: 1,
    from: "as worked out",
  } as const;
  return startTimer(what, MARKS, START);
}

test("the time left is told from the clock alone", () => {
  const timer = started();
  expect(readTimer(timer, at(10))).toMatchObject({ elapsed: 10, left: 20 });
  expect(readTimer(timer, at(100))).toMatchObject({
    left: 220,
    past: { word: "Sprue closed: let go" },
    next: { word: "May open" },
  });
  // a night later nothing is counted that was not there
  const next = readTimer(timer, at(8 * 3600));
  expect(next.next).toBeUndefined();
  expect(next.past?.word).toBe("Surely open");
});

test("a mark rings once, and says so when it rang late", () => {
  const timer = started();
  expect(dueMarks(timer, at(29))).toEqual([]);
  const rung = withRung(timer, at(30.1));
  expect(dueMarks(rung, at(31))).toEqual([]);
  expect(lateness(rung, rung.marks[0]!)).toBe(0);
  // asleep from 31 s to 600 s: both other marks ring then, late
  const woken = withRung(rung, at(600));
  expect(woken.marks.map((m) => Math.round(lateness(woken, m)))).toEqual([0, 280, 230]);
});

test("a correction changes what is left; a mark moved ahead rings again", () => {
  const rung = withRung(started(), at(330));
  const later = MARKS.map((m) => ({ ...m, seconds: m.seconds * 1.5 }));
  const changed = corrected(rung, later, { from: "for shot 3", shot: 3 }, at(330));
  expect(changed).toMatchObject({ shot: 3, from: "for shot 3", startedAt: START });
  expect(readTimer(changed, at(330)).left).toBe(150);
  expect(changed.marks.map((m) => m.rangAt !== undefined)).toEqual([true, false, false]);
});

test("what is stored comes back; anything else is no timer", () => {
  const timer = started();
  expect(readStored(JSON.stringify([null, timer]))).toEqual([null, timer, null, null]);
  for (const text of [null, "", "{", "[1,2]", '[{"name":"x"}]', "7", '{"a":1}'])
    expect(readStored(text)).toEqual([null, null, null, null]);
});

test("a late evening moves all that is still to come, and nothing that was", () => {
  const late = delayed(started(), 60, at(100));
  expect(late.marks.map((m) => m.seconds)).toEqual([30, 380, 430]);
});

test("a mark rings at the time as it is read, ends of a range on their safe side", () => {
  const open = { low: 301, value: 317, high: 371 };
  const opening = { sprueCloses: { low: 20, value: 31.2, high: 43.2 }, open };
  expect(marksOf("open", opening as never).map((m) => m.seconds)).toEqual([44, 315, 375]);
  // a mold is not opened on a molten sprue
  const slow = { sprueCloses: { low: 200, value: 300, high: 340 }, open };
  expect(marksOf("open", slow as never).map((m) => m.seconds)).toEqual([345, 345, 375]);
  const answer = { kind: "answer", label: "It", unit: "s", ...open } as const;
  expect(answerMarks(answer).marks.map((m) => m.seconds)).toEqual([300, 315, 375]);
});

test("an answer may bring the marks of a plan", () => {
  const plan = { kind: "answer", label: "Baits", unit: "1", value: 4, low: 3, high: 5 } as const;
  expect(isTime(plan)).toBe(false);
  const marked = {
    ...plan,
    marks: [
      { at: 0, label: "Heat cup 1" },
      { at: 480, label: "Inject shot 1" },
    ],
  };
  expect(isTime(marked)).toBe(true);
  expect(answerMarks(marked).marks).toEqual([
    { word: "Heat cup 1", seconds: 0 },
    { word: "Inject shot 1", seconds: 480 },
  ]);
});
