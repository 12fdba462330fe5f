import { describe, expect, test } from "vitest";
import type { Start } from "../../../lib/heat/first-instant.ts";
import { makeMonitor } from "../../../lib/heat/monitor.ts";
import type { ProbeReader } from "../../../lib/heat/probes.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { makeRunRecord } from "../../../lib/heat/run-record.ts";
import { hermite } from "../../../lib/numerics/hermite.ts";

/** A reader of one probe whose value and slope stand in u, so that a curve can be fed without a grid. */
const reader: ProbeReader = {
  names: ["p"],
  isCut: Uint8Array.of(0),
  isMean: Uint8Array.of(0),
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
  const found = makeRunRecord(problem, ["p"], 1e4);
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

/** Several probes, their values, slopes and cures from closed curves; the third lies where nothing is. */
interface Curve {
  readonly y: (t: number) => number;
  readonly slope: (t: number) => number;
  readonly holds?: boolean;
  readonly cure?: (t: number) => number;
}

/** u holds the time: a reader that is asked reads the curves there. */
function readerOf(curves: readonly Curve[]): ProbeReader {
  const read: ProbeReader["read"] = (u, _f, out) => {
    curves.forEach(({ y, slope, cure = () => 0 }, p) => {
      out.value[p] = y(u[0]!);
      out.slope[p] = slope(u[0]!);
      out.cure[p] = cure(u[0]!);
      out.cureSlope[p] = (cure(u[0]! + 1e-6) - cure(u[0]! - 1e-6)) / 2e-6;
    });
  };
  return {
    names: curves.map((_, p) => `p${p}`),
    isCut: new Uint8Array(curves.length),
    isMean: new Uint8Array(curves.length),
    read,
    readStart: (_start, u, f, out) => read(u, f, out, 0),
    fillHolds: (holds) => {
      curves.forEach(({ holds: h = true }, p) => {
        holds[p] = h ? 1 : 0;
      });
    },
  };
}

const none = new Float64Array(1);
const picture = (time: number) => ({ time }) as never;

/** Runs through stages that end at the last of their steps. */
function follow(
  curves: readonly Curve[],
  problem: Partial<HeatProblem>,
  stages: readonly (readonly number[])[],
  { span = 100, errors = 0, smooth = true } = {},
) {
  const given = problem as HeatProblem;
  const reader = readerOf(curves);
  const found = makeRunRecord(given, reader.names, span);
  const monitor = makeMonitor(given, reader, span, picture);
  monitor.begin(found);
  let t = 0;
  for (const ends of stages) {
    monitor.startStage(t, {} as Start, Float64Array.of(t), none);
    for (const end of ends) {
      monitor.look(end - t, Float64Array.of(end), none);
      monitor.take(t, end, errors, smooth);
      t = end;
    }
  }
  return { found, monitor };
}
const even = (from: number, to: number, count: number) =>
  Array.from({ length: count }, (_, i) => from + ((i + 1) / count) * (to - from));

const wave: Curve = { y: (t) => 300 + 10 * Math.sin(t), slope: (t) => 10 * Math.cos(t) };
const fall: Curve = {
  y: (t) => 280 + 60 * Math.exp(-t / 3),
  slope: (t) => -20 * Math.exp(-t / 3),
};
const empty: Curve = { y: () => 999, slope: () => 0, holds: false };

describe("curves that are no cubics", () => {
  const times = even(0, 12, 37);
  const problem: Partial<HeatProblem> = {
    times,
    crossings: [
      { probe: "p0", above: 305 },
      { probe: "p0", below: 295 },
      { probe: "p1", below: 300 },
      { probe: "p1", above: 345 },
      { probe: "p2", above: 300 },
      { probe: "p1", below: 350 },
    ],
  };
  test.each([6, 12, 24, 48])("are read to the fourth power of the step: %d steps", (steps) => {
    const { found } = follow([wave, fall, empty], problem, [even(0, 12, steps)]);
    const h = 12 / steps;
    // Hermite's remainder: h^4 / 384 times the largest fourth derivative; slopes of a long step are bounded
    const within = Math.max(1e-9, (h ** 4 / 384) * 10 * 1.01);
    // a longer one has its slopes bounded
    if (steps > 12)
      times.forEach((t, k) => {
        expect(Math.abs(found.values[0]![k]! - wave.y(t))).toBeLessThan(within);
        expect(Math.abs(found.values[1]![k]! - fall.y(t))).toBeLessThan(within);
        expect(found.holds.map((row) => row[k])).toEqual([1, 1, 0]);
      });
    if (steps < 24) return;
    // extremes: both tops are 10 K over the middle, and the first one is told
    expect(found.max[0]).toBeCloseTo(310, 2);
    expect(Math.abs(found.maxTime[0]! - Math.PI / 2)).toBeLessThan(0.01);
    expect(found.min[0]).toBeCloseTo(290, 2);
    const bottom = [1.5 * Math.PI, 3.5 * Math.PI];
    expect(Math.min(...bottom.map((b) => Math.abs(found.minTime[0]! - b)))).toBeLessThan(0.01);
    expect([found.max[1], found.maxTime[1], found.minTime[1]]).toEqual([340, 0, 12]);
    expect(found.min[1]).toBe(fall.y(12));
    expect([found.max[2], found.min[2]]).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.POSITIVE_INFINITY,
    ]);
    // crossings in their directions, with their slopes
    const [up, down, cool, never, nothing, already] = found.crossings;
    expect(up).toBeCloseTo(Math.PI / 6, 3);
    expect(down).toBeCloseTo(Math.PI + Math.PI / 6, 3);
    expect(cool).toBeCloseTo(3 * Math.log(3), 3);
    expect([never, nothing, already]).toEqual([null, null, 0]);
    expect(found.crossingSlopes[0]).toBeCloseTo(10 * Math.cos(Math.PI / 6), 1);
    expect(found.crossingSlopes[1]).toBeCloseTo(-10 * Math.cos(Math.PI / 6), 1);
    expect(found.crossingSlopes[2]).toBeCloseTo(-20 / 3, 2);
  });

  test("what the bodies have at the start counts among the extremes, of every stage", () => {
    const jump: Curve = { y: (t) => (t < 5 ? 300 : 350 - t), slope: (t) => (t < 5 ? 0 : -1) };
    const { found } = follow([jump], {}, [even(0, 4.999, 3), []]);
    expect([found.startMax[0], found.startMin[0]]).toEqual([300, 300]);
    const { found: both } = follow([fall], { times: [] }, [even(0, 5, 5), even(5, 9, 4)]);
    expect([both.startMax[0], both.startMin[0]]).toEqual([340, fall.y(5)]);
    const { found: rising } = follow([{ y: (t) => t, slope: () => 1 }], {}, [[1], [2], [3]]);
    expect([rising.startMax[0], rising.startMin[0]]).toEqual([2, 0]);
    expect([rising.max[0], rising.maxTime[0], rising.min[0], rising.minTime[0]]).toEqual([
      3, 3, 0, 0,
    ]);
    const { found: nothing } = follow([empty], {}, [[1], [2]]);
    expect(nothing.startMax[0]).toBe(Number.NEGATIVE_INFINITY);
  });

  test("errors of the steps go to what was read in them", () => {
    const at = (times: number[], crossings: HeatProblem["crossings"] = []) =>
      follow([wave], { times, crossings }, [even(0, 3, 12)], { errors: 0.25 }).found;
    expect(at([]).timeError).toBe(0);
    expect(at([1.1]).timeError).toBe(0.25);
    expect(at([0]).timeError).toBe(0);
    expect(at([], [{ probe: "p0", above: 305 }]).timeError).toBe(0.25);
    expect(at([], [{ probe: "p0", above: 315 }]).timeError).toBe(0);
    expect(at([]).maxError[0]).toBe(0.25);
    // the lowest is the start, which no step has an error in
    expect(at([]).minError[0]).toBe(0);
  });
});

