import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { checkJob } from "../../../../lib/job/job.ts";
import { parseJobText } from "../../../../lib/job/text.ts";
import { withSetting } from "../../../../lib/job/with-setting.ts";
import { demold } from "../../../../lib/questions/demold/demold.ts";
import { shots } from "../../../../lib/questions/shots/shots.ts";

const raw = (name: string) =>
  parseJobText(
    readFileSync(new URL(`../../../../data/jobs/${name}.yaml`, import.meta.url), "utf8"),
  );
const startedAt = (name: string, mold: string, ...others: readonly [string, string][]) =>
  checkJob(
    others.reduce(
      (job, [path, to]) => withSetting(job, path, to),
      withSetting(raw(name), "run.preheat", mold),
    ),
  ).job;

test.each(["paddle-shad", "caliper-shad"])(
  "%s: where a run settles does not depend on what its mold started at, below or above the limit",
  (name) => {
    const found = ["20 degC", "54 degC", "60 degC", "80 degC"].map((mold) => {
      const { settled, decidedBy } = shots(startedAt(name, mold), { quick: true }).answer;
      return { settled: settled.value, decidedBy };
    });
    for (const one of found) {
      expect(one.decidedBy).toEqual(found[0]!.decidedBy);
      expect(Math.abs(one.settled / found[0]!.settled - 1)).toBeLessThan(2e-3);
    }
  },
);

test("the first shot into a mold above the limit opens when demold says so, by the fat part", () => {
  const job = startedAt("paddle-shad", "60 degC");
  const { first, decidedBy } = shots(job).answer;
  const asked = demold(job).answer;
  expect(decidedBy).toEqual(asked.decidedBy);
  expect(Math.abs(first.value / asked.time.value - 1)).toBeLessThan(0.02);
});

test("a low limit in a warm room: a warmer mold opens the first shot later, not sooner", () => {
  const low: [string, string][] = [
    ["limits.demold", "45 degC"],
    ["room.temperature", "30 degC"],
  ];
  const times = ["30 degC", "45 degC", "60 degC"].map(
    (mold) => shots(startedAt("paddle-shad", mold, ...low), { quick: true }).answer.first.value,
  );
  expect(times).toEqual([...times].sort((a, b) => a - b));
});
