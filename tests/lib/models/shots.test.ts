/** Shots one after the other, and hollows that cool: sums that must come out, and runs that settle. */
import { describe, expect, test } from "vitest";
import { checkHeatProblem } from "../../../lib/heat/check.ts";
import { readJob } from "../../../lib/job/job.ts";
import { barModel } from "../../../lib/models/bait/bar.ts";
import { sectionModel } from "../../../lib/models/bait/section.ts";
import { courseBetween, ignoredByShots } from "../../../lib/models/cooling.ts";
import { plasticMix } from "../../../lib/models/plastic-mix.ts";
import { EffortSum } from "../../../lib/models/ranged.ts";
import { scenarioOf, scenarioSurroundings } from "../../../lib/models/scenario.ts";
import {
  carriedFrom,
  cycleProblem,
  type Pace,
  paceOf,
  steadyShot,
  successiveShots,
} from "../../../lib/models/shots/cycle.ts";
import { march } from "../../../lib/models/shots/march.ts";
import { slowestStation } from "../../../lib/models/shots/slowest-station.ts";
import {
  fattestOf,
  fillTemperature,
  gateBar,
  gateHollow,
  stationParts,
  thinnestOf,
  widestSprue,
} from "../../../lib/models/sprue/body.ts";
import {
  closingProblem,
  hollowProblem,
  stateAt,
  timeBelow,
} from "../../../lib/models/sprue/cooling.ts";
import { wallPeakOf } from "../../../lib/models/wall-peak.ts";
import { stationArea } from "../../../lib/shape/station-outline.ts";
import { InputError } from "../../../lib/units/problem.ts";

const { job } = readJob("{ bait: { thickness: 14 mm }, mold: { wall: 15 mm } }");
const scenario = scenarioOf(job);
const around = scenarioSurroundings(scenario);
const model = barModel(scenario, { form: "round", across: 0.014 });
const pace: Pace = { ...paceOf(job.run, 330, 1), timer: null };
const problemOf = (at: Pace) => cycleProblem(model, at, 440, around, { estimateGrid: false });

