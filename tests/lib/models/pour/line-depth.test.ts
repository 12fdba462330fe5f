/** Depths that searches find, against the inverse of curves that have one. */
import { describe, expect, test } from "vitest";
import {
  DEEPEST_LOOKED,
  LOOKED_AT,
  lineDepthFor,
  makeRoughSearch,
  SHALLOWEST,
  wallShare,
} from "../../../../lib/models/pour/line-depth.ts";
import { curveRuns, plateOver, power, RESIN, ROOM, runaway, SETTING } from "./curves.ts";

const CURVES = [
  ["0.5", power(20, 0.5)],
  ["1", power(20, 1)],
  ["1.6", power(12, 1.6)],
  ["4", power(6, 4)],
  ["a runaway at 8 mm", runaway(0.008, 160, 4)],
  ["a runaway at 40 mm", runaway(0.04, 160, 6)],
  ["a steep runaway", runaway(0.015, 160, 25)],
] as const;
const RISES = [15, 25, 60, 75];
/** A depth is known to this share, or its rise is. */
const WITHIN = 2e-3;

/** How far a depth, or else its rise, is from that of a limit, in logarithms. */
function off(curve: (typeof CURVES)[number][1], depth: number, limit: number): number {
  const byDepth = Math.abs(Math.log(depth / curve.depth(limit)));
  const byRise = Math.abs(Math.log((curve.peak(depth) - ROOM) / (limit - ROOM)));
  return Math.min(byDepth, byRise);
}
const inReach = (depth: number) => depth > SHALLOWEST && depth < DEEPEST_LOOKED;
const isLookedAt = (depth: number) =>
  depth > SHALLOWEST * (1 - 1e-9) && depth < DEEPEST_LOOKED * (1 + 1e-9);

describe("far from walls", () => {
  test.each(CURVES)("the depth of a rise is the curve's own: %s", (_, curve) => {
    let found = 0;
    for (const limit of RISES.map((rise) => ROOM + rise)) {
      const exact = curve.depth(limit);
      if (!inReach(exact)) continue;
      found += 1;
      for (const near of [undefined, exact, 0.8 * exact, 1.3 * exact, 0.2 * exact, 5 * exact]) {
        const { runs, looked } = curveRuns({ line: curve.peak });
        const depth = lineDepthFor(runs, RESIN, SETTING, limit, near);
        const where = `${limit} near ${near}: ${depth} of ${exact} in ${looked.line}`;
        expect(off(curve, depth!, limit), where).toBeLessThan(WITHIN);
        // a look is a simulation; nine steps, the shallowest, and a straight line in logarithms; beside it a few
        expect(looked.line, where).toBeLessThanOrEqual(near === undefined ? 18 : 20);
        if (near !== undefined && Math.abs(Math.log(near / exact)) < 0.03)
          expect(looked.line, where).toBeLessThanOrEqual(7);
        expect(looked.depths.every(isLookedAt), where).toBe(true);
      }
    }
    expect(found).toBeGreaterThan(1);
  });

  test("looks at few depths: a regression of their number", () => {
    let [looks, cases] = [0, 0];
    for (const [, curve] of CURVES)
      for (const limit of RISES.map((rise) => ROOM + rise)) {
        const exact = curve.depth(limit);
        for (const near of [undefined, exact, 0.8 * exact, 1.3 * exact, 0.2 * exact, 5 * exact]) {
          const { runs, looked } = curveRuns({ line: curve.peak });
          lineDepthFor(runs, RESIN, SETTING, limit, near);
          looks += looked.line;
          cases += 1;
        }
      }
    expect(looks / cases).toBeLessThan(7.42);
  });

  test("a plate out of reach is not looked at", () => {
    for (const over of [0.001, SHALLOWEST, DEEPEST_LOOKED, 0.4]) {
      const { runs, looked } = curveRuns({ line: power(20, 1).peak });
      lineDepthFor(runs, RESIN, plateOver(over), ROOM + 30, 0.015);
      expect(looked.depths).not.toContain(over);
    }
    const { runs, looked } = curveRuns({ line: power(20, 1).peak });
    lineDepthFor(runs, RESIN, plateOver(0.05), ROOM + 30, 0.015);
    expect(looked.depths).toContain(0.05);
  });

  test("a second temperature costs little, and what was found before nothing", () => {
    const curve = runaway(0.02, 160, 5);
    const { runs, looked } = curveRuns({ line: curve.peak });
    const first = lineDepthFor(runs, RESIN, SETTING, ROOM + 60)!;
    const before = looked.line;
    expect(lineDepthFor(runs, RESIN, SETTING, ROOM + 60)).toBe(first);
    expect(looked.line).toBe(before);
    expect(off(curve, lineDepthFor(runs, RESIN, SETTING, ROOM + 50)!, ROOM + 50)).toBeLessThan(
      WITHIN,
    );
    expect(looked.line - before).toBeLessThanOrEqual(5);
  });

  test("none, where even the shallowest is past it, or the room is; null, where the deepest is not", () => {
    const curve = power(20, 1);
    const at = (limit: number, near?: number) =>
      lineDepthFor(curveRuns({ line: curve.peak }).runs, RESIN, SETTING, limit, near);
    for (const near of [undefined, SHALLOWEST / 2, 0.004, 0.02]) {
      expect(at(curve.peak(SHALLOWEST) - 0.1, near)).toBe(0);
      expect(at(ROOM, near)).toBe(0);
      expect(at(ROOM - 20, near)).toBe(0);
      expect(at(curve.peak(DEEPEST_LOOKED) + 0.1, near)).toBeNull();
    }
    for (const near of [0.1, 0.299, 0.4]) {
      expect(at(curve.peak(DEEPEST_LOOKED) + 0.1, near)).toBeNull();
      expect(Math.abs(at(curve.peak(0.298), near)! / 0.298 - 1)).toBeLessThan(WITHIN);
    }
    // the warmer of room and stock is what a pour rises from
    const warm = { ...SETTING, stock: ROOM + 30 };
    const { runs } = curveRuns({ line: curve.peak });
    expect(lineDepthFor(runs, RESIN, warm, ROOM + 29)).toBe(0);
    expect(lineDepthFor(runs, RESIN, { ...SETTING, room: ROOM + 30 }, ROOM + 29)).toBe(0);
  });

  test("of a curve that falls again the first depth, wherever it is looked for", () => {
    // as hot as 60 K over the room at 20 mm, and half as hot at 60 mm
    const hump = (depth: number) => ROOM + 60 * (depth / 0.02) * Math.exp(1 - depth / 0.02);
    for (const rise of [20, 40, 55])
      for (const near of [undefined, 0.02, 0.05, 0.01]) {
        const { runs } = curveRuns({ line: hump });
        const depth = lineDepthFor(runs, RESIN, plateOver(0.02), ROOM + rise, near)!;
        expect(depth, `${rise} near ${near}`).toBeLessThan(0.02);
        expect(Math.abs((hump(depth) - ROOM) / rise - 1)).toBeLessThan(2 * WITHIN);
      }
  });

  test("the depths that are looked at lie evenly, from 3 mm to the deepest", () => {
    expect(LOOKED_AT[0]).toBeCloseTo(0.003, 12);
    expect(LOOKED_AT.at(-1)).toBeCloseTo(DEEPEST_LOOKED, 12);
    const ratio = LOOKED_AT[1]! / LOOKED_AT[0]!;
    LOOKED_AT.slice(1).forEach((depth, i) => {
      expect(depth / LOOKED_AT[i]!).toBeCloseTo(ratio, 9);
    });
  });
});