describe("the trace", () => {
  const bend = (curves: readonly Curve[], options = {}) =>
    follow(curves, {}, [[3], [6]], { span: 10, ...options }).found.trace;
  test("has points between, where a cubic bends, on the cubic", () => {
    const trace = bend([wave]);
    const rows = trace.column(0);
    const values = trace.column(1);
    // a start for each stage, an end for each step, and as many between as are allowed at most
    expect(rows.length).toBe(2 * (2 + 11));
    expect(Array.from(rows)).toEqual(Array.from(rows).sort((a, b) => a - b));
    const cubic = (t: number) =>
      hermite({ h: 3, y0: wave.y(0), d0: wave.slope(0), y1: wave.y(3), d1: wave.slope(3) }, t / 3);
    rows.forEach((t, k) => {
      if (t < 3 && Math.abs(10 - (wave.y(3) - wave.y(0)) / 3) < 6)
        expect(Math.abs(values[k]! - cubic(t))).toBeLessThan(6);
    });
  });
  test("none where it runs straight, is not smooth, or holds nothing", () => {
    const line: Curve = { y: (t) => 5 * t, slope: () => 5 };
    expect(bend([line]).column(0).length).toBe(4);
    expect(bend([wave], { smooth: false }).column(0).length).toBe(4);
    expect(bend([{ ...wave, holds: false }]).column(0).length).toBe(4);
    // the same curve in a span a hundred times as large bends a hundredth: a tenth of the points
    const [fine, coarse] = [2e3, 2e5].map((span) => bend([wave], { span }).column(0).length - 4);
    expect(fine! / (coarse! + 1)).toBeGreaterThan(3);
  });
  test("lines from point to point miss a parabola by about the share of the span that is allowed", () => {
    // y = a t2 over a step of 1: in n parts lines miss it by a / (4 n2); what is counted is 4 / 27 a, one slope's
    for (const a of [1, 3, 10]) {
      const parabola: Curve = { y: (t) => a * t * t, slope: (t) => 2 * a * t };
      const { found } = follow([parabola], {}, [[1]], { span: 100 });
      const parts = found.trace.column(0).length - 1;
      if (parts < 12) expect(a / (4 * parts ** 2)).toBeLessThan((27 / 16) * 2e-4 * 100);
      expect(a / (4 * (parts - 1) ** 2)).toBeGreaterThan((27 / 16) * 2e-4 * 100);
      found.trace.column(0).forEach((t, k) => {
        expect(found.trace.column(1)[k]).toBeCloseTo(a * t * t, 9);
      });
    }
  });
});