describe("one cycle", () => {
  const until = (at: Partial<Pace>) => problemOf({ ...pace, ...at }).stages;
  test("cools to its limit or to the timer, dips, lies open, and waits for the hands", () => {
    const [cools, open, waits] = until({ bath: 0, open: 20, period: 0, limit: 333 });
    expect(cools).toMatchObject({
      refill: [{ name: "bait", temperature: 440 }],
      stop: { probe: "hottest", below: 333 },
    });
    expect(open).toMatchObject({ lasts: 20, absent: ["bait"], exposed: around.openCavity });
    expect(open!.boundary).toEqual({ right: around.outsideOpen });
    expect(waits).toMatchObject({ until: 1e-3, absent: ["bait"] });
    const timed = problemOf({ ...pace, timer: 90, period: 400 });
    expect(timed.stages[0]).toEqual({
      until: 90,
      lasts: 90,
      refill: [{ name: "bait", temperature: 440 }],
    });
    expect(timed.times).toEqual([90]);
    expect(timed.stages.at(-1)!.until).toBe(400);
    expect(problemOf(pace).times).toEqual([]);
  });
  test("a dip comes before it lies open, with water inside and out", () => {
    const stages = until({ bath: 15, open: 20 });
    expect(stages).toHaveLength(4);
    expect(stages[1]).toMatchObject({
      lasts: 15,
      absent: ["bait"],
      exposed: around.dip,
      boundary: { right: around.dip },
    });
    // one stage begins no earlier than the one before may end
    const ends = stages.slice(0, 3).map((s) => s.until);
    expect(ends).toEqual([...ends].sort((a, b) => a - b));
    expect(checkHeatProblem(problemOf({ ...pace, bath: 15 }))).toEqual([]);
  });
  test("whatever model it is of, all faces that look into the room are blown at and dipped; mirrors and water backs stay", () => {
    const faces = (mold: string, form: "bar" | "section") => {
      const own = scenarioOf(
        readJob(`{ bait: { thickness: 14 mm }, mold: { ${mold} }, run: { fan: yes } }`).job,
      );
      const made =
        form === "bar"
          ? barModel(own, { form: "round", across: 0.014 })
          : sectionModel(own, own.job.bait.stations[0]!);
      const there = scenarioSurroundings(own);
      const { stages } = cycleProblem(made, { ...pace, bath: 9 }, 440, there);
      expect(stages[2]!.boundary).toEqual(stages[3]!.boundary);
      for (const [stage, boundary] of [
        [1, there.dip],
        [2, there.outsideOpen],
      ] as const)
        for (const face of Object.values(stages[stage]!.boundary!)) expect(face).toEqual(boundary);
      return Object.keys(stages[1]!.boundary!).sort();
    };
    const back =
      "back: { material: aluminum 6061, distance: 10 mm, thickness: 9 mm, water: 15 degC }";
    expect(faces("wall: 15 mm", "bar")).toEqual(["right"]);
    expect(faces(back, "bar")).toEqual([]);
    expect(faces("wall: 15 mm", "section")).toEqual(["right", "top"]);
    expect(faces(back, "section")).toEqual(["right"]);
    expect(faces("temperature: 30 degC, upperTemperature: 40 degC", "section")).toEqual([
      "bottom",
      "right",
      "top",
    ]);
  });
  test("a dip cools the mold from both sides: the more of it, the cooler the wall as the next shot comes", () => {
    const wallAfter = (bath: number, outside: boolean) => {
      const at = { ...pace, bath, timer: 200 };
      const problem = problemOf(at);
      const stages = problem.stages.map(({ boundary: b, ...stage }) =>
        outside && b ? { ...stage, boundary: b } : stage,
      );
      return steadyShot({ ...problem, stages }, at).wallAfter;
    };
    expect(wallAfter(30, true)).toBeLessThan(wallAfter(30, false) - 1);
    expect(wallAfter(30, true)).toBeLessThan(wallAfter(10, true) - 1);
  });
  test("hands serve their other molds before they come back", () => {
    const run = { ...job.run, hands: 30, open: 12, bath: 4, timer: 88, molds: 3 };
    expect(paceOf(run, 333)).toEqual({ limit: 333, timer: 88, open: 12, bath: 4, period: 90 });
    expect(paceOf(run, 333, 1).period).toBe(30);
  });
  test("what two dimensions add is a factor of the time and kelvins of the wall; nothing where one never cools", () => {
    const shot = (opensAfter: number, wallPeak: number) => ({ opensAfter, wallPeak });
    expect(carriedFrom(shot(100, 350), shot(130, 347))).toEqual({ factor: 1.3, hotter: -3 });
    expect(
      carriedFrom(shot(Number.POSITIVE_INFINITY, 350), shot(Number.POSITIVE_INFINITY, 347)).factor,
    ).toBe(1);
    expect(carriedFrom(shot(100, 350), shot(Number.POSITIVE_INFINITY, Number.NaN))).toEqual({
      factor: 1,
      hotter: 0,
    });
  });
});

