/** Pours at the edge of what can be computed: found among random and pulled jobs. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { settingOf } from "../../../../lib/models/pour/problem.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";

test("a thick runaway in cold moving air ends: its face radiates from above absolute zero, whatever a trial step says", () => {
  const url = new URL("../../../../data/jobs/four-kilo-half.yaml", import.meta.url);
  const { job } = readJob(readFileSync(url, "utf8"));
  const runs = pourRuns(job, { quick: true });
  const resin = runs.resin({ speed: "high", energy: "high", heat: "high", conductivity: "low" });
  const cold = { ...settingOf(job), room: 280.15, stock: 280.15, fan: true };
  // a trial step of this one lost its way, once in many
  const { value } = runs.linePeak(resin, { ...cold, depth: 0.17237944814935927 });
  expect(Math.abs(value - runs.linePeak(resin, { ...cold, depth: 0.173 }).value)).toBeLessThan(1);
});

test("a plate that the resin reaches by a rounding error is no plate", () => {
  const { job } = readJob(`
bait: { thickness: 2 mm }
pour: { depth: 2 mm, layers: 3, plate: { distance: 1 mm } }
`);
  const { plate: _, ...bare } = job.pour;
  const without = pour({ ...job, pour: { ...bare, plate: null } }, { quick: true }).answer;
  expect(pour(job, { quick: true }).answer.peak.value).toBeCloseTo(without.peak.value, 6);
});
