/** Small parts of the engine, each against a closed form: peaks between cells, laws of time, the span of temperatures, steps. */
import { describe, expect, test } from "vitest";
import { makeRateLaw } from "../../../lib/cure/rate-laws.ts";
import { makeBreakpoints, stepToward } from "../../../lib/heat/breakpoints.ts";
import type { Grid } from "../../../lib/heat/grid-type.ts";
import { turnsOf } from "../../../lib/heat/law-times.ts";
import { peakCorrection } from "../../../lib/heat/peak-correction.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { scaleOf } from "../../../lib/heat/scale.ts";

describe("a peak between cells", () => {
  /** Centers along both axes, all of one region but for those named. */
  const gridOf = (xc: number[], yc: number[], more: object = {}) =>
    ({
      nx: xc.length,
      ny: yc.length,
      xc: Float64Array.from(xc),
      yc: Float64Array.from(yc),
      evenX: false,
      evenY: false,
      content: new Int32Array(xc.length * yc.length),
      ...more,
    }) as unknown as Grid;
  const UNEVEN = [0.5, 1.4, 2.6, 3.5, 4.9, 6];

  test.each([1, -1] as const)("is the top of a parabola, along either axis (%d)", (sign) => {
    const EVEN = [0.5, 1.5, 2.5, 3.5, 4.5, 5.5];
    // between uneven cells as far as a peak is from the larger drop beside it
    const cases = [
      ...Array.from({ length: 33 }, (_, i) => [EVEN, 1.5 + 0.1 * i] as const),
      ...UNEVEN.slice(1, -1).flatMap((x) =>
        [-0.2, 0.05, 0.2].map((by) => [UNEVEN, x + by] as const),
      ),
    ];
    for (const [centers, top] of cases) {
      const T = (x: number) => 350 - sign * 3 * (x - top) ** 2;
      const nearest = centers.reduce((a, b) => (Math.abs(b - top) < Math.abs(a - top) ? b : a));
      const at = centers.indexOf(nearest);
      const along = Float64Array.from(centers, T);
      const correction = peakCorrection(gridOf([...centers], [1]), along, at, 0);
      expect(T(nearest) + correction, `${top}`).toBeCloseTo(350, 9);
      // the same along y, in the middle of three columns
      const up = Float64Array.from(centers.flatMap((y) => [T(y), T(y), T(y)]));
      const grid = gridOf([1, 2, 3], [...centers]);
      expect(T(nearest) + peakCorrection(grid, up, 3 * at + 1, 1)).toBeCloseTo(350, 9);
    }
  });
  test("is none on a slope, in a level field, at an end, or beside another region", () => {
    const slope = Float64Array.of(1, 2, 4, 7, 11, 16);
    const grid = gridOf(UNEVEN, [1]);
    for (let at = 0; at < 6; at++) expect(peakCorrection(grid, slope, at, 0)).toBe(0);
    expect(peakCorrection(grid, new Float64Array(6).fill(5), 2, 0)).toBe(0);
    const hill = Float64Array.from(UNEVEN, (x) => -((x - 3) ** 2));
    expect(peakCorrection(grid, hill, 2, 0)).toBeGreaterThan(0);
    for (const other of [1, 3]) {
      const content = new Int32Array(6);
      content[other] = 4;
      expect(peakCorrection(gridOf(UNEVEN, [1], { content }), hill, 2, 0)).toBe(0);
    }
    const ends = Float64Array.from(UNEVEN, (x) => -((x - 0.6) ** 2));
    expect(peakCorrection(grid, ends, 0, 0)).toBe(0);
    const right = Float64Array.from(UNEVEN, (x) => -((x - 5.9) ** 2));
    expect(peakCorrection(grid, right, 5, 0)).toBe(0);
  });
  test("between uneven cells with the same drop on both sides lies beside the middle one", () => {
    // x - x2 at -1, 0 and 2
    const found = peakCorrection(gridOf([1, 2, 4], [1]), Float64Array.of(-2, 0, -2), 1, 0);
    expect(found).toBeCloseTo(0.25, 12);
  });
  test("at a mirror is that of the even field; a front is no parabola", () => {
    const even = Float64Array.from(UNEVEN, (x) => 350 - 3 * x * x);
    const at = peakCorrection(gridOf(UNEVEN, [1], { evenX: true }), even, 0, 0);
    expect(even[0]! + at).toBeCloseTo(350, 9);
    // a drop on one side only: at most a sixth of it
    const front = Float64Array.of(0, 0, 0, 0, -30, -30);
    expect(Math.abs(peakCorrection(gridOf(UNEVEN, [1]), front, 3, 0))).toBeLessThanOrEqual(5);
  });
});

