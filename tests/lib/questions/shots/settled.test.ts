import { expect, test } from "vitest";
import { readJob, shots } from "../../../../lib/index.ts";
import { barModel, standInOf } from "../../../../lib/models/bait/bar.ts";
import { SEARCHING } from "../../../../lib/models/cooling.ts";
import { scenarioOf, scenarioSurroundings } from "../../../../lib/models/scenario.ts";
import {
  cycleProblem,
  paceOf,
  steadyShot,
  successiveShots,
} from "../../../../lib/models/shots/cycle.ts";

// molds that keep nearly all their heat: the cycle changes them by a few percent of what they still have to go
test.each([
  "bait: { thickness: 1/2 in }\nmold: { material: aluminum 6061, wall: 1 1/2 in, cavities: 3 }\nroom: { temperature: 70 degF }\nrun: { open: 30 s }",
  "bait: { thickness: 13 mm }\nroom: { temperature: 70 degF }",
])("a mold settles to what marching comes to: %s", (text) => {
  const scenario = scenarioOf(readJob(text).job);
  const { run, limits, shot, bait } = scenario.job;
  const pace = { ...paceOf(run, limits.demold, 1), timer: null };
  const problem = cycleProblem(
    barModel(scenario, standInOf(bait.stations[0])),
    pace,
    shot.temperature,
    scenarioSurroundings(scenario),
    SEARCHING,
  );
  const settled = steadyShot(problem, pace, { within: 0.005 });
  expect(settled.cycles).toBeLessThan(60);
  let marched = 0;
  let count = 0;
  for (const { opensAfter } of successiveShots(problem, pace)) {
    marched = opensAfter;
    if (++count >= 200) break;
  }
  expect(Math.abs(settled.opensAfter / marched - 1)).toBeLessThan(0.005);
});

test("a thin bait whose cycles swing by hundredths of a kelvin, a time step more or less by turns, has settled", () => {
  const { job } = readJob("bait: { thickness: 2 mm, width: 1 mm }");
  const { settled, baitsPerHour } = shots(job, { quick: true, likelyOnly: true }).answer;
  expect(baitsPerHour.length).toBeGreaterThan(1);
  // the block takes so little heat that no hands find it warmer: within the range's least width
  for (const { demold } of baitsPerHour) expect(Math.abs(demold - settled.value)).toBeLessThan(0.2);
});
