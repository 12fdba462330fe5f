import { expect, test } from "vitest";
import { readJob } from "../../../../lib/index.ts";
import { scenarioOf } from "../../../../lib/models/scenario.ts";
import { layer as askLayer } from "../../../../lib/questions/layer/layer.ts";
import { fullLook } from "../../../../lib/questions/layer/look.ts";
import { bestMoment } from "../../../../lib/questions/layer/moment.ts";

test("the end of the window climbs evenly with the depth across half the body", () => {
  const ends = [8.2, 8.5, 8.8, 8.9, 9, 9.1, 9.4].map((depth) => {
    const { job } = readJob(`bait: { thickness: 18 mm }\nlayer: { depth: ${depth} mm }`);
    return { depth, close: fullLook(scenarioOf(job), job.bait.stations[0]).close };
  });
  for (let i = 1; i < ends.length; i++) {
    const slope = (ends[i].close - ends[i - 1].close) / (ends[i].depth - ends[i - 1].depth);
    // the time of a sheet goes with the square of its depth: 2 close / depth is 45 s/mm
    expect(slope, `at ${ends[i].depth} mm`).toBeGreaterThan(20);
    expect(slope, `at ${ends[i].depth} mm`).toBeLessThan(70);
  }
});

const { layer, uncertainty } = readJob("bait: { thickness: 18 mm }").job;
const range = (value: number, low: number, high: number) => ({ value, low, high });

test("the best moment and its ends move on evenly as a window shrinks, and leave what a hand can keep", () => {
  let before: ReturnType<typeof bestMoment> = null;
  for (let close = 200; close > 20; close -= 0.5) {
    const now = bestMoment(range(40, 32, 55), range(close, 0.8 * close, 1.3 * close), {
      layer,
      uncertainty,
    });
    if (!now) {
      expect(close).toBeLessThan(40 + layer.handling);
      break;
    }
    const likely = close - 40 - layer.handling;
    expect(now.high - now.low).toBeGreaterThan(Math.min(likely, 2 * uncertainty.time) - 1e-9);
    for (const key of ["value", "low", "high"] as const)
      if (before) expect(Math.abs(now[key] - before[key])).toBeLessThan(1);
    before = now;
  }
  expect(before?.sure).toBe(false);
});

test("a window without end has a best moment, too", () => {
  const end = Number.POSITIVE_INFINITY;
  const moment = bestMoment(range(40, 32, 55), range(end, 90, end), { layer, uncertainty });
  expect(moment?.value).toBeGreaterThan(40);
  expect(moment?.high).toBeLessThan(1000);
});

test("a first color that does not set in the time looked at has no moment, however long it would bond", () => {
  const end = Number.POSITIVE_INFINITY;
  expect(bestMoment(range(end, 700, end), range(end, end, end), { layer, uncertainty })).toBeNull();
  const { job } = readJob(
    "bait: { form: round, stations: [{ name: body, at: 30 mm, width: 10.4 mm, height: 4.29 mm }] }\nrun: { preheat: 120 degC }\nlimits: { set: 70 degC }",
  );
  const { answer } = askLayer(job, { quick: true, likelyOnly: true });
  expect(answer).toMatchObject({ empty: true, injectAt: null, open: { value: end } });
});

test("a bond temperature below all that is met: the window most likely never closes; above all: it never opens", () => {
  const asked = (bond: string) =>
    askLayer(
      readJob(`{ bait: { thickness: 12 mm }, layer: { depth: 5 mm }, limits: { bond: ${bond} } }`)
        .job,
      { quick: true, further: false },
    ).answer;
  const { close, injectAt } = asked("62 degC");
  expect(close.value).toBe(Number.POSITIVE_INFINITY);
  expect(close.low).toBeGreaterThan(0);
  expect(Number.isFinite(injectAt?.value)).toBe(true);
  expect(asked("170 degC")).toMatchObject({ empty: true, close: { value: 0 } });
});

test("a body so thick that a sheet like it never cools has a time, or none, but no hole", () => {
  const { job } = readJob("bait: { thickness: 80 mm }");
  const { demold } = askLayer(job, { quick: true, further: false }).answer;
  for (const end of ["value", "low", "high"] as const) expect(demold?.[end]).not.toBeNaN();
});
