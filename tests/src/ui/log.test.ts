import { expect, test } from "vitest";
import {
  against,
  type LogEntry,
  logCsv,
  logJson,
  readEntries,
} from "../../../src/ui/log/entries.ts";

const ENTRY: LogEntry = {
  id: "a",
  at: "2026-03-01T19:05:00.000Z",
  job: 'Dune minnow, "two-tone"',
  room: "68 degF",
  mold: "95 degF",
  plastisol: "340 degF",
  shot: 3,
  seconds: 380,
  weight: "3/4 oz",
  verdict: "good",
  note: "=fan on",
  foretold: { low: 350, value: 390, high: 450 },
};

test("the log as CSV: plain numbers in one unit each, quotes doubled, no formulas", () => {
  const [header, row, end] = logCsv([ENTRY]).split("\r\n");
  expect(header).toContain("mold (degC)");
  // 68 degF = 20 degC, 95 degF = 35 degC; 0.75 oz = 21.26 g (28.349523 g per oz)
  expect(row).toBe(
    `2026-03-01T19:05:00.000Z,Dune minnow & two-tone,20,35,171.11,3,380,21.26,good,350,390,450,'=fan on`.replace(
      "Dune minnow & two-tone",
      '"Dune minnow, ""two-tone"""',
    ),
  );
  expect(end).toBe("");
});

test("the log as JSON comes back whole; foreign lines are left out", () => {
  expect(readEntries(logJson([ENTRY]))).toEqual([ENTRY]);
  expect(readEntries(JSON.stringify([ENTRY, { id: 1 }, null, "x"]))).toEqual([ENTRY]);
  for (const text of [null, "", "{", "7", "null"]) expect(readEntries(text)).toEqual([]);
});

test("a shot is held against what was foretold", () => {
  expect(against(ENTRY)).toBe("inside");
  expect(against({ ...ENTRY, seconds: 300 })).toBe("early");
  expect(against({ ...ENTRY, seconds: 500 })).toBe("late");
  const { foretold: _, ...alone } = ENTRY;
  expect(against(alone)).toBeUndefined();
});
