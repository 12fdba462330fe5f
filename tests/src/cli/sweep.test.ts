/** A question over many jobs: into a file that holds whole lines only, and that can be gone on with. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { runOnDisk } from "./world.ts";

const folder = mkdtempSync(join(tmpdir(), "castclock-sweep-"));
const at = (name: string) => join(folder, name);
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const JOB = "name: Reed minnow\nbait: { thickness: 12 mm }\n";
writeFileSync(at("job.yaml"), JOB);

const sweep = (out: string, ...more: string[]) =>
  runOnDisk(["sweep", at("job.yaml"), "--quick", "--out", at(out), ...more]);
const linesOf = (name: string) => readFileSync(at(name), "utf8").trimEnd().split("\n");
const VARY = [
  "--vary",
  "bait.thickness=8 mm..20 mm",
  "--vary",
  "room.temperature=50 degF..90 degF",
];

test("each line is what the question answers to that job", async () => {
  const { code, printed } = await sweep("one.csv", ...VARY, "--members", "8");
  expect(code).toBe(0);
  expect(printed).toMatch(/holds 8 members/);
  const [header, ...rows] = linesOf("one.csv");
  const columns = header!.split(",");
  expect(columns.slice(0, 3)).toEqual(["member", "bait.thickness (mm)", "room.temperature (degF)"]);
  expect(rows).toHaveLength(8);
  for (const row of rows) {
    const cells = row.split(",").map(Number);
    const [member, thickness, room] = cells;
    expect(thickness).toBeGreaterThan(8);
    expect(thickness).toBeLessThan(20);
    const { job } = readJob(
      `bait: { thickness: ${thickness} mm }\nroom: { temperature: ${room} degF }`,
    );
    const { time } = demold(job, { quick: true, further: false }).answer;
    expect(cells[columns.indexOf("time (s)")]! / time.value, `member ${member}`).toBeCloseTo(1, 6);
  }
});

test("it goes on where it stopped, and a line that was cut off is made again", async () => {
  await sweep("whole.csv", ...VARY, "--members", "40");
  await sweep("part.csv", ...VARY, "--members", "7");
  writeFileSync(at("part.csv"), `${readFileSync(at("part.csv"), "utf8")}8,12.3`);
  const { printed } = await sweep("part.csv", ...VARY, "--members", "40");
  expect(printed).toMatch(/40 members, 7 of them from before/);
  expect(readFileSync(at("part.csv"), "utf8")).toBe(readFileSync(at("whole.csv"), "utf8"));
  // fewer than there are: nothing is lost
  await sweep("part.csv", ...VARY, "--members", "5");
  expect(linesOf("part.csv")).toHaveLength(41);
});

test("a file of something else is left alone", async () => {
  writeFileSync(at("notes.csv"), "my notes\n");
  writeFileSync(at("line.csv"), "one line without an end");
  await sweep("narrow.csv", "--vary", "bait.thickness=8 mm..9 mm", "--members", "3");
  // also where its last line was cut off
  writeFileSync(at("narrow.csv"), `${readFileSync(at("narrow.csv"), "utf8")}4,8.`);
  for (const name of ["notes.csv", "line.csv", "narrow.csv"]) {
    const before = readFileSync(at(name), "utf8");
    const { code, complained } = await sweep(
      name,
      "--vary",
      "bait.thickness=8 mm..20 mm",
      "--members",
      "4",
    );
    expect(code).toBe(2);
    expect(complained).toMatch(/holds something else/);
    expect(readFileSync(at(name), "utf8")).toBe(before);
  }
});

test("a job that is refused has its reason in the line", async () => {
  const { code } = await sweep(
    "refused.csv",
    ...["--vary", "room.temperature=0 degC..45 degC"],
    ...["--vary", "limits.demold=40 degC..70 degC", "--members", "64"],
  );
  expect(code).toBe(0);
  const [header, ...rows] = linesOf("refused.csv");
  const place = header!.split(",").indexOf("refused");
  // a bait is never colder than its room: such limits are refused, the others answered
  for (const cells of rows.map((row) => row.split(","))) {
    const [, room, limit] = cells.map(Number);
    if (limit! < room! + 2) expect(cells[place]).toMatch(/limits\.demold/);
    else expect(cells[place]).toBe("");
  }
  expect(rows.filter((row) => row.includes("limit_below_room")).length).toBeGreaterThan(0);
});

test("what can't be meant is said before anything is computed", async () => {
  const says = async (given: string[], expected: RegExp) => {
    const { code, complained } = await sweep("none.csv", ...given);
    expect(code, given.join(" ")).toBe(2);
    expect(complained).toMatch(expected);
  };
  await says(["--members", "4"], /--vary path=low\.\.high/);
  await says(["--vary", "bait.thickness=8 mm", "--members", "4"], /is no range/);
  await says(["--vary", "bait.thickness=8 mm..thick", "--members", "4"], /no number at one/);
  await says(
    [...VARY, ...VARY.slice(0, 2), "--members", "4"],
    /thickness: This key is varied twice/,
  );
  await says(["--vary", "bait.thickness=20 mm..8 mm", "--members", "4"], /lower end goes first/);
  await says(["--vary", "bait.thickness=8 mm..1 in", "--members", "4"], /one unit/);
  await says(["--vary", "bait.thickness=0.1 mm..900 mm", "--members", "4"], /bait\.thickness/);
  await says(["--vary", "bait.thickness=8 mm..9 mm", "--members", "none"], /whole number/);
  writeFileSync(at("job.yaml"), "bait: { thickness: 12 mm }\nrun: { preheat: 45 degC }\n");
  const preheated = ["--vary", "mold.temperature=20 degC..40 degC", "--members", "4"];
  await says(
    preheated,
    /mold\.temperature: This counts for nothing while the job has run\.preheat/,
  );
  writeFileSync(at("job.yaml"), JOB);
  await says([...VARY, "--members", "4", "--of", "weather"], /"weather" is not possible here/);
  await says([...VARY, "--members", "4", "--of", "por"], /Did you mean pour\?/);
  expect(() => readFileSync(at("none.csv"))).toThrow();
});

test("all that can't be meant is said at once", async () => {
  const ranges = [
    "pour.depth=60 mm..20 mm",
    "pour.dpth=1..2",
    "room.temperature=10 degC..400 degC",
  ];
  const vary = ranges.flatMap((range) => ["--vary", range]);
  const more = ["--members", "0", "--of", "poor", "--workers", "many"];
  const { code, complained } = await sweep("none.csv", ...vary, ...more);
  expect(code).toBe(2);
  const said = complained.split("\n");
  expect(said[0]).toBe("6 problems; nothing was computed.");
  for (const path of ["--vary", "pour.dpth", "room.temperature", "--members", "--of", "--workers"])
    expect(
      said.filter((line) => line.startsWith(`  ${path}:`)),
      path,
    ).toHaveLength(1);
  expect(() => readFileSync(at("none.csv"))).toThrow();
});

test("members that are all answered alike are told of, and those that differ are not", async () => {
  const salt = ["--vary", "swim.salt=0 %..30 %", "--members", "4"];
  const alike = await sweep("alike.csv", ...salt, "--of", "demold");
  expect(alike.printed).toMatch(/answered alike: what varies changes nothing for demold/);
  const differ = await sweep("differ.csv", ...salt, "--of", "swim");
  expect(differ.printed).not.toMatch(/alike/);
  const refused = [
    "--vary",
    "limits.demold=20.5 degC..21 degC",
    "--vary",
    "room.temperature=30 degC..32 degC",
  ];
  const none = await sweep("refused.csv", ...refused, "--members", "4");
  expect(none.printed).not.toMatch(/alike/);
});

test.each(["shots", "layer", "sprue", "touch", "budget", "swim"])(
  "%s can be swept, and nothing in it is NaN",
  async (question) => {
    const { code } = await sweep(
      `${question}.csv`,
      "--vary",
      "bait.thickness=10 mm..20 mm",
      "--members",
      "3",
      "--of",
      question,
    );
    expect(code).toBe(0);
    const rows = linesOf(`${question}.csv`);
    expect(rows).toHaveLength(4);
    expect(rows.join("\n")).not.toMatch(/NaN|Infinity|undefined/);
  },
);

test("what is counted goes by whole numbers, each of them as often", async () => {
  const members = ["--members", "40", "--of", "shrink"];
  await sweep("counted.csv", "--vary", "mold.cavities=1..4", ...members);
  const [header, ...rows] = linesOf("counted.csv");
  expect(header).toMatch(/^member,mold.cavities,/);
  const cavities = rows.map((row) => Number(row.split(",")[1]));
  for (const count of [1, 2, 3, 4]) expect(cavities.filter((x) => x === count)).toHaveLength(10);
  expect(rows.filter((row) => !row.endsWith(","))).toEqual([]);
});