describe("a run of shots", () => {
  const problem = problemOf(pace);
  const settled = steadyShot(problem, pace, { within: 0.005 });
  const rows = (wanted: number, enough = false) =>
    march(problem, pace, new EffortSum(), {
      wanted,
      settled,
      enough: (done) =>
        enough &&
        done.length >= 3 &&
        Math.abs(done.at(-1)!.opensAfter / settled.opensAfter - 1) < 3e-3,
    });
  test("warms its mold from shot to shot up to the one that it settles to", () => {
    const all = rows(12);
    expect(all).toHaveLength(12);
    all.forEach(({ opensAfter, wallPeak, wallAfter, hottest }, i) => {
      expect(hottest).toBe(330);
      if (i === 0) return;
      expect(opensAfter).toBeGreaterThan(all[i - 1]!.opensAfter - 0.01);
      expect(wallPeak).toBeGreaterThan(all[i - 1]!.wallPeak - 0.05);
      expect(wallAfter).toBeGreaterThan(all[i - 1]!.wallAfter - 0.05);
    });
    expect(Math.abs(all.at(-1)!.opensAfter / settled.opensAfter - 1)).toBeLessThan(5e-3);
    // the first is that of a mold at its start
    const [first] = successiveShots(problem, pace);
    expect(all[0]!.opensAfter).toBe(first!.opensAfter);
  });
  test("goes on as its last shots did: within a thousandth of those that are marched", () => {
    const [marched, goneOn] = [rows(14), rows(14, true)];
    expect(goneOn).toHaveLength(14);
    marched.forEach((row, i) => {
      expect(Math.abs(goneOn[i]!.opensAfter / row.opensAfter - 1), `${i}`).toBeLessThan(1.5e-3);
      expect(Math.abs(goneOn[i]!.wallPeak - row.wallPeak)).toBeLessThan(0.2);
      expect(Math.abs(goneOn[i]!.wallAfter - row.wallAfter)).toBeLessThan(0.2);
      expect(goneOn[i]!.hottest).toBe(330);
    });
    // what is left falls by the same factor each time
    const left = goneOn.slice(-4).map(({ opensAfter }) => opensAfter - settled.opensAfter);
    expect(left[1]! * left[1]!).toBeCloseTo(left[0]! * left[2]!, 6);
    expect(Math.abs(left[3]!)).toBeLessThanOrEqual(Math.abs(left[0]!));
    const fewer = new EffortSum();
    const more = new EffortSum();
    march(problem, pace, more, { wanted: 14, settled, enough: () => false });
    march(problem, pace, fewer, { wanted: 14, settled, enough: ({ length }) => length === 3 });
    expect(fewer.done().steps).toBeLessThan(0.5 * more.done().steps);
  });
  test("ends with a shot that never cools", () => {
    const never = { ...pace, limit: job.room.temperature - 5 };
    const done = march(problemOf(never), never, new EffortSum(), {
      wanted: 5,
      settled,
      enough: () => false,
    });
    expect(done).toHaveLength(1);
    expect(done[0]!.opensAfter).toBe(Number.POSITIVE_INFINITY);
  });
  test("the station that is slowest is the thickest", () => {
    const three = readJob(
      "{ bait: { length: 100 mm, stations: [{ at: 20 mm, width: 8 mm, height: 8 mm }, { at: 50 mm, width: 15 mm, height: 14 mm }, { at: 80 mm, width: 10 mm, height: 12 mm }] } }",
    ).job;
    expect(slowestStation(scenarioOf(three)).at).toBeCloseTo(0.05, 9);
  });
});