describe("pictures", () => {
  const timesOf = (problem: Partial<HeatProblem>) =>
    follow([fall], problem, [
      [1, 2, 3],
      [4, 5],
    ]).found.snapshots.map(({ time }) => time);
  test("stand at the ends of the steps that they fall on, whatever the order in which they are wanted", () => {
    expect(timesOf({ snapshots: [4, 2] })).toEqual([2, 4]);
    expect(timesOf({ snapshots: [0, 3] })).toEqual([0, 3]);
    expect(timesOf({ snapshots: [9] })).toEqual([]);
    expect(timesOf({})).toEqual([]);
    expect(timesOf({ snapshots: [5] })).toEqual([5]);
  });
  test("at every step, when asked for, and none twice", () => {
    expect(timesOf({ everyStep: true })).toEqual([1, 2, 3, 4, 5]);
    expect(timesOf({ everyStep: true, snapshots: [2, 5] })).toEqual([1, 2, 3, 4, 5]);
    expect(timesOf({ everyStep: false, snapshots: [2] })).toEqual([2]);
  });
});

test("wanted times at the start of a stage are those after its refill; of none that holds nothing", () => {
  const refill: Curve = { y: (t) => (t < 2 ? 300 : 400), slope: () => 0 };
  const { found } = follow([refill, empty], { times: [0, 1, 2, 3] }, [
    [1, 1.999999],
    [2.5, 3],
  ]);
  expect(Array.from(found.values[0]!)).toEqual([300, 300, expect.any(Number), 400]);
  const later = follow([refill, empty], { times: [0, 2, 3] }, [[2], [3]]).found;
  // the step before ends there, too: it comes first
  expect(Array.from(later.values[0]!)).toEqual([300, 400, 400]);
  expect(Array.from(later.holds[1]!)).toEqual([0, 0, 0]);
});

test("cure between two steps follows its cubic, and never leaves the span of its step", () => {
  const cure = (t: number) => 1 - Math.exp(-t);
  const { found } = follow([{ ...fall, cure }], { times: [0, 0.1, 0.25, 0.5, 0.9, 1.4] }, [
    even(0, 2, 10),
  ]);
  found.cures[0]!.forEach((a, k) => {
    expect(a).toBeCloseTo(cure([0, 0.1, 0.25, 0.5, 0.9, 1.4][k]!), 5);
  });
  // fast ripples, of which the steps see nothing but their slope: a cubic would leave the span
  const ripple = (t: number) => 0.2 + 0.05 * t + 1e-2 * Math.sin(100 * Math.PI * t);
  const times = even(0, 2, 40);
  const cures = follow([{ ...fall, cure: ripple }], { times }, [[1, 2]]).found.cures[0]!;
  cures.forEach((a, k) => {
    const from = 0.2 + (times[k]! > 1 ? 0.05 : 0);
    expect(a).toBeGreaterThanOrEqual(from - 1e-9);
    expect(a).toBeLessThanOrEqual(from + 0.05 + 1e-9);
  });
  expect(Math.max(...cures.slice(0, 20))).toBeCloseTo(0.25, 6);
});

