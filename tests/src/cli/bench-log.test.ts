import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { InputError } from "../../../lib/units/problem.ts";
import { readBenchLog } from "../../../src/cli/bench-log.ts";
import { runCommand } from "../../../src/cli/command.ts";
import { problemSentence } from "../../../src/messages/all-problems.ts";
import { readLog } from "../../../src/notebook/files/log-file.ts";
import { testWorld } from "./world.ts";

const HOUR = 3600;
const evening = (start: number | null) => ({ start, session: 3 * HOUR, molds: 2 });
const shotsOf = (lines: string, start: number | null) => {
  const { shots } = readBenchLog(`mold,injected,opened\n${lines}`, evening(start));
  return shots.map(({ injected, opened }) => [injected, opened]);
};
const problemsOf = (read: () => unknown) => {
  try {
    read();
  } catch (error) {
    if (error instanceof InputError) return error.problems.map(({ code, path }) => [code, path]);
    throw error;
  }
  return [];
};

test("one evening, whichever way its times are written", () => {
  const meant = [
    [0, 390],
    [510, 1080],
  ];
  expect(shotsOf("1,19:00:00,19:06:30\n1,19:08:30,19:18:00", 19 * HOUR)).toEqual(meant);
  expect(shotsOf("1,7:00 PM,7:06:30 PM\n1,7:08:30 p.m.,7:18 PM", 19 * HOUR)).toEqual(meant);
  expect(shotsOf("1,0:00:00,0:06:30\n1,0:08:30,0:18:00", 19 * HOUR)).toEqual(meant);
  expect(shotsOf("1,0 s,6 min 30 s\n1,8.5 min,18 min", 19 * HOUR)).toEqual(meant);
  expect(shotsOf("1,0:00:00,0:06:30\n1,0:08:30,0:18:00", null)).toEqual(meant);
  // no start: the first line is one
  expect(shotsOf("1,19:00:00,19:06:30\n1,19:08:30,19:18:00", null)).toEqual(meant);
  expect(shotsOf("1,23:55:00,0:01:30\n1,0:03:30,0:13:00", 24 * HOUR - 300)).toEqual(meant);
  expect(shotsOf("1,11:55 PM,12:01:30 AM\n1,12:03:30 AM,12:13 AM", null)).toEqual(meant);
  // a minute and a half before it was meant to begin
  expect(shotsOf("1,18:58:30,", 19 * HOUR)).toEqual([[-90, null]]);
});

test("what can't be told apart or is far off is a problem, and so is a field without anything in it", () => {
  const of = (lines: string, start: number | null) => problemsOf(() => shotsOf(lines, start));
  const first = "line 2, injected";
  expect(of("1,7:00,7:07", 19 * HOUR)).toEqual([["clock_or_elapsed", first]]);
  expect(of("1,1:05:00,1:12:00", HOUR)).toEqual([["clock_or_elapsed", first]]);
  expect(of("1,19:05,19:12", null)).toEqual([["clock_or_elapsed", first]]);
  expect(of("1,1:30:00,1:37:00", null)).toEqual([["clock_or_elapsed", first]]);
  expect(of("1,14:00:00,14:07:00", 19 * HOUR)).toEqual([["first_far_from_start", first]]);
  expect(of("1,19:00:00,9:07:00\n1,,19:20:00", 19 * HOUR)).toEqual([
    ["far_from_start", "line 2, opened"],
    ["empty_cell", "line 3, injected"],
  ]);
});

test("what the start of the evening or the other lines make a time of the day is one", () => {
  const start = 19 * HOUR;
  // the planned start itself, to the minute
  expect(shotsOf("1,19:00,19:07\n2,19:03,19:11", start)).toEqual([
    [0, 420],
    [180, 660],
  ]);
  expect(shotsOf("1,19:00,", start)).toEqual([[0, null]]);
  // molds that would be closed for seconds; times that would run backwards
  expect(shotsOf("1,19:10,19:17\n1,19:20,19:28", start)).toEqual([
    [600, 1020],
    [1200, 1680],
  ]);
  expect(shotsOf("1,23:55,0:02", 24 * HOUR - 600)).toEqual([[300, 720]]);
  expect(shotsOf("1,23:55,0:02", null)).toEqual([[0, 420]]);
  // and counted ones stay counted
  expect(shotsOf("1,0:00,7:00\n1,8:00,16:00", start)).toEqual([
    [0, 420],
    [480, 960],
  ]);
});