describe("hollows", () => {
  const hollow = (form: "round" | "flat", across = 0.012) => ({ form, across });
  test.each(["round", "flat"] as const)(
    "%s: shells fill it, and their mean is the mean",
    (form) => {
      const times = [1, 4, 15, 60];
      const { mean, center, shells } = stateAt(scenario, hollow(form), times);
      shells.forEach(({ share, T }, k) => {
        const sum = share.reduce((a, b) => a + b, 0);
        expect(sum).toBeCloseTo(1, 6);
        expect(Math.min(...share)).toBeGreaterThan(0);
        const average = share.reduce((a, s, i) => a + s * T[i]!, 0);
        expect(Math.abs(average - mean[k]!), `${times[k]}`).toBeLessThan(
          0.004 * (443 - mean[k]!) + 0.3,
        );
        // the hottest shell is the middle's, and none is hotter than that
        expect(Math.abs(T[0]! - center[k]!)).toBeLessThan(0.5);
        expect(Math.max(...T)).toBeLessThanOrEqual(center[k]! + 0.5);
        for (let i = 1; i < T.length; i++) expect(T[i]!).toBeLessThanOrEqual(T[i - 1]! + 1e-3);
      });
      expect(center[3]!).toBeLessThan(center[0]!);
    },
  );
  test("close when what is watched is cold: the skin first, the middle last; the wider the later", () => {
    const time = (watched: "center" | "mean" | "skin", across = 0.012) =>
      timeBelow(scenario, hollow("round", across), watched, 390, { quick: true }).time;
    expect(time("skin")).toBeLessThan(time("mean"));
    expect(time("mean")).toBeLessThan(time("center"));
    // in a mold that takes all heat the time would grow as the square
    expect(time("center", 0.018) / time("center")).toBeGreaterThan(1.5);
    expect(timeBelow(scenario, hollow("round"), "center", 200, { quick: true }).time).toBe(
      Number.POSITIVE_INFINITY,
    );
    const problem = closingProblem(scenario, hollow("flat"), "mean", 390);
    expect(problem.crossings).toEqual([{ probe: "mean", below: 390 }]);
    expect(problem.stages[0]!.stop!.below).toBeLessThan(390);
    const draft = (options: object) => hollowProblem(scenario, hollow("flat"), options);
    expect(draft({})).not.toHaveProperty("estimateGrid");
    expect(draft({ quick: true })).toMatchObject({ estimateGrid: false, resolution: 1.5 });
    expect(draft({ quick: true, draft: true })).toMatchObject({ resolution: 1, tolerance: 2e-3 });
    const shouldStop = () => false;
    expect(draft({ shouldStop })).toMatchObject({ shouldStop });
    expect(draft({})).not.toHaveProperty("shouldStop");
  });
  test("parts of a bait reach halfway to the next: their volumes add up to the whole's", () => {
    const { job: three } = readJob(
      "{ bait: { length: 100 mm, stations: [{ name: head, at: 20 mm, width: 8 mm, height: 8 mm }, { name: body, at: 50 mm, width: 15 mm, height: 14 mm }, { name: tail, at: 80 mm, width: 3 mm, height: 12 mm, form: flat }] }, limits: { set: 120 degC } }",
    );
    const parts = stationParts(three);
    const lengths = [0.035, 0.03, 0.035];
    parts.forEach(({ volume, station }, i) => {
      expect(volume).toBeCloseTo(stationArea(station) * lengths[i]!, 12);
    });
    expect([fattestOf(parts).name, thinnestOf(parts).name]).toEqual(["body", "tail"]);
    expect(fillTemperature(three)).toBeCloseTo(403.15, 9);
    // no wider than the bait, or than the place allows
    expect(widestSprue(three)).toBe(Math.min(three.sprue.widest, three.bait.thickness));
  });
  test("a gate is a bar or a sheet by its sides, and the bar that is as slow as a sheet has 1.53 its thickness", () => {
    const gate = (width: number, height: number) =>
      ({ gate: { width, height, length: 0.002 } }) as never;
    expect(gateHollow(gate(0.004, 0.002)).form).toBe("round");
    expect(gateHollow(gate(0.002, 0.0061))).toEqual({ form: "flat", across: 0.002 });
    expect(gateHollow(gate(0.0061, 0.002))).toEqual({ form: "flat", across: 0.002 });
    expect(gateHollow(gate(0.002, 0.0059)).form).toBe("round");
    expect(gateHollow(gate(0.003, 0.003)).across).toBeCloseTo(0.003, 6);
    // first zeros: pi / across of a sheet, 2.4048 x 2 / across of a bar
    expect(gateBar(gate(0.002, 0.02))).toEqual({
      form: "round",
      across: expect.closeTo((0.002 * 2 * 2.404825557695773) / Math.PI, 12),
    });
    expect(gateBar(gate(0.003, 0.003)).across).toBeCloseTo(0.003, 6);
  });
});