describe("laws of time", () => {
  test("jump where they jump, to rounding; many, up and down", () => {
    for (const at of [0.013, 123.456, 500, 777.77, 999.9]) {
      const found = turnsOf((t) => (t < at ? 20 : 80), 0, 1000);
      expect(found.length).toBeGreaterThan(0);
      expect(Math.min(...found.map((t) => Math.abs(t - at))), `${at}`).toBeLessThan(1e-9);
      // and the two samples beside it, where it begins and ends to be level
      for (const t of found) expect(Math.abs(t - at)).toBeLessThan(0.26);
    }
    const square = (t: number) => (Math.floor(t / 70.7) % 2 === 0 ? 5 : -5);
    const jumps = turnsOf(square, 0, 1000);
    for (let k = 1; 70.7 * k < 1000; k++)
      expect(jumps.some((t) => Math.abs(t - 70.7 * k) < 1e-6)).toBe(true);
  });
  test("turn at their peaks and valleys, and where they begin or end to be level", () => {
    const turns = turnsOf((t) => Math.sin(t / 50), 0, 1000);
    const exact = [1, 3, 5, 7, 9, 11].map((k) => (k * Math.PI * 50) / 2);
    expect(turns).toHaveLength(exact.length);
    turns.forEach((t, i) => {
      expect(Math.abs(t - exact[i]!)).toBeLessThan(0.25);
    });
    const ramp = turnsOf((t) => Math.min(Math.max(t, 200), 600), 0, 1000);
    expect(ramp).toHaveLength(2);
    expect(Math.abs(ramp[0]! - 200)).toBeLessThan(0.26);
    expect(Math.abs(ramp[1]! - 600)).toBeLessThan(0.26);
    // a smooth rise has neither, however steep over its samples
    expect(
      turnsOf((t) => Math.tanh((t - 500) / 3), 0, 1000).filter((t) => Math.abs(t - 500) < 20),
    ).toEqual([]);
    // however large or small its numbers are
    for (const by of [1e-6, 1e6]) {
      expect(
        turnsOf((t) => by * Math.tanh((t - 500) / 3), 400, 600).filter(
          (t) => Math.abs(t - 500) < 10,
        ),
      ).toEqual([]);
      expect(turnsOf((t) => by * (t < 321 ? 1 : 2), 0, 1000)[0]).toBeCloseTo(321, 6);
    }
  });
  test("constants have none, tables their points", () => {
    expect(turnsOf(5, 0, 10)).toEqual([]);
    expect(turnsOf(undefined, 0, 10)).toEqual([]);
    expect(turnsOf(() => 5, 0, 10)).toEqual([]);
    expect(turnsOf({ t: [0, 3, 10, 12], value: [1, 2, 3, 4] }, 0, 10)).toEqual([3]);
    // only within the stage
    expect(turnsOf((t) => (t < 5 ? 0 : 1), 6, 10)).toEqual([]);
  });
});

