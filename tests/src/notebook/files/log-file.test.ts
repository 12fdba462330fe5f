import { expect, test } from "vitest";
import { InputError } from "../../../../lib/units/problem.ts";
import { problemLine } from "../../../../src/messages/all-problems.ts";
import { readLog } from "../../../../src/notebook/files/log-file.ts";
import { readTable } from "../../../../src/notebook/files/table-text.ts";

const probe = (text: string) => {
  const read = readLog(text);
  if (read.kind !== "probe") throw new Error("not a probe's log");
  return read;
};
const problems = (text: string) => {
  try {
    readLog(text);
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
  return [];
};

test("clock times of both kinds are times of day, past midnight too", () => {
  const seconds = (a: string, b: string, c: string) =>
    probe(`time,temp (degF)\n${a},330\n${b},320\n${c},310`).log.time;
  expect(seconds("14:05:00", "14:05:30", "14:07:00")).toEqual([0, 30, 120]);
  expect(seconds("11:59:30 AM", "12:00:00 PM", "1:00:00 PM")).toEqual([0, 30, 3630]);
  expect(seconds("2:05 PM", "2:06 PM", "2:08 PM")).toEqual([0, 60, 180]);
  expect(seconds("23:59:50", "00:00:10", "0:01:00")).toEqual([0, 20, 70]);
  expect(seconds("2026-11-28T14:05:00", "2026-11-28T14:05:01", "2026-11-28T14:05:02")).toEqual([
    0, 1, 2,
  ]);
});

test("14:30 is minutes and seconds where the heading or its size says so, and else asked for", () => {
  const rows = (heading: string, ...cells: string[]) =>
    `${heading},temp degC\n${cells.map((cell, i) => `${cell},${170 - i}`).join("\n")}`;
  // a minute has sixty seconds
  for (const heading of ["time min", "Time (m:ss)", "elapsed mm:ss", "t minutes"])
    expect(probe(rows(heading, "0:00", "0:30", "14:30", "75:00")).log.time).toEqual([
      0, 30, 870, 4500,
    ]);
  expect(probe(rows("time min", "0:30", "1:00.5", "1:00:00")).log.time).toEqual([30, 60.5, 3600]);
  expect(probe(rows("time", "0:30", "40:00")).log.time).toEqual([30, 2400]);
  expect(probe(rows("clock", "19:05", "19:06", "19:08")).log.time).toEqual([0, 60, 180]);
  expect(probe(rows("time h:mm", "19:05", "19:06")).log.time).toEqual([0, 60]);
  for (const heading of ["time", "time s", "elapsed"])
    expect(problems(rows(heading, "0:00", "0:30", "1:00"))).toMatchObject([
      { code: "minutes_or_hours", path: expect.stringMatching(/^line 2, /), given: "0:00" },
    ]);
});

test("headings as people write them, decimal commas, units in the cells", () => {
  const K = 273.15;
  expect(probe("Time (s);Temp [degC]\n0;170,5\n30;150,25").log.temperature[1]).toBeCloseTo(
    150.25 + K,
    9,
  );
  expect(probe("Elapsed min\tProbe degF\n0\t338\n1\t320").log.time).toEqual([0, 60]);
  expect(probe("time,temperature\n0 s,170 degC\n1 min,300 degF").log.temperature[1]).toBeCloseTo(
    422.039,
    2,
  );
});

test("a start before the shot, gaps and wild readings are taken out and counted", () => {
  const { log, notes } = probe(
    "time s,temp degC\n0,21\n10,21\n20,170\n30,168\n40,\n50,160\n60,12\n70,152\n80,148",
  );
  expect(notes).toEqual({ gaps: 1, spikes: 1, before: 2, start: 15 });
  expect(log.time).toEqual([5, 15, 35, 55, 65]);
});

test("problems speak in the unit that was typed, all at once", () => {
  const found = problems("time s,Temp (degF)\n0,338\n10,3380\n5,320\n20,warm");
  expect(found.map(({ code, path }) => [code, path])).toEqual([
    ["too_big", "line 3, temp"],
    ["not_rising", "line 4, time"],
    [expect.any(String), "line 5, temp"],
  ]);
  expect(found[0]).toMatchObject({ given: "3380 degF", most: "710.3 degF" });
});

test("a shop's log as it is exported, and with a time to opening off the clock", () => {
  const read = readLog(
    "time,job,room (degC),mold (degC),plastisol (degC),shot,seconds,weight (g),verdict,note\n" +
      "2026-11-28T18:05:00,shad,20,21,172,1,390,14.2,soft,\n18:14,shad,20,,,2,7:30,14.3,Good,tail fine\n",
  );
  expect(read.kind).toBe("shop");
  expect(read.log).toEqual({
    lines: [
      { mold: 294.15, shot: 445.15, opened: 390, verdict: "soft" },
      { mold: null, shot: null, opened: 450, verdict: "good" },
    ],
  });
  expect(problems("seconds,verdict\n390,fine\n,good").map(({ code }) => code)).toEqual([
    "unknown_word",
    "empty_cell",
  ]);
});

test("what the mold and the plastic read is taken from whatever its column is called, beside the mold's number, too", () => {
  const read = (text: string) => {
    const { log, kind } = readLog(text);
    if (kind !== "shop") throw new Error("not a shop's log");
    return log.lines.map(({ mold, shot }) => [mold, shot].map((T) => T && Math.round(T - 273.15)));
  };
  for (const mold of [
    "mold degC",
    "mold (degC)",
    "Mold temp (degC)",
    "mold temperature degC",
    "Mold Temp degC",
    "face [degC]",
  ])
    for (const plastic of [
      "plastic degC",
      "Plastisol temp (degC)",
      "shot temperature degC",
      "shot degC",
    ]) {
      const both = `${mold},${plastic}`;
      expect(read(`seconds,${both},verdict\n420,45,171,good`), both).toEqual([[45, 171]]);
      expect(
        read(`mold,injected,opened,${both},verdict\n2,19:00:00,19:07:00,45,171,good`),
        both,
      ).toEqual([[45, 171]]);
    }
  // with units in the cells; a bare number of a mold is none of its readings
  expect(read("mold,injected,opened,verdict\n45 degC,0:00:00,0:07:00,good")).toEqual([[45, null]]);
  expect(read("mold,injected,opened,verdict\n1,0:00:00,0:07:00,good")).toEqual([[null, null]]);
  expect(read("mold,shot,seconds,verdict\n45 degC,1,420,good")).toEqual([[45, null]]);
});

test("a log without anything in it is told so, and what a field should hold", () => {
  const said = (text: string) => {
    try {
      readLog(text);
      return [];
    } catch (error) {
      return (error as InputError).problems.map(problemLine);
    }
  };
  for (const text of ["", "\n \n", "\uFEFF"])
    expect(said(text).join(" ")).toMatch(/log is empty.*time and temperature.*seconds and verdict/);
  const [slip = ""] = said("seconds,verdict\nsoon,good\n390,good");
  expect(slip).toMatch(/"soon" is no number with a unit\. Write one like 390 s/);
  expect(slip).not.toMatch(/mm|degF/);
});

test("a comma means one thing in all of a file", () => {
  const rows = (text: string) => readTable(text).lines.map(({ cells }) => cells);
  expect(rows("time;temp\n0,167 min;85,5\n1,000 min;80")).toEqual([
    ["0.167 min", "85.5"],
    ["1.000 min", "80"],
  ]);
  // parted by tabs a single sure one tells for all; none leaves what may be thousands to be asked about
  expect(rows("time\ttemp\n1,000\t85,5")).toEqual([["1.000", "85.5"]]);
  expect(rows("time\ttemp\n1,000\t85")).toEqual([["1,000", "85"]]);
  expect(rows("time;temp\n1,000.5;85")).toEqual([["1,000.5", "85"]]);
  // words are left as they are
  expect(rows("time;note\n1;first, then 1,5 more of the other")).toEqual([
    ["1", "first, then 1,5 more of the other"],
  ]);
});
