/** The cliff of a logistic curve over the logarithm of the depth: its middle, half its rise, a quarter of its steepness. */
import { describe, expect, test } from "vitest";
import { cliffOf, climbsPast, depthCurve, steepnessAt } from "../../../../lib/models/pour/cliff.ts";
import { DEEPEST_LOOKED, LOOKED_AT } from "../../../../lib/models/pour/line-depth.ts";
import { power, ROOM, runaway } from "./curves.ts";

const RISE = 160;
const STEEP = [3, 4, 6, 10];
const DEPTHS = Array.from({ length: 14 }, (_, i) => 0.006 * 20 ** (i / 13));

describe("the cliff", () => {
  test.each(STEEP)("lies in the middle of a runaway with the power %d of the depth", (steep) => {
    for (const at of DEPTHS) {
      const { peak } = runaway(at, RISE, steep);
      const found = cliffOf(peak, RISE);
      // the parabola through three spans of 7 % is off by the square of steepness times span
      const near = 0.01 + 0.002 * steep;
      expect(Math.abs(Math.log(found!.depth / at)), `${at}`).toBeLessThan(near / 2);
      expect(Math.abs(found!.peak - ROOM - RISE / 2), `${at}`).toBeLessThan(RISE * near);
      const steepness = (RISE * steep) / 4 / at;
      expect(Math.abs(steepnessAt(peak, found!) / steepness - 1), `${at}`).toBeLessThan(4 * near);
    }
  });

  test("is none where doubling the depth adds no third of the adiabatic rise", () => {
    // a doubling around the middle adds tanh(steep ln 2 / 4) of the curve's own rise
    const adds = (steep: number) => Math.tanh((steep * Math.LN2) / 4);
    for (const steep of STEEP)
      for (const at of [0.01, 0.03, 0.08]) {
        const { peak } = runaway(at, RISE, steep);
        expect(cliffOf(peak, 3 * 0.95 * adds(steep) * RISE)).not.toBeNull();
        expect(cliffOf(peak, 3 * 1.05 * adds(steep) * RISE)).toBeNull();
      }
    expect(cliffOf(power(20, 1).peak, 1e4)).toBeNull();
    expect(cliffOf(() => ROOM, RISE)).toBeNull();
  });

  test("of a pour with more heat or in a warmer room is as deep, and as much higher", () => {
    const { peak } = runaway(0.02, RISE, 5);
    const found = cliffOf(peak, RISE)!;
    const twice = (depth: number) => 2 * peak(depth) - ROOM;
    const double = cliffOf(twice, 2 * RISE)!;
    expect(double.depth).toBeCloseTo(found.depth, 9);
    expect(double.peak - ROOM).toBeCloseTo(2 * (found.peak - ROOM), 6);
    expect(steepnessAt(twice, double) / steepnessAt(peak, found)).toBeCloseTo(2, 9);
    const warm = cliffOf((depth) => peak(depth) + 15, RISE)!;
    expect(warm.depth).toBeCloseTo(found.depth, 9);
    expect(warm.peak).toBeCloseTo(found.peak + 15, 9);
  });

  test("moves with what it is the cliff of, without leaps", () => {
    let before = 0;
    for (let i = 0; i <= 60; i++) {
      const at = 0.02 * 1.01 ** i;
      const { depth } = cliffOf(runaway(at, RISE, 5).peak, RISE)!;
      if (before > 0) expect(Math.abs(depth / before - 1.01)).toBeLessThan(0.006);
      before = depth;
    }
  });

  test("is one look for deeper pours than it needs: none past three flat spans", () => {
    const { peak } = runaway(0.02, RISE, 8);
    const looked: number[] = [];
    cliffOf((depth) => {
      looked.push(depth);
      return peak(depth);
    }, RISE);
    // half the doublings at most: spans of a third, and three of them
    expect(Math.max(...looked)).toBeLessThan(0.02 * 1.334 ** 5);
    expect(looked.length).toBeLessThanOrEqual(23);
    expect(new Set(looked).size).toBe(looked.length);
  });

  test("above what is asked counts as none, and below it is the same; deep pours are not looked at", () => {
    for (const steep of [4, 6])
      for (const at of [0.01, 0.025, 0.06]) {
        const curve = runaway(at, RISE, steep);
        const whole = cliffOf(curve.peak, RISE)!;
        for (const [over, isPast] of [
          // certainly: below the span of 15 % before the steepest
          [ROOM + 20, true],
          [ROOM + 26, true],
          [ROOM + 100, false],
          [ROOM + 140, false],
        ] as const) {
          let looks = 0;
          const peakAt = (depth: number) => {
            looks += 1;
            return curve.peak(depth);
          };
          const from = curve.depth(Math.min(over - 15, ROOM + 75));
          const found = cliffOf(peakAt, RISE, { past: { over, from } });
          const where = `${steep} ${at} ${over}`;
          if (isPast) expect(found, where).toBeNull();
          else {
            expect(Math.abs(found!.depth / whole.depth - 1), where).toBeLessThan(0.01);
            expect(Math.abs(found!.peak - whole.peak), where).toBeLessThan(0.02 * RISE);
          }
          expect(looks, where).toBeLessThanOrEqual(isPast ? 12 : 27);
        }
      }
  });

  test("is known to lie above a peak from few looks; what lies below is not said to", () => {
    for (const steep of STEEP)
      for (const at of DEPTHS) {
        const curve = runaway(at, RISE, steep);
        const { peak } = cliffOf(curve.peak, RISE)!;
        for (const share of [0.2, 0.35, 0.5, 0.7]) {
          const over = ROOM + share * RISE;
          const looked = new Set<number>();
          const peakAt = (depth: number) => {
            looked.add(depth);
            return curve.peak(depth);
          };
          const isAbove = climbsPast(peakAt, { over, from: curve.depth(over - 15) });
          const where = `${steep} ${at} ${share}`;
          if (isAbove) expect(peak, where).toBeGreaterThan(over);
          // nothing is known within a step of it
          if (share <= 0.2 && steep <= 4 && at > 0.01) expect(isAbove, where).toBe(true);
          expect(looked.size, where).toBeLessThanOrEqual(5);
        }
      }
  });

  test("takes few looks: a regression of their number", () => {
    const looks = { whole: 0, past: 0 };
    for (const steep of STEEP)
      for (const at of DEPTHS) {
        const curve = runaway(at, RISE, steep);
        const counted = (key: keyof typeof looks) => (depth: number) => {
          looks[key] += 1;
          return curve.peak(depth);
        };
        cliffOf(counted("whole"), RISE);
        for (const over of [ROOM + 30, ROOM + 60, ROOM + 75, ROOM + 100])
          cliffOf(counted("past"), RISE, { past: { over, from: curve.depth(over - 15) } });
      }
    const cases = STEEP.length * DEPTHS.length;
    expect(looks.whole / cases).toBeLessThan(18.22);
    expect(looks.past / cases / 4).toBeLessThan(16.13);
  });

  test("where a similar case lets expect it is the same, in half of the looks", () => {
    for (const steep of STEEP)
      for (const at of DEPTHS) {
        const { peak } = runaway(at, RISE, steep);
        const whole = cliffOf(peak, RISE)!;
        for (const off of [1 / 3, 0.85, 0.98, 1.02, 1.15, 3]) {
          let looks = 0;
          const found = cliffOf(
            (depth) => {
              looks += 1;
              return peak(depth);
            },
            RISE,
            { near: off * at },
          )!;
          const where = `${steep} ${at} ${off}`;
          expect(Math.abs(found.depth / whole.depth - 1), where).toBeLessThan(1e-6);
          expect(Math.abs(found.peak - whole.peak), where).toBeLessThan(1e-6 * RISE);
          if (Math.abs(Math.log(off)) < 0.2) expect(looks, where).toBeLessThanOrEqual(10);
        }
      }
  });

  test("near which no cliff is, is none: a slope, however it is expected", () => {
    expect(cliffOf(power(20, 1).peak, 1e4, { near: 0.02 })).toBeNull();
    expect(cliffOf(() => ROOM, RISE, { near: 0.02 })).toBeNull();
  });

  test("that lies before where it is looked for is found all the same", () => {
    const { peak } = runaway(0.01, RISE, 6);
    const whole = cliffOf(peak, RISE)!;
    const late = cliffOf(peak, RISE, { past: { over: ROOM + 500, from: 0.08 } })!;
    expect(late.depth).toBeCloseTo(whole.depth, 6);
  });
});