test("curves are read at evenly spread times, straight between those that are known", () => {
  const { times, curves } = courseBetween(
    [0, 10, 40],
    (name) => (name === "a" ? [0, 10, 70] : [5, 5, 5]),
    ["a", "b"],
    5,
    35,
  );
  expect(times).toHaveLength(61);
  expect([times[0], times[60]]).toEqual([5, 35]);
  times.forEach((t, i) => {
    expect(curves["a"]![i]).toBeCloseTo(t < 10 ? t : 10 + 2 * (t - 10), 9);
    expect(curves["b"]![i]).toBe(5);
  });
});

test("the first instants of a wall are not its peak: at most ten seconds, at most a share of the course", () => {
  const wall = (end: number) => {
    const times = Array.from({ length: 101 }, (_, i) => (i / 100) * end);
    return { times, probes: { wall: times.map((t) => 400 - (50 * t) / end) } };
  };
  // a share of 1.5 %
  expect(wallPeakOf(wall(200))).toBeCloseTo(400 - 50 * 0.015, 6);
  expect(wallPeakOf(wall(2000))).toBeCloseTo(400 - 50 * (10 / 2000), 6);
  const both = wall(200);
  expect(
    wallPeakOf({ ...both, probes: { ...both.probes, "wall above": both.times.map(() => 410) } }),
  ).toBe(410);
});

test("what shots leave out: more in one dimension, and neighbors where there are some", () => {
  const two = readJob("{ bait: { thickness: 14 mm }, mold: { cavities: 2 } }").job;
  const full = ignoredByShots(false, two);
  expect(ignoredByShots(true, two)).toEqual(
    expect.arrayContaining([...full, "one_dimension", "neighbor_cavities"]),
  );
  expect(ignoredByShots(true, job)).not.toContain("neighbor_cavities");
  expect(full).not.toContain("one_dimension");
});

test("the plastic of an evening adds up to all shots with their sprue and what stays in the cup", () => {
  const { job: evening } = readJob(
    "{ bait: { thickness: 14 mm }, mold: { cavities: 3 }, mix: { plastic: { color: 2 %, hardener: 5 %, softener: 10 %, glitter: 1 %, waste: 8 % } } }",
  );
  const mix = plasticMix(evening, 10);
  const { sprue, shot } = evening;
  const density = shot.material.density.value;
  const way =
    (Math.PI / 4) * sprue.diameter ** 2 * sprue.length +
    3 * sprue.gate.width * sprue.gate.height * sprue.gate.length;
  expect(mix.shot).toBeCloseTo(3 * mix.bait + way * density, 12);
  expect(mix.mass).toBeCloseTo(10 * mix.shot * 1.08, 12);
  expect(mix.plain + mix.color + mix.hardener + mix.softener + mix.glitter).toBeCloseTo(
    mix.mass,
    12,
  );
  expect(mix.hardener / mix.mass).toBeCloseTo(0.05, 12);
  expect(
    [mix.softener, mix.glitter, mix.color].map((m) => Number((m / mix.mass).toFixed(9))),
  ).toEqual([0.1, 0.01, 0.02]);
  const stirred = (color: number) => ({
    ...evening,
    mix: {
      ...evening.mix,
      plastic: { ...evening.mix.plastic, color, hardener: 0, softener: 0, glitter: 0 },
    },
  });
  expect(() => plasticMix(stirred(0.81), 10)).toThrow(InputError);
  expect(plasticMix(stirred(0.8), 10).plain).toBeGreaterThan(0);
  try {
    plasticMix(stirred(0.9), 1);
    expect.unreachable();
  } catch (error) {
    expect((error as InputError).problems).toEqual([
      { code: "too_much_stirred_in", path: "mix.plastic", given: "90 %", most: "80 %" },
    ]);
  }
});
