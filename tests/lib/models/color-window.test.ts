/**
 * The window of a second color, where all of it has a closed form: a slab that loses its heat slowly through its open face
 * follows its slowest mode alone (Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 3.11), and two thick
 * slabs of one material meet at the mean of their faces (section 2.15).
 */
import { describe, expect, test } from "vitest";
import { healingTime } from "../../../lib/cure/healing.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { readJob } from "../../../lib/job/job.ts";
import { windowOf } from "../../../lib/models/layer/color-window.ts";
import {
  type ColorRules,
  type ColorSequence,
  closedStages,
  colorStages,
} from "../../../lib/models/layer/colors.ts";
import { coolOpenColor } from "../../../lib/models/layer/open-color.ts";
import { layerSection } from "../../../lib/models/layer/section.ts";
import { layerStack } from "../../../lib/models/layer/stack.ts";
import { scenarioOf } from "../../../lib/models/scenario.ts";
import { findRoot } from "../../../lib/numerics/roots.ts";
import { colorRules } from "../../../lib/questions/layer/table.ts";

const [AIR, START, SECOND] = [300, 450, 440];
const [k, c, thick, h] = [0.5, 2e6, 0.02, 1];
const material = { name: "plastic", conductivity: k, density: 1000, specificHeat: c / 1000 };

/** zeta tan zeta = h L / k. */
const zeta = findRoot((z) => z * Math.tan(z) - (h * thick) / k, 1e-6, 1.5, 1e-14);
const share = (4 * Math.sin(zeta)) / (2 * zeta + Math.sin(2 * zeta));
/** x from the closed side. */
const temperature = (x: number, t: number) =>
  AIR +
  (START - AIR) *
    share *
    Math.cos((zeta * x) / thick) *
    Math.exp((-zeta * zeta * k * t) / c / thick ** 2);
const timeAt = (x: number, T: number) =>
  ((c * thick ** 2) / k / zeta ** 2) *
  Math.log(((START - AIR) * share * Math.cos((zeta * x) / thick)) / (T - AIR));

const problem: Omit<HeatProblem, "stages"> = {
  frame: "slab",
  materials: { plastic: material },
  layers: ["first", "second"].map((name) => ({
    name,
    material: "plastic",
    thickness: thick,
    initial: START,
  })),
  boundary: { left: { kind: "insulated" }, right: { kind: "insulated" } },
  probes: {
    "hottest 0": { kind: "hottest", region: "first" },
    "hottest 1": { kind: "hottest", region: "second" },
    "skin 0": { kind: "point", x: 0.015 },
    "interface 0": { kind: "face", region: "first", neighbor: "second", of: "mean" },
    surface: { kind: "point", x: thick, side: "left" },
    wall: { kind: "point", x: 0, side: "right" },
  },
};
const sequence: ColorSequence = {
  poured: [START, SECOND].map((temperature, i) => ({
    name: ["first", "second"][i]!,
    depth: thick,
    temperature,
    material,
  })),
  problem,
  colors: [["first"], ["second"]],
  upper: [],
  exposed: { kind: "exchange", h, ambient: AIR },
  interfaces: [["interface 0"]],
};
const HORIZON = 60000;
const rulesOf = (change: Partial<ColorRules> = {}): ColorRules => ({
  setBelow: 400,
  bondAbove: 410,
  leastHealing: 0,
  healingTime: { duration: 1, T: 423, energy: 80e3 },
  ...change,
});
const openWith = (change: Partial<ColorRules> = {}, horizon = HORIZON) =>
  coolOpenColor(sequence, 0, rulesOf(change), { horizon });
/** An even meeting is at the mean of both faces; heat from inside of the first adds a little. */
const meeting = (t: number, next = SECOND) => (temperature(thick, t) + next) / 2;

describe("a color that lies open", () => {
  const open = openWith();
  const window = windowOf(open);
  test("has set when its hottest place has, and so deep when that place has", () => {
    expect(window.setAt / timeAt(0, 400)).toBeCloseTo(1, 3);
    expect(window.skin / timeAt(0.015, 400)).toBeCloseTo(1, 3);
    const never = windowOf(openWith({ setBelow: 310 }));
    expect([never.setAt, never.skin]).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
  });
  test("has its field at any time, recorded or between", () => {
    for (const t of [500, 777, 3000, 9999, 16000]) {
      const state = open.stateAt(t);
      expect(state).toHaveLength(open.cells);
      // its first cells hold the closed side
      expect(Math.abs(state[0]! - temperature(0, t))).toBeLessThan(0.1);
    }
    expect(open.horizon).toBe(HORIZON);
    expect(open.k).toBe(0);
  });
  test("is nowhere colder than all that is cold, however little has warmed yet", () => {
    const { job } = readJob("bait: { thickness: 16 mm }\nmold: { wall: 30 mm }");
    const scenario = scenarioOf(job, {});
    const cold = Math.min(job.mold.temperature, job.room.temperature);
    for (const resolution of [0.5, 0.65, 1]) {
      const stack = layerSection(scenario, job.bait.stations[0]!);
      const solving = { resolution, tolerance: 1e-3 };
      const open = coolOpenColor(stack, 0, colorRules(job), { solving, horizon: 200 });
      for (let t = 0.5; t < 200; t *= 1.13) {
        const state = open.stateAt(t);
        const coldest = state.reduce((a, b) => Math.min(a, b));
        // kept as single precision
        expect(coldest, `${resolution}, ${t} s`).toBeGreaterThan(cold - 1e-3);
        expect(() => windowOf(open).interfaceAt(t), `${resolution}, ${t} s`).not.toThrow();
      }
    }
  }, 60_000);
  test("is left alone once no meeting can bond any more", () => {
    // 2 x 410 - 440 = 380 K, and 12 K less
    expect(open.record.end / timeAt(0, 368)).toBeCloseTo(1, 2);
    expect(Math.abs(window.evenUntil / timeAt(0, 380) - 1)).toBeLessThan(2e-3);
    const short = openWith({}, 5000);
    expect(short.record.end).toBeCloseTo(5000, 6);
    expect(windowOf(short).evenUntil).toBeCloseTo(5000, 6);
  });
});

