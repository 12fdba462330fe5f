import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { checkJob } from "../../../../lib/job/job.ts";
import { withSetting } from "../../../../lib/job/with-setting.ts";
import { InputError } from "../../../../lib/units/problem.ts";
import { readPage } from "../../../../src/notebook/page/page.ts";
import { jobForPage, openJob } from "../../../../src/notebook/run/open-job.ts";

const NOTEBOOKS = new URL("../../../../notebooks/", import.meta.url);

const dials = readdirSync(NOTEBOOKS)
  .filter((file) => file.endsWith(".md"))
  .flatMap((file) =>
    readPage(readFileSync(new URL(file, NOTEBOOKS), "utf8")).dials.map((dial) => ({ file, dial })),
  )
  .flatMap(({ file, dial }) => {
    if (dial.kind === "choice" || dial.kind === "flag" || dial.job === undefined) return [];
    return [{ name: `${dial.name} of ${file}`, job: dial.job, ends: [dial.min, dial.max] }];
  });

/** What the job says of one key that stands at a value; the bait is thick enough for any layer. */
function saidOf(path: string, typed: string): unknown[] {
  try {
    checkJob(withSetting({ bait: { thickness: "90 mm" } }, path, typed));
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.problems.filter((problem) => problem.path === path);
  }
}

test("there are dials of the job, with two ends each", () => {
  expect(dials.length).toBeGreaterThan(15);
  for (const { ends } of dials) expect(ends.every((end) => end !== undefined)).toBe(true);
});

test.each(dials)("$name offers nothing that the job refuses", ({ job, ends }) => {
  for (const end of ends) expect(saidOf(job, end!)).toEqual([]);
});

test("half a mold is told between the ends of the dial, which offers fewer than the job", () => {
  const page = readPage(
    "# T\n\n```dials\nmolds: { label: Molds, kind: number, job: run.molds, value: 2.5, min: 1, max: 6 }\n```\n",
  );
  const open = openJob("bait: { thickness: 9 mm }");
  if ("problems" in open) throw new Error("the job can be read");
  expect(jobForPage(page, open)).toEqual({
    problems: [expect.objectContaining({ code: "not_whole", least: "1", most: "6" })],
  });
});

test("what a job refuses is found here", () => {
  expect(saidOf("shot.temperature", "250 degF")).toHaveLength(1);
  expect(saidOf("run.molds", "13")).toHaveLength(1);
});
