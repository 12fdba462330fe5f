import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { checkJob, readJob } from "../../../lib/job/job.ts";
import { parseJobText } from "../../../lib/job/text.ts";
import { wholeJobText } from "../../../src/cli/whole-job.ts";

const folder = new URL("../../../data/jobs/", import.meta.url);

test.each(readdirSync(folder).filter((name) => name.endsWith(".yaml")))(
  "%s written whole is read again as the same job",
  (name) => {
    const text = readFileSync(new URL(name, folder), "utf8");
    const whole = wholeJobText(parseJobText(text));
    expect(whole).not.toMatch(/not_a_quantity|\bread:|&a\d|: \*/);
    expect(readJob(whole).job).toEqual(readJob(text).job);
  },
);

test("what follows another value still follows it", () => {
  const whole = wholeJobText(parseJobText("bait: { thickness: 16 mm }"));
  expect(whole).toContain("pour.masters.length");
  expect(whole).toMatch(/air: still # default/);
  expect(checkJob(parseJobText(whole)).job.bait.thickness).toBe(0.016);
});

test("a job that says nothing of its pour says nothing of it written whole, and what it says is kept", () => {
  const isDescribed = (text: string) => readJob(text).job.pour.described;
  const wholeOf = (text: string) => wholeJobText(parseJobText(text));
  const bare = "bait: { thickness: 16 mm }";
  expect(wholeOf(bare)).toMatch(/depth: 30 mm # default/);
  expect(isDescribed(wholeOf(bare))).toBe(false);
  const poured = `${bare}\npour: { depth: 22 mm }`;
  expect(isDescribed(poured)).toBe(true);
  expect(isDescribed(wholeOf(poured))).toBe(true);
});