describe("the span of a problem's temperatures", () => {
  const base = (more: Partial<HeatProblem> = {}): HeatProblem => ({
    frame: "slab",
    materials: { m: { name: "m", conductivity: 1, density: 1000, specificHeat: 2000 } },
    layers: [{ name: "l", material: "m", thickness: 0.01, initial: 310 }],
    boundary: {},
    stages: [{ until: 1000 }],
    probes: {},
    ...more,
  });
  const span = (more: Partial<HeatProblem>) => {
    const { lowest, named } = scaleOf(base(more));
    return [lowest, named];
  };
  const air = (ambient: unknown) => ({ kind: "exchange", h: 5, ambient }) as never;
  test("is that of bodies, surroundings, refills, ends and whatever a law of time goes through", () => {
    expect(span({ boundary: { left: air(300), right: air(330) } })).toEqual([300, 330]);
    expect(span({ boundary: { left: { kind: "held", temperature: 290 } } })).toEqual([290, 310]);
    expect(span({ stages: [{ until: 9, exposed: air(280) }] })).toEqual([280, 310]);
    expect(span({ stages: [{ until: 9, boundary: { right: air(390) } }] })).toEqual([310, 390]);
    expect(span({ stages: [{ until: 9, refill: [{ name: "l", temperature: 450 }] }] })).toEqual([
      310, 450,
    ]);
    expect(span({ ends: { length: 1, h: 5, ambient: 288 } })).toEqual([288, 310]);
    expect(span({ boundary: { left: air({ t: [0, 5], value: [270, 340] }) } })).toEqual([270, 340]);
    const [low, high] = span({
      boundary: { left: air((t: number) => 310 + 40 * Math.sin(t / 318)) },
    });
    expect(low).toBeCloseTo(310 + 40 * Math.sin(1000 / 318), 6);
    expect(high).toBeCloseTo(350, 1);
    // a pulse that is shorter than its samples, at both of its ends
    const [, pulse] = span({
      boundary: { left: air((t: number) => (t > 403 && t < 405 ? 600 : 300)) },
    });
    expect(pulse).toBe(600);
    const [, rising] = span({ boundary: { left: air((t: number) => 300 + t / 10) } });
    expect(rising).toBeCloseTo(400, 6);
  });
  test("grows by what full cure would warm: heat over specific heat", () => {
    const cure = {
      law: makeRateLaw({ law: "nth-order", A: 1, E: 1e4, n: 1 }),
      heat: 1e5,
      initial: 0,
    };
    const materials = { m: { ...base().materials["m"]!, cure } };
    const scale = scaleOf(base({ materials }));
    expect(scale.highest - scale.named).toBeCloseTo(50, 9);
    expect(scale.span).toBeCloseTo(25, 9);
    expect([scale.floor, scale.ceiling]).toEqual([310, 510]);
    // of what does not cure nothing leaves what was named; of what is driven nobody knows
    expect(scaleOf(base())).toMatchObject({ span: 1, floor: 310, ceiling: 310 });
    const source = { m: { ...base().materials["m"]!, source: 5 } };
    expect(scaleOf(base({ materials: source }))).toMatchObject({
      floor: 0,
      ceiling: Number.POSITIVE_INFINITY,
    });
    const flux = { left: { kind: "flux", flux: 7 } } as never;
    expect(scaleOf(base({ boundary: flux })).ceiling).toBe(Number.POSITIVE_INFINITY);
    const none = { left: { kind: "flux", flux: 0 } } as never;
    expect(scaleOf(base({ boundary: none })).ceiling).toBe(310);
  });
});

test("steps end at the times where they must, in order, and toward one in two equal parts", () => {
  const points = makeBreakpoints([30, 10, 99, 10, 0, 60], 0, 60);
  expect([0, 5, 10, 29, 30, 59].map((t) => points.after(t))).toEqual([10, 10, 30, 30, 60, 60]);
  expect(makeBreakpoints([], 0, 60).after(0)).toBe(60);
  expect(stepToward(10, 20, 0)).toBe(10);
  expect(stepToward(10, 10, 0)).toBe(10);
  expect(stepToward(10, 8, 0)).toBe(5);
  expect(stepToward(10, 4, 0)).toBe(4);
  expect(stepToward(10, 5, 0)).toBe(5);
  expect(stepToward(1, 1e-30, 100)).toBeGreaterThan(0);
});