describe("what the walls leave of a depth", () => {
  // a steep runaway is level beyond it to the last digit: no depth there is cooler than another
  test.each(CURVES.slice(0, -1))("is the share by which the curve is entered: %s", (_, curve) => {
    for (const depth of [0.006, 0.02, 0.08])
      for (const share of [1, 0.97, 0.8, 0.5, 0.2, 0.12]) {
        const peak = curve.peak(share * depth);
        // a rise of less says nothing of the depth
        if (share * depth < SHALLOWEST || peak - ROOM < 1e-3) continue;
        const { runs, looked } = curveRuns({ line: curve.peak });
        const found = wallShare(runs, RESIN, { ...SETTING, depth }, peak);
        const where = `${share} of ${depth}: ${found} in ${looked.line}`;
        expect(off(curve, found * depth, peak), where).toBeLessThan(1.01 * WITHIN);
        expect(looked.line, where).toBeLessThanOrEqual(16);
      }
  });

  test("looks at few depths: a regression of their number", () => {
    let [looks, cases] = [0, 0];
    for (const [, curve] of CURVES)
      for (const depth of [0.006, 0.02, 0.08])
        for (const share of [1, 0.97, 0.8, 0.5, 0.2, 0.12]) {
          const { runs, looked } = curveRuns({ line: curve.peak });
          wallShare(runs, RESIN, { ...SETTING, depth }, curve.peak(share * depth));
          looks += looked.line;
          cases += 1;
        }
    expect(looks / cases).toBeLessThan(4.5);
  });

  test("all, of a pour as hot as far from them or hotter; a tenth or the shallowest, of one that stays cold", () => {
    const curve = power(20, 1);
    const at = (depth: number, peak: number, stock = ROOM) =>
      wallShare(curveRuns({ line: curve.peak }).runs, RESIN, { ...SETTING, depth, stock }, peak);
    expect(at(0.03, curve.peak(0.031))).toBe(1);
    expect(at(0.03, ROOM)).toBeCloseTo(0.1, 9);
    expect(at(0.03, ROOM - 1)).toBeCloseTo(0.1, 9);
    expect(at(0.03, curve.peak(0.03), ROOM + 70)).toBeCloseTo(0.1, 9);
    expect(at(0.003, ROOM)).toBeCloseTo(0.5, 9);
    expect(at(0.03, curve.peak(0.002))).toBeCloseTo(0.1, 9);
    expect(at(0.001, ROOM)).toBe(1);
  });

  test("stays on the deep side of a hump", () => {
    const valley = (depth: number) => ROOM + 30 + 1e5 * (depth - 0.04) ** 2;
    const found = wallShare(
      curveRuns({ line: valley }).runs,
      RESIN,
      { ...SETTING, depth: 0.06 },
      ROOM + 40,
    );
    // 30 + 1e5 x^2 = 40 beyond the valley: 50 mm
    expect(0.06 * found).toBeCloseTo(0.05, 3);
    // nothing on its way down is as cool: where it begins to rise again is the least
    const never = wallShare(
      curveRuns({ line: valley }).runs,
      RESIN,
      { ...SETTING, depth: 0.06 },
      ROOM + 20,
    );
    expect(0.06 * never).toBeGreaterThan(0.03);
    expect(0.06 * never).toBeLessThan(0.06);
  });
});