describe("a step that its ends do not tell surely", () => {
  /** From 0 to 1 in one step, t (1 - t) (1.5 - t): as high at both ends, highest at (5 - sqrt 7) / 6. */
  const shape = (t: number) => 1.3 * t * (1 - t) * (1.5 - t);
  const hidden: Curve = {
    y: (t) => 300 + shape(t),
    slope: (t) => 1.3 * (1.5 - 5 * t + 3 * t * t),
  };
  const top = (5 - Math.sqrt(7)) / 6;
  const unsureOf = (
    curves: readonly Curve[],
    crossings: HeatProblem["crossings"] = [],
    { span = 100, tolerance = 1e-4, h = 1, before = [] as number[] } = {},
  ) => {
    const { monitor } = follow(curves, { crossings, tolerance }, [before], { span });
    const from = before.at(-1) ?? 0;
    monitor.look(h, Float64Array.of(from + h), none);
    return monitor.unsure(h);
  };
  test("is told by where a new extreme lies, and not by what holds nothing or is straight", () => {
    expect(unsureOf([hidden])).toBeCloseTo(top, 9);
    expect(unsureOf([{ ...hidden, holds: false }])).toBe(-1);
    expect(unsureOf([{ y: (t) => t, slope: () => 1 }])).toBe(-1);
    const low: Curve = { y: (t) => -hidden.y(t), slope: (t) => -hidden.slope(t) };
    expect(unsureOf([low])).toBeCloseTo(top, 9);
    expect(unsureOf([{ y: (t) => t, slope: () => 1 }, hidden])).toBeCloseTo(top, 9);
    // of two the first
    const mirrored: Curve = { y: (t) => hidden.y(1 - t), slope: (t) => -hidden.slope(1 - t) };
    expect(unsureOf([mirrored])).toBeCloseTo(1 - top, 9);
    expect(unsureOf([mirrored, hidden])).toBeCloseTo(top, 9);
    expect(unsureOf([hidden, mirrored])).toBeCloseTo(top, 9);
    // a parabola is the same from either end: nothing is open
    const parabola: Curve = { y: (t) => t * (1 - t), slope: (t) => 1 - 2 * t };
    expect(unsureOf([parabola])).toBe(-1);
    // what a fifth of a tolerance allows is no new extreme: a peak of 0.34 K, parabolas that differ by 0.325 K
    expect(unsureOf([hidden], [], { tolerance: 1.6e-2 })).toBeCloseTo(top, 9);
    expect(unsureOf([hidden], [], { tolerance: 1.65e-2 })).toBe(-1);
    // a higher one, or a lower, was before
    for (const sign of [1, -1])
      for (const [before, seen] of [
        [5, -1],
        [0.3, top],
      ] as const) {
        const second: Curve = {
          y: (t) => sign * (t < 1 ? before * (1 - t) : shape(t - 1)),
          slope: (t) => sign * (t < 1 ? -before : hidden.slope(t - 1)),
        };
        const found = unsureOf([second], [], { before: [0.5, 1] });
        if (seen < 0) expect(found).toBe(-1);
        else expect(found).toBeCloseTo(seen, 9);
      }
  });
  test("by the first of the crossings that are wanted and still open", () => {
    const at = (t: number) => hidden.y(t);
    expect(unsureOf([hidden], [{ probe: "p0", above: at(0.15) }])).toBeCloseTo(0.15, 6);
    expect(
      unsureOf(
        [hidden],
        [
          { probe: "p0", above: at(0.2) },
          { probe: "p0", above: at(0.1) },
        ],
      ),
    ).toBeCloseTo(0.1, 6);
    // falling it begins below
    expect(unsureOf([hidden], [{ probe: "p0", below: at(0.15) }])).toBeCloseTo(top, 9);
    expect(unsureOf([hidden], [{ probe: "p0", above: 400 }])).toBeCloseTo(top, 9);
    // near an end of the step its own value and slope tell
    expect(unsureOf([hidden], [{ probe: "p0", above: at(0.029) }])).toBeCloseTo(top, 9);
    expect(unsureOf([hidden], [{ probe: "p0", above: at(0.031) }])).toBeCloseTo(0.031, 6);
    const fall: Curve = { y: (t) => -at(1 - t), slope: (t) => hidden.slope(1 - t) };
    expect(unsureOf([fall], [{ probe: "p0", below: -at(0.8) }])).toBeCloseTo(0.2, 6);
    const straight: Curve = { y: (t) => 300 + t, slope: () => 1 };
    expect(unsureOf([straight], [{ probe: "p0", above: 300.5 }])).toBe(-1);
    // of one whose place holds nothing, or that was crossed already, nothing is asked
    const twice: Curve = {
      y: (t) => hidden.y(t < 1 ? t : t - 1),
      slope: (t) => hidden.slope(t < 1 ? t : t - 1),
    };
    const crossings = [{ probe: "p0", above: at(0.15) }];
    const { monitor, found } = follow([twice], { crossings }, [[0.5, 1]], { span: 100 });
    expect(found.crossings[0]).toBeCloseTo(0.15, 2);
    monitor.goOn(Float64Array.of(1), none);
    monitor.look(1, Float64Array.of(1.9999999), none);
    expect(monitor.unsure(1)).toBe(-1);
    expect(unsureOf([{ ...hidden, holds: false }], crossings)).toBe(-1);
  });
});

