import { expect, test } from "vitest";
import { readDials } from "../../../../src/notebook/dials/dials.ts";
import { stepDial } from "../../../../src/notebook/dials/step-dial.ts";
import { readPage } from "../../../../src/notebook/page/page.ts";
import { withDial } from "../../../../src/notebook/page/set-dial.ts";
import { jobForPage, openJob } from "../../../../src/notebook/run/open-job.ts";
import { firstTouched } from "../../../../src/notebook/run/program.ts";

const pageWith = (dials: string) => readPage(`# T\n\n\`\`\`dials\n${dials}\n\`\`\`\n`);

function readingOf(dial: string) {
  const { readings, problems } = readDials(pageWith(`a: { label: A, ${dial} }`));
  return { reading: readings[0], problems };
}

test.each([
  ["value: 16 mm", 0.016],
  ["value: 1 1/4 in", 0.03175],
  ['value: "0,5 mm"', 0.0005],
  ["value: 338 degF", 443.15],
  ["value: 5 min", 300],
  ["value: 100 g", 0.1],
  ["value: 30 %", 0.3],
  ["value: 12", 12],
  ["kind: number, value: 12", 12],
  ["kind: temperatureDifference, value: 18 degF", 10],
  ["choices: [slow, fast], value: slow", "slow"],
  ["value: true", true],
])("{ %s } means %s", (dial, value) => {
  const { reading, problems } = readingOf(dial);
  expect(problems).toEqual([]);
  if (typeof value === "number") expect(reading?.value).toBeCloseTo(value, 9);
  else expect(reading?.value).toBe(value);
});

test.each([
  ["value: 16 parsecs-of-mud", "dial.kind"],
  ["kind: length, value: 16", "unit_missing"],
  ["kind: length, value: 16 degF", "wrong_kind"],
  ["kind: color, value: 16 mm", "dial.kind"],
  ["value: 16 mm, min: 20 mm", "dial.range"],
  ["value: 16 mm, max: 10 mm", "dial.range"],
  ["value: 16 mm, min: 20 mm, max: 3 mm", "dial.bounds"],
  ["value: 16 mm, min: cold", "dial.bound"],
  ["value: 16 mm, step: 0 mm", "dial.step"],
  ["kind: number, value: many", "not_a_number"],
  ["kind: length, job: bait.thickness", "dial.noJob"],
])("{ %s } is refused: %s", (dial, code) => {
  const { reading, problems } = readingOf(dial);
  expect(problems.map((p) => p.code)).toContain(code);
  expect(problems.every((p) => p.line === 4 && p.name === "a")).toBe(true);
  expect(reading?.value).toBeUndefined();
});

test.each([
  ["value: 16 mm, step: 0.5 mm", 1, "16.5 mm"],
  ["value: 16.2 mm, step: 0.5 mm", 1, "16.5 mm"],
  ["value: 16.2 mm, step: 0.5 mm", -1, "16 mm"],
  ["value: 5/8 in, step: 0.5 mm, min: 1 mm, max: 60 mm", 1, "11/16 in"],
  ["value: 5/8 in, step: 0.5 mm, min: 1 mm, max: 60 mm", -1, "9/16 in"],
  ["value: 0.63 in, step: 0.5 mm", 1, "11/16 in"],
  ["value: 1 in, step: 0.5 mm", 1, "1 1/16 in"],
  ["value: 0.1 in, step: 0.005 in", 1, "0.105 in"],
  ["value: 340 degF, step: 5 degF", -1, "335 degF"],
  ["value: 170 degC, step: 9 degF", 1, "175 degC"],
  ["value: 60 mm, step: 0.5 mm, max: 60 mm", 1, "60 mm"],
  ["value: 12, min: 1, max: 13, step: 1", 1, "13"],
  ["choices: [slow, medium, fast], value: slow", 1, "medium"],
  ["choices: [slow, medium, fast], value: slow", -1, "slow"],
  ["value: false", 1, "yes"],
] as const)("{ %s } one step %d is %s", (dial, direction, text) => {
  const { reading } = readingOf(dial);
  expect(reading && stepDial(reading, direction)).toBe(text);
});