describe("the curve over the depth", () => {
  const curves = [
    ["a slope", power(15, 1).peak],
    ["a runaway", runaway(0.02, RISE, 4).peak],
    ["a steep one", runaway(0.03, RISE, 8).peak],
    ["level", () => ROOM + 3],
  ] as const;
  test.each(curves)("is within a kelvin of %s, today's depth among its points", (_, peak) => {
    for (const today of [0.004, 0.02, 0.033, 0.06, 0.12]) {
      const asked: number[] = [];
      const { depth, peak: shown } = depthCurve((at) => {
        asked.push(at);
        return peak(at);
      }, today);
      expect(depth).toContain(today);
      expect(shown[depth.indexOf(today)]).toBe(peak(today));
      expect(depth).toEqual([...depth].sort((a, b) => a - b));
      // as far as twice today's, at least 80 mm, and somewhat beyond; every depth that searches look at
      const most = 1.15 * Math.max(0.08, 2 * today);
      expect(depth.filter((d) => d !== today)).toEqual(LOOKED_AT.filter((d) => d <= most));
      depth.forEach((d, i) => {
        expect(Math.abs(shown[i]! - peak(d)), `${d}`).toBeLessThan(1);
      });
      expect(new Set(asked).size).toBe(asked.length);
      expect(asked.every((d) => depth.includes(d))).toBe(true);
    }
  });

  test("where it runs straight few depths are computed, where it bends most", () => {
    const asks = (peak: (depth: number) => number) => {
      let count = 0;
      const { depth } = depthCurve((at) => {
        count += 1;
        return peak(at);
      }, 0.02);
      return count / depth.length;
    };
    // of 26 points the ends, today's, and the middles down to spans of eight
    expect(asks(() => ROOM)).toBeLessThan(0.361);
    expect(asks((depth) => 400 + 30 * Math.log(depth))).toBeLessThan(0.361);
    expect(asks(runaway(0.02, RISE, 6).peak)).toBeGreaterThan(0.6);
    expect(asks(runaway(0.02, RISE, 6).peak)).toBeLessThan(0.681);
    expect(depthCurve(() => ROOM, DEEPEST_LOOKED).depth.at(-1)).toBe(DEEPEST_LOOKED);
  });
});