test("a stage that rises to a level stops there; one whose probe holds nothing or is not there goes on", () => {
  const { monitor } = follow([wave, empty], {}, [[0.1]]);
  monitor.look(1, Float64Array.of(1.1), none);
  const s = monitor.stopIn({ probe: "p0", above: 305 }, 1);
  expect(wave.y(0.1 + s)).toBeCloseTo(305, 1);
  expect(monitor.stopIn({ probe: "p0", below: 305 }, 1)).toBe(0);
  expect(monitor.stopIn({ probe: "p0", above: 300 }, 1)).toBe(0);
  expect(monitor.stopIn({ probe: "p0", above: wave.y(0.1) }, 1)).not.toBe(0);
  expect(monitor.stopIn({ probe: "p0", below: wave.y(0.1) }, 1)).not.toBe(0);
  expect(monitor.stopIn({ probe: "p1", above: 305 }, 1)).toBe(-1);
  expect(monitor.stopIn({ probe: "other", above: 305 }, 1)).toBe(-1);
});

test("a rate that still settles does not swing a reading out of its step: half the change and a little of the span", () => {
  for (const d0 of [-1e6, -40, 40, 1e6])
    for (const d1 of [-1e6, 1e6]) {
      const stiff: Curve = { y: (t) => 300 + 10 * t, slope: (t) => (t === 0 ? d0 : d1) };
      const { found } = follow([stiff], { times: even(0, 1, 50) }, [[1]], { span: 100 });
      found.values[0]!.forEach((v, k) => {
        // each slope leaves the line by that much, both together by twice
        expect(Math.abs(v - (300 + 10 * even(0, 1, 50)[k]!))).toBeLessThan(2 * (5 + 0.3));
      });
      expect(found.values[0]!.at(-1)).toBeCloseTo(310, 9);
    }
  // a mild one is taken as it is
  const mild: Curve = { y: (t) => 300 + 10 * t * t, slope: (t) => 20 * t };
  const { found } = follow([mild], { times: [0.3, 0.6] }, [[1]]);
  expect(found.values[0]![0]).toBeCloseTo(300.9, 9);
  expect(found.values[0]![1]).toBeCloseTo(303.6, 9);
});

test("a step goes on from the true slope at its start, also when that has jumped", () => {
  const { monitor, found } = (() => {
    const curves = [{ y: (t: number) => 300 + t * t, slope: (t: number) => 2 * t }];
    const problem = { times: [0.5, 1.5] } as unknown as HeatProblem;
    const reader = readerOf(curves);
    const found = makeRunRecord(problem, reader.names, 100);
    const monitor = makeMonitor(problem, reader, 100, picture);
    monitor.begin(found);
    monitor.startStage(0, {} as Start, Float64Array.of(0), none);
    return { monitor, found };
  })();
  monitor.look(1, Float64Array.of(1), none);
  monitor.take(0, 1, 0, true);
  monitor.goOn(Float64Array.of(1), none);
  monitor.look(1, Float64Array.of(2), none);
  monitor.take(1, 2, 0, true);
  expect(Array.from(found.values[0]!)).toEqual([
    expect.closeTo(300.25, 9),
    expect.closeTo(302.25, 9),
  ]);
});