describe("roughly, for the members of a range", () => {
  const wanted = (limit: number, near: number, setting = SETTING) => ({
    limit,
    from: ROOM,
    near,
    setting,
  });
  test.each(CURVES)(
    "the depth of a rise is within a percent, or its rise within three: %s",
    (_, curve) => {
      for (const start of [0.3, 0.9, 1, 1.15, 4]) {
        const search = makeRoughSearch();
        for (const limit of RISES.map((rise) => ROOM + rise)) {
          const exact = curve.depth(limit);
          if (!inReach(exact)) continue;
          let looks = 0;
          const peakAt = (depth: number) => {
            looks += 1;
            return curve.peak(depth);
          };
          const depth = search(peakAt, wanted(limit, start * exact));
          const where = `${limit} from ${start}: ${depth} of ${exact} in ${looks}`;
          expect(
            Math.min(
              Math.abs(Math.log(depth / exact)) / 0.015,
              Math.abs(Math.log((curve.peak(depth) - ROOM) / (limit - ROOM))) / 0.03,
            ),
            where,
          ).toBeLessThan(1);
          expect(looks, where).toBeLessThanOrEqual(14);
        }
      }
    },
  );

  test("looks at few depths: a regression of their number", () => {
    let [looks, cases] = [0, 0];
    for (const [, curve] of CURVES)
      for (const start of [0.1, 0.3, 0.9, 1, 1.15, 4]) {
        const search = makeRoughSearch();
        for (const limit of RISES.map((rise) => ROOM + rise)) {
          const exact = curve.depth(limit);
          cases += 1;
          const peakAt = (depth: number) => {
            looks += 1;
            expect(isLookedAt(depth)).toBe(true);
            return curve.peak(depth);
          };
          search(peakAt, wanted(limit, start * exact));
        }
      }
    expect(looks / cases).toBeLessThan(3.47);
  });

  test("a straight slope that is known is followed in one step", () => {
    const curve = power(20, 2.5);
    const search = makeRoughSearch();
    search(curve.peak, wanted(ROOM + 30, 0.02));
    let looks = 0;
    const peakAt = (depth: number) => {
      looks += 1;
      return curve.peak(depth);
    };
    const limit = ROOM + 50;
    const found = search(peakAt, wanted(limit, 0.7 * curve.depth(limit)));
    expect(found / curve.depth(limit)).toBeCloseTo(1, 6);
    expect(looks).toBe(2);
  });

  test("0 and Infinity where every depth gets there, or none does", () => {
    const curve = power(20, 1);
    for (const near of [SHALLOWEST, 0.02, 0.2, DEEPEST_LOOKED]) {
      const search = (limit: number) => makeRoughSearch()(curve.peak, wanted(limit, near));
      expect(search(ROOM)).toBe(0);
      expect(search(ROOM - 5)).toBe(0);
      expect(search(ROOM + 1)).toBe(0);
      expect(search(ROOM + 1000)).toBe(Number.POSITIVE_INFINITY);
      expect(Math.abs(search(ROOM + 590) / 0.295 - 1)).toBeLessThan(0.015);
      expect(Math.abs(search(ROOM + 3.2) / 0.0016 - 1)).toBeLessThan(0.015);
    }
  });

  test("on its own side of a hump", () => {
    const hump = (depth: number) => ROOM + 60 * (depth / 0.02) * Math.exp(1 - depth / 0.02);
    for (const near of [0.004, 0.015, 0.05]) {
      const found = makeRoughSearch()(hump, wanted(ROOM + 40, near, plateOver(0.02)));
      expect(found).toBeLessThan(0.02);
      expect(Math.abs(Math.log((hump(found) - ROOM) / 40))).toBeLessThan(0.03);
    }
    // a plate that is reached while it is still cool: the depth lies beyond
    const late = power(20, 1);
    for (const near of [0.004, 0.01, 0.05]) {
      const found = makeRoughSearch()(late.peak, wanted(ROOM + 50, near, plateOver(0.02)));
      expect(Math.abs(found / 0.025 - 1)).toBeLessThan(0.015);
    }
  });
});