test("where a first time can be meant in two ways, what is wrong in either is told with it", () => {
  const of = (lines: string, start: number | null) => problemsOf(() => shotsOf(lines, start));
  const lines = "1,7:00,7:07\n3,7:08,7:15\nx,soon,7:30\n2,,7:40\n1,14:30 s,";
  expect(of(lines, 19 * HOUR)).toEqual([
    ["clock_or_elapsed", "line 2, injected"],
    ["not_whole", "line 4, mold"],
    ["no_time_of_log", "line 4, injected"],
    ["empty_cell", "line 5, injected"],
    ["no_time_of_log", "line 6, injected"],
    ["no_such_mold", "line 3, mold"],
  ]);
  expect(of("1,14:00:00,14:07:00\n3,14:10:00,", 19 * HOUR)).toEqual([
    ["first_far_from_start", "line 2, injected"],
  ]);
});

test("a time is taken up to its bounds, themselves included, and the sentence says those", () => {
  const start = 19 * HOUR;
  // two hours to either side; a shot of an evening of three hours may be opened six hours after its end
  for (const [line, seconds] of [
    ["1,17:00:00,", -2 * HOUR],
    ["1,21:00:00,", 2 * HOUR],
    ["1,2 h,", 2 * HOUR],
  ] as const)
    expect(shotsOf(line, start)).toEqual([[seconds, null]]);
  expect(shotsOf("1,19:00:00,4:00:00", start)).toEqual([[0, 9 * HOUR]]);
  const told = (line: string) => {
    try {
      shotsOf(line, start);
      return [];
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return error.problems.map(({ code, least, most }) => [code, least, most]);
    }
  };
  for (const line of ["1,16:59:59,", "1,21:00:01,"])
    expect(told(line), line).toEqual([["first_far_from_start", "2 h", "2 h"]]);
  expect(told("1,19:00:00,4:00:01")).toEqual([["far_from_start", "2 h", "9 h"]]);
});

test("what is no time is told all that a log takes, and which bound a time is past", () => {
  const said = (line: string) => {
    try {
      shotsOf(line, 19 * HOUR);
    } catch (error) {
      if (error instanceof InputError) return error.problems.map(problemSentence).join(" ");
    }
    return "";
  };
  const hour = said("1,7 pm,7:12 PM");
  expect(hour).toContain('"7 pm" is no time. Did you mean 7:00 PM?');
  for (const way of ["19:05:00", "7:05 PM", "12 min 30 s"]) expect(hour).toContain(way);
  expect(said("1,soon,7:12 PM")).toMatch(/^"soon" is no time\. Write it like 19:05:00/);
  // a quantity of another kind, or without its unit, is told as everywhere
  expect(said("1,5 mm,")).toContain("another kind");
  expect(said("1,0,")).toContain("0 s");
  expect(said("1,14:00:00,")).toContain(
    "the first time of this log, is more than 2 h before or after",
  );
  expect(said("1,19:00:00,4:00:01")).toContain(
    "more than 2 h before the evening starts, or more than 9 h after it: its session and 6 h more",
  );
});

test("a log that mixes both ways of writing times is told so", () => {
  const of = (lines: string, start: number | null) => problemsOf(() => shotsOf(lines, start));
  expect(of("1,0:07:30,0:14:00\n2,19:07:00,19:15:00", 19 * HOUR)).toEqual([
    ["two_ways_of_times", "line 3, injected"],
    ["two_ways_of_times", "line 3, opened"],
  ]);
});

