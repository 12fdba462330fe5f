import { expect, test } from "vitest";
import type { Start } from "../../../lib/heat/first-instant.ts";
import { makeMonitor } from "../../../lib/heat/monitor.ts";
import type { ProbeReader } from "../../../lib/heat/probes.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { makeRunRecord } from "../../../lib/heat/run-record.ts";

/** A reader of one probe whose value and slope stand in u, so that a curve can be fed without a grid. */
const reader: ProbeReader = {
  names: ["p"],
  isCut: Uint8Array.of(0),
  read: (u, _f, out) => {
    out.value[0] = u[0];
    out.slope[0] = u[1];
    out.cure[0] = 0;
    out.cureSlope[0] = 0;
  },
  readStart: (_start, u, f, out) => reader.read(u, f, out, 0),
  fillHolds: (holds) => {
    holds[0] = 1;
  },
};

/** Feeds y(t), a cubic or less, in steps that end at the given times. */
function record(y: (t: number) => number, slope: (t: number) => number, ends: readonly number[]) {
  const problem = {
    times: [0, 1.5, 2],
    crossings: [
      { probe: "p", above: 300.5 },
      { probe: "p", below: 299 },
    ],
  } as unknown as HeatProblem;
  const found = makeRunRecord(problem, ["p"]);
  const monitor = makeMonitor(problem, reader, 1e4, () => {
    throw new Error("no snapshot was asked for");
  });
  const at = (t: number) => Float64Array.of(y(t), slope(t));
  const f = new Float64Array(2);
  monitor.begin(found);
  monitor.startStage(0, {} as Start, at(0), f);
  let t = 0;
  for (const end of ends) {
    monitor.look(end - t, at(end), f);
    monitor.take(t, end, 0, true);
    t = end;
  }
  return { found, monitor, at, f };
}

const y = (t: number) => 300 + t * (2 - t) * (1 + 0.1 * t);
const slope = (t: number) => (y(t + 1e-6) - y(t - 1e-6)) / 2e-6;

test("values, crossings and extremes of a cubic are those of the cubic, whatever the steps", () => {
  for (const ends of [[2], [0.7, 2], [0.3, 0.9, 1.4, 2]]) {
    const { found } = record(y, slope, ends);
    expect(Array.from(found.values[0])).toEqual([
      expect.closeTo(y(0), 9),
      expect.closeTo(y(1.5), 6),
      expect.closeTo(y(2), 9),
    ]);
    // y' = 0: 2 - 1.6 t - 0.3 t^2 = 0
    const top = (-1.6 + Math.sqrt(1.6 ** 2 + 2.4)) / 0.6;
    expect(found.maxTime[0]).toBeCloseTo(top, 5);
    expect(found.max[0]).toBeCloseTo(y(top), 6);
    expect(y(found.crossings[0] as number)).toBeCloseTo(300.5, 6);
    expect(found.crossings[1]).toBeNull();
  }
});

test("a stage stops within the step at the level; one already there may not begin", () => {
  const { monitor, at, f } = record(y, slope, [0.5]);
  monitor.look(1.5, at(2), f);
  const s = monitor.stopIn({ probe: "p", below: 300.7 }, 1.5);
  expect(y(0.5 + 1.5 * s)).toBeCloseTo(300.7, 6);
  expect(monitor.stopIn({ probe: "p", above: 300.2 }, 1.5)).toBe(0);
  expect(monitor.stopIn({ probe: "p", below: 200 }, 1.5)).toBe(-1);
});
