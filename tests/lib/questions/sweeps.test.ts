import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { checkJob } from "../../../lib/job/job.ts";
import { parseJobText } from "../../../lib/job/text.ts";
import { questions } from "../../../src/cli/questions.ts";
import { leaves } from "../job/leaves.ts";
import { around, jumpsOver } from "./sweep.ts";

const folder = new URL("../../../data/jobs/", import.meta.url);
const jobs = readdirSync(folder).map((file) => {
  const text = readFileSync(new URL(file, folder), "utf8");
  const raw = parseJobText(text);
  const head = text.split("\n").filter((line) => /^# castclock/.test(line));
  return { file, raw, job: checkJob(raw).job, asks: head.join(" ") };
});

/** Every key that a question reads, in the jobs that are made for it. */
const sweeps = questions.flatMap((question) =>
  jobs
    .filter(({ asks }) => new RegExp(`\\b${question.name}\\b`).test(asks))
    .flatMap(({ file, raw, job }) => {
      const reads = typeof question.reads === "function" ? question.reads(job) : question.reads;
      return leaves
        .filter(({ path }) => reads.some((part) => path.startsWith(`${part}.`)))
        .map((leaf) => ({ question, file, raw, leaf, values: around(raw, leaf) }))
        .filter(({ values }) => values.length > 0);
    }),
);

/** A sample a day, of what takes a second or two. LONG=1: all, hours; SWEEP_EACH=7: every seventh of all; SWEEP_FULL=1: not the quick look. */
const QUICK = /^(demold|shots|layer|sprue|budget|mix|shrink|swim|touch)$/;
const EACH = 31;
const quick = process.env["SWEEP_FULL"] === undefined;
const every = process.env["LONG"] ? 1 : Number(process.env["SWEEP_EACH"] ?? 0);
const mine = every
  ? sweeps.filter((_, i) => i % every === 0)
  : sweeps.filter(({ question }) => QUICK.test(question.name)).filter((_, i) => i % EACH === 7);

test.each(mine.map((one) => [one.question.name, one.file, one.leaf.path, one] as const))(
  "%s of %s moves evenly with %s",
  (_, __, ___, { raw, leaf, values, question }) => {
    expect(jumpsOver(raw, leaf, values, question, quick)).toEqual([]);
  },
  600_000,
);