test("what is wrong with a log is told at once: what can't be read, and what can't have been", () => {
  const lines =
    "1,0 s,-\n\n3,60 s,120 s\n2,200 s,100 s\n1,300 s,400 s\n1,350 s,500 s\nx,600 s,700 s";
  expect(problemsOf(() => shotsOf(lines, null)).sort((a, b) => (a[1]! < b[1]! ? -1 : 1))).toEqual([
    ["no_time_of_log", "line 2, opened"],
    ["no_such_mold", "line 4, mold"],
    ["opened_before_filled", "line 5, opened"],
    ["mold_still_closed", "line 7, injected"],
    ["not_whole", "line 8, mold"],
  ]);
});

test("shots that were opened before their earliest time are told, and others are not", async () => {
  const said = async (opened: string) => {
    const log = `mold,injected,opened\n1,0 s,${opened}\n`;
    const world = testWorld({ "job.yaml": JOB, "log.csv": log });
    expect(await runCommand(["plan", "job.yaml", "log.csv", "--quick"], world)).toBe(0);
    return world.printed;
  };
  // a bar of 8 mm takes more than a minute, and less than ten
  expect(await said("20 s")).toContain("Shot 1 was opened before its earliest time");
  expect(await said("10 min")).not.toContain("earliest time:");
});

test("the start of the evening is read as the log's times are", () => {
  const start = (typed: string) => readJob(`${JOB}plan: { start: "${typed}" }`).job.plan.start;
  for (const typed of ["19:00", "7:00 PM", "7:00 p.m.", "07:00pm"])
    expect(start(typed)).toBe(19 * HOUR);
  expect(start("12:15 AM")).toBe(900);
  for (const typed of ["25:00", "13:00 PM", "0:30 AM", "7 PM", "today 7:00"])
    expect(problemsOf(() => start(typed))).toEqual([["not_a_clock_time", "plan.start"]]);
});

const JOB = "bait: { thickness: 8 mm }\nrun: { molds: 2 }\n";
const SHOTS = [
  ["19:00:00", "19:06:30"],
  ["19:08:30", "19:18:00"],
] as const;
const LOG = `mold,injected,opened\n${SHOTS.map((times) => `1,${times.join(",")}`).join("\n")}\n`;

test("a plan goes on from a log in the times that it prints itself", async () => {
  const asked = async (job: string, log: string) => {
    const world = testWorld({ "job.yaml": job, "log.csv": log });
    expect(await runCommand(["plan", "job.yaml", "log.csv", "--quick"], world)).toBe(0);
    return world.printed;
  };
  const started = `${JOB}plan: { start: "19:00" }\n`;
  const text = await asked(started, LOG);
  expect(text).toContain("19:08:30");
  expect(text).toBe(await asked(started, LOG.replaceAll("19:", "0:")));
  expect(text).not.toMatch(/\d h late/);
  // without a start in the job, the log's first line is one
  const other = await asked(JOB, LOG);
  expect(other.slice(0, other.indexOf("Defaults"))).toBe(text.slice(0, text.indexOf("Defaults")));
});

test("a log of an evening teaches what it says, or is refused in one sentence", async () => {
  const verdicts =
    "mold,injected,opened,verdict\n1,19:00:00,19:06:30,soft\n2,23:58:00,0:07:30,good\n";
  expect(readLog(verdicts)).toMatchObject({
    kind: "shop",
    log: {
      lines: [
        { mold: null, opened: 390, verdict: "soft" },
        { mold: null, opened: 570, verdict: "good" },
      ],
    },
  });
  const world = testWorld({ "job.yaml": JOB, "log.csv": LOG });
  expect(await runCommand(["fit", "job.yaml", "log.csv"], world)).toBe(2);
  expect(world.complained).toContain("1 problem");
  expect(world.complained).toContain("column verdict");
  expect(problemsOf(() => readLog("injected,opened,verdict\n7:05,7:12,good\n,7 min,soft"))).toEqual(
    [
      ["clock_or_elapsed", "line 2, injected"],
      ["clock_or_elapsed", "line 2, opened"],
      ["empty_cell", "line 3, injected"],
    ],
  );
});