test("up and down come back to the same text", () => {
  let page = pageWith("a: { label: A, value: 0.3 mm, step: 0.1 mm, min: 0 mm, max: 5 mm }");
  const texts: string[] = [];
  for (const direction of [1, 1, 1, -1, -1, -1] as const) {
    const [reading] = readDials(page).readings;
    page = readPage(withDial(page, "a", reading ? stepDial(reading, direction) : ""));
    texts.push(String(page.dials[0]?.value));
  }
  expect(texts).toEqual(["0.4 mm", "0.5 mm", "0.6 mm", "0.5 mm", "0.4 mm", "0.3 mm"]);
});

test.each([
  ["a: { label: A, value: 16 mm } # mine", "18 mm", "a: { label: A, value: 18 mm } # mine"],
  ["a: { value: 16 mm, label: A }", "0,5 mm", 'a: { value: "0,5 mm", label: A }'],
  ["a:\n  label: A\n  value: 16 mm # mine\n", "3/8 in", "a:\n  label: A\n  value: 3/8 in # mine\n"],
  [
    "a: { label: A, kind: length, job: x }",
    "2 mm",
    "a: { value: 2 mm, label: A, kind: length, job: x }",
  ],
  ["a:\n  label: A\n  job: x\n", "2 mm", "a:\n  value: 2 mm\n  label: A\n  job: x\n"],
  ["a: { value: 2 mm, label: A, job: x }", undefined, "a: { label: A, job: x }"],
  ["a: { label: A, job: x, value: 2 mm }", undefined, "a: { label: A, job: x }"],
  ["a:\n  label: A\n  value: 2 mm # mine\n  job: x\n", undefined, "a:\n  label: A\n  job: x\n"],
  ["a: { label: A, value: true }", false, "a: { label: A, value: false }"],
  [
    "a: { label: A, choices: [no, on], value: no }",
    "on",
    'a: { label: A, choices: [no, on], value: "on" }',
  ],
  ["b: { label: B, value: 1 mm }", "2 mm", "b: { label: B, value: 1 mm }"],
])("%j set to %j is %j", (before, value, after) => {
  expect(withDial(pageWith(before), "a", value)).toBe(pageWith(after).text);
});

test("any text typed into a dial is read back as it was", () => {
  for (const typed of [
    "1 # 2",
    "a: b",
    "- x",
    "{",
    "'",
    '"',
    "0,5 mm",
    "null",
    "yes",
    "",
    " ",
    "16 mm,",
  ]) {
    for (const form of [
      "a: { label: A, value: 16 mm, job: x }",
      "a:\n  label: A\n  value: 16 mm\n",
    ]) {
      const page = readPage(withDial(pageWith(form), "a", typed));
      expect(page.problems).toEqual([]);
      expect(page.dials[0]?.value).toBe(typed.trim());
    }
  }
});

const open = (text: string) => {
  const read = openJob(text);
  if ("problems" in read) throw new Error(JSON.stringify(read.problems));
  return read;
};
const STARTS =
  "a: { label: A, start: bait.thickness, min: 1 mm, max: 60 mm }\nb: { label: B, start: shot.temperature, min: 250 degF, max: 400 degF }";

test("a dial that starts at a key of the job stands where the job does, and leaves the job alone once it is set", () => {
  const mine = open("bait: { thickness: 5/8 in }\nshot: { temperature: 350 degF }");
  const page = pageWith(STARTS);
  const [a, b] = readDials(page, mine).readings;
  expect(a).toMatchObject({ text: "5/8 in", from: "job", value: 0.015875 });
  expect(b).toMatchObject({ text: "350 degF", from: "job" });
  const set = readPage(withDial(page, "a", "20 mm"));
  expect(readDials(set, mine).readings[0]).toMatchObject({ from: "page", value: 0.02 });
  expect(jobForPage(set, mine)).toEqual({ job: mine.reading.job });
  // back to the job's
  expect(withDial(set, "a", undefined)).toBe(page.text);
});

test("another job is worked out where a dial that is the job's is used", () => {
  const text = `# T\n\n\`\`\`dials\n${STARTS}\n\`\`\`\n\n\`\`\`ts\nshow.note({ text: "x", tone: "info" });\n\`\`\`\n\n\`\`\`ts\nshow.note({ text: String(a), tone: "info" });\n\`\`\`\n`;
  const page = readPage(text);
  expect(firstTouched(page, page, { job: true })).toBe(1);
  const set = readPage(withDial(page, "a", "20 mm"));
  expect(firstTouched(set, set, { job: true })).toBe(2);
});