describe("the meeting", () => {
  const window = windowOf(openWith());
  test("is at the mean of both faces, whenever it comes", () => {
    for (const t of [500, 2000, 8000, 15000]) {
      const { peaks, healings } = window.interfaceAt(t);
      expect(Math.abs(peaks[0]! - meeting(t)), `${t}`).toBeLessThan(0.5);
      // 25 s at that temperature, from a fifth of a second on: the fourth root of the time over that of full healing
      const full = healingTime(rulesOf().healingTime, meeting(t));
      const healed = Math.min(1, (24.8 / full) ** 0.25);
      expect(Math.abs(healings[0]! / healed - 1), `${t}`).toBeLessThan(0.02);
    }
    expect(window.interfaceAt(2000)).toBe(window.interfaceAt(2000));
  });
  test("of a hotter second is hotter by half of it", () => {
    const open = openWith();
    for (const next of [420, 470]) {
      const found = windowOf(open, next).interfaceAt(4000).peaks[0]!;
      expect(Math.abs(found - meeting(4000, next))).toBeLessThan(0.6);
    }
  });
  test("costs steps once", () => {
    const other = windowOf(openWith());
    const before = other.steps();
    other.interfaceAt(3000);
    const once = other.steps();
    expect(once).toBeGreaterThan(before);
    other.interfaceAt(3000);
    expect(other.steps()).toBe(once);
  });
});

