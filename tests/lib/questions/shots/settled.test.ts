import { expect, test } from "vitest";
import { readJob } from "../../../../lib/index.ts";
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