test.each([
  // 340 degC is more than 400 degF, 500 is too much in either; three quarters of a millimeter are too little
  ["b", "340", { code: "unit_missing", possible: ["340 degF"] }],
  ["b", "500", { code: "unit_missing", least: "250 degF", most: "400 degF" }],
  ["a", "3/4", { code: "unit_missing", possible: ["3/4 in"] }],
  ["a", "16", { code: "unit_missing", possible: ["16 mm"] }],
  // once somebody has had every unit loaded, C is a coulomb
  ["a", "400 C", { code: expect.stringMatching(/^(unknown_unit|wrong_kind)$/), possible: ["mm"] }],
])("%s at %s is refused with the units in which it is possible", (name, typed, problem) => {
  const page = readPage(withDial(pageWith(STARTS), name, typed));
  const { problems } = readDials(page, open("bait: { thickness: 5/8 in }"));
  expect(problems).toHaveLength(1);
  expect(problems[0]).toMatchObject({ name, given: typed, ...problem });
});

test.each([
  // of the stations the thickest, as it is typed there
  [
    "bait: { length: 5 in, stations: [{ at: 1 in, width: 7/8 in, height: 1 in }, { at: 3 in, width: 1/2 in, height: 1/2 in }] }",
    "7/8 in",
  ],
  [
    "bait: { length: 127 mm, stations: [{ at: 1 in, width: 22 mm, height: 30 mm }, { at: 3 in, width: 9 mm, height: 9 mm }] }",
    "22 mm",
  ],
  // as thick as no side: in the unit of what is typed beside it
  [
    "bait: { length: 5 in, stations: [{ at: 1 in, width: 1 in, height: 1 in, outline: [[0 in, 0 in], [1 in, 0 in], [0 in, 1 in]] }] }",
    / in$/,
  ],
  // typed itself
  ["bait: { thickness: 5/8 in }", "5/8 in"],
] as const)("the thickness of %s starts as %s", (text, shown) => {
  const open = openJob(text);
  const page = pageWith(
    "a: { label: A, start: bait.thickness, min: 1 mm, max: 60 mm, step: 0.5 mm }",
  );
  const { readings, problems } = readDials(page, "problems" in open ? undefined : open);
  expect(problems).toEqual([]);
  expect(readings[0]?.text).toMatch(shown);
});

const PREHEATED = `bait: { thickness: 16 mm }
mold: { temperature: 18 degC, upperTemperature: 22 degC }
run: { preheat: 45 degC, shots: 3 }`;

test.each(["job: mold.temperature", "start: mold.temperature", "job: mold.upperTemperature"])(
  "a dial { %s } stands at the preheat that counts, as typed",
  (key) => {
    const open = openJob(PREHEATED);
    if ("problems" in open) throw new Error("no job");
    const { readings } = readDials(
      pageWith(`mold: { label: Mold, kind: temperature, ${key} }`),
      open,
    );
    expect(readings[0]).toMatchObject({ text: "45 degC", from: "job" });
    expect(readings[0]?.value).toBeCloseTo(318.15, 9);
  },
);

test.each([
  ["mold.temperature", 60, 60],
  ["mold.upperTemperature", 45, 60],
])("%s set on a page takes the place of the preheat", (key, lower, upper) => {
  const open = openJob(PREHEATED);
  if ("problems" in open) throw new Error("no job");
  const page = pageWith(`mold: { label: Mold, kind: temperature, job: ${key}, value: 60 degC }`);
  const read = jobForPage(page, open);
  if ("problems" in read) throw new Error(JSON.stringify(read.problems));
  expect(read.job.run).toMatchObject({ preheat: null, shots: 3 });
  expect(read.job.mold.temperature).toBeCloseTo(lower + 273.15, 9);
  expect(read.job.mold.upperTemperature).toBeCloseTo(upper + 273.15, 9);
});

test.each([
  ["metric", "55 degC"],
  ["shop-us", "131 degF"],
] as const)("a limit that nobody typed stands in the unit of who reads %s", (system, text) => {
  const open = openJob("bait: { thickness: 16 mm }");
  if ("problems" in open) throw new Error("no job");
  const page = pageWith(
    "limit: { label: Limit, kind: temperature, job: limits.demold, step: 2 degF }",
  );
  expect(readDials(page, open, system).readings[0]).toMatchObject({ text, from: "default" });
  // what was typed stays as it was
  const typed = openJob("bait: { thickness: 16 mm }\nlimits: { demold: 133 degF }");
  if ("problems" in typed) throw new Error("no job");
  expect(readDials(page, typed, system).readings[0]).toMatchObject({ text: "133 degF" });
});