describe("the window closes", () => {
  const bondUntil = timeAt(thick, 2 * 410 - SECOND);
  const near = (t: number, expected: number, within: number) =>
    expect(Math.abs(t / expected - 1), `${t} for ${expected}`).toBeLessThan(within);
  // half a kelvin of the meeting is one of the face: of 80 K over the air that is 1.3 % of its time constant
  const WITHIN = 0.03;

  test("when the meeting no longer gets hot enough", () => {
    const window = windowOf(openWith());
    near(window.close(), bondUntil, WITHIN);
    near(window.closeRoughly(0), window.close(), 0.011);
    near(window.lastBond(), window.close(), 2e-3);
    expect(window.lastHealing()).toBeGreaterThan(window.close());
    expect(window.closesBy(0)).toBe("bond");
    expect(window.close(7)).toBe(window.close(0));
    // K lost while the time grows by e: the meeting loses half of what the face does
    const lost = 0.5 * (380 - AIR) * ((zeta * zeta * k) / c / thick ** 2) * bondUntil;
    near(window.slope(), lost, 0.1);
    // just there it is as hot as asked
    expect(Math.abs(window.interfaceAt(window.close()).peaks[0]! - 410)).toBeLessThan(0.05);
  });
  test("when it no longer heals enough", () => {
    const slow = { duration: 20, T: 423, energy: 80e3 };
    for (const leastHealing of [0.6, 0.9]) {
      const rules = { bondAbove: 395, leastHealing, healingTime: slow };
      // 24.8 s of the time of full healing are the fourth power of the degree
      const T = findRoot((x) => healingTime(slow, x) - 24.8 / leastHealing ** 4, 340, 460, 1e-9);
      const window = windowOf(openWith(rules));
      const healsUntil = timeAt(thick, 2 * T - SECOND);
      const bonds = timeAt(thick, 2 * 395 - SECOND);
      // what is too cold for any meeting is not looked at
      const lookedAt = timeAt(0, 2 * 395 - SECOND - 12);
      near(window.lastHealing(), Math.min(healsUntil, lookedAt), 0.06);
      near(window.lastBond(), bonds, WITHIN);
      near(window.close(), Math.min(healsUntil, bonds), 0.06);
      expect(window.closesBy(0)).toBe(healsUntil < bonds ? "healing" : "bond");
    }
  });
  test("where a meeting that is followed to its end is just hot or healed enough", () => {
    for (const [thickness, depth, healing] of [
      [16, 5, 50],
      [12, 2, 95],
      [24, 8, 80],
      [16, 4, 99],
    ]) {
      const { job } = readJob(
        `bait: { thickness: ${thickness} mm }\nlayer: { depth: ${depth} mm, healing: ${healing} % }`,
      );
      for (const duration of [1, 8]) {
        const rules = colorRules(job);
        const healingTime = { ...rules.healingTime, duration };
        const stack = layerStack(scenarioOf(job, {}), job.bait.stations[0]!.height);
        const asked = { ...rules, healingTime };
        const window = windowOf(coolOpenColor(stack, 0, asked, { horizon: 2000 }));
        const end = window.close();
        expect(end).toBeGreaterThan(0);
        const { peaks, healings } = windowOf(
          coolOpenColor(stack, 0, asked, { horizon: 2000 }),
        ).interfaceAt(end);
        const surplus = [peaks[0]! - rules.bondAbove, 50 * (healings[0]! - rules.leastHealing)];
        expect(Math.abs(Math.min(...surplus)), `${thickness} ${depth} ${healing}`).toBeLessThan(
          0.1,
        );
        expect(window.closesBy(0)).toBe(surplus[1]! < surplus[0]! ? "healing" : "bond");
      }
    }
  });
  test("never, where it never bonds; not while it is looked at, where it bonds on", () => {
    const cold = windowOf(openWith({ bondAbove: 449 }));
    expect(cold.close()).toBe(0);
    const unhealed = windowOf(
      openWith({ leastHealing: 1, healingTime: { duration: 1e6, T: 423, energy: 0 } }),
    );
    expect(unhealed.close()).toBe(0);
    expect(unhealed.lastHealing()).toBe(0);
    expect(unhealed.lastBond()).toBeGreaterThan(0);
    expect(unhealed.closesBy(0)).toBe("healing");
    const short = windowOf(openWith({}, 3000));
    expect(short.close()).toBe(Number.POSITIVE_INFINITY);
    expect(short.lastBond()).toBe(Number.POSITIVE_INFINITY);
  });
  test("with what a similar case lends, as without, in fewer steps", () => {
    const alone = windowOf(openWith());
    const close = alone.close();
    const warmer = windowOf(openWith(), 445);
    warmer.close();
    const lent = windowOf(openWith(), SECOND, warmer);
    expect(Math.abs(lent.close() / close - 1)).toBeLessThan(2e-3);
    expect(lent.steps()).toBeLessThanOrEqual(alone.steps());
    const rough = windowOf(openWith(), SECOND, { ...warmer, roughly: true });
    expect(Math.abs(rough.close() / close - 1)).toBeLessThan(0.01);
    expect(rough.steps()).toBeLessThanOrEqual(lent.steps());
    // one that is of no use does no harm
    for (const t of [Number.NaN, 0, Number.POSITIVE_INFINITY]) {
      const useless = { close: () => t, slope: () => 15, evenUntil: t };
      expect(Math.abs(windowOf(openWith(), SECOND, useless).close() / close - 1)).toBeLessThan(
        2e-3,
      );
    }
  });
});

test("a color that begins in a mold that is warm already goes on from there", () => {
  const open = openWith();
  const start = open.stateAt(8000);
  const later = coolOpenColor(sequence, 0, rulesOf(), { horizon: 100, start });
  // it is poured anew: its own cells are as hot as they are poured
  expect(later.stateAt(0.4)[0]).toBeCloseTo(START, 1);
  expect(later.stateAt(0.4)).toHaveLength(start.length);
});

describe("stages", () => {
  const three: ColorSequence = {
    ...sequence,
    poured: [...sequence.poured, { ...sequence.poured[1]!, name: "third", temperature: 430 }],
    colors: [["first", "first 2"], ["second"], ["third"]],
    upper: ["lid"],
  };
  const { exposed } = three;
  test("of two colors: the first lies open without what comes later, then both cool until each is at its limit", () => {
    expect(colorStages(three, 40, 330, 500)).toEqual([
      {
        until: 40,
        refill: ["first", "first 2"].map((name) => ({ name, temperature: START })),
        absent: ["second", "third", "lid"],
        exposed,
      },
      {
        until: 540,
        refill: [{ name: "second", temperature: SECOND }],
        absent: ["third", "lid"],
        exposed,
        stop: { probe: "hottest 1", below: 330 },
      },
      {
        until: expect.closeTo(540 * (1 + 1e-6), 9),
        absent: ["third", "lid"],
        exposed,
        stop: { probe: "hottest 0", below: 330 },
      },
    ]);
  });
  test("after the last color the lid is on", () => {
    const stages = closedStages(three, 1, 330, 100);
    expect(stages.map(({ absent }) => absent)).toEqual([[], [], []]);
    expect(stages.map(({ stop }) => stop!.probe)).toEqual(["hottest 2", "hottest 1", "hottest 0"]);
    expect(stages[0]!.refill).toEqual([{ name: "third", temperature: 430 }]);
    expect(stages[1]).not.toHaveProperty("refill");
  });
});
