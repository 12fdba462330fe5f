/** Pours within walls that leave a known share of a depth: the deepest follows from the curve far from them. */
import { describe, expect, test } from "vitest";
import { deepestBelow, deepestPour, lookAtDepth } from "../../../../lib/models/pour/depth.ts";
import { DEEPEST_LOOKED, SHALLOWEST } from "../../../../lib/models/pour/line-depth.ts";
import { curveRuns, power, RESIN, ROOM, runaway, SETTING } from "./curves.ts";

const CURVES = [
  ["0.7", power(20, 0.7)],
  ["1.6", power(12, 1.6)],
  ["4", power(6, 4)],
  ["a runaway at 30 mm", runaway(0.03, 160, 5)],
] as const;
/** Shares that the walls leave: the same of each depth, or more of a deeper one. */
const WALLS = [
  ["all", () => 1],
  ["half", () => 0.5],
  ["more of a deeper one", (depth: number) => 0.4 + 0.4 * Math.min(1, depth / 0.06)],
] as const;
const cases = CURVES.flatMap(([curve, c]) => WALLS.map(([walls, w]) => ({ curve, c, walls, w })));

describe("one depth", () => {
  test.each(cases)(
    "tells its rise, what the walls leave, and where the limit is: $curve, $walls",
    ({ c, w }) => {
      const section = (depth: number) => c.peak(w(depth) * depth);
      for (const limit of [ROOM + 30, ROOM + 70]) {
        const line = c.depth(limit);
        for (const depth of [0.012, 0.02, 0.035]) {
          const { runs } = curveRuns({ line: c.peak, section });
          runs.linePeak(RESIN, { ...SETTING, depth: line / 1.07 });
          runs.linePeak(RESIN, { ...SETTING, depth: line * 1.07 });
          const look = lookAtDepth(runs, RESIN, { ...SETTING, depth }, { limit, line });
          expect(look.rise).toBeCloseTo(Math.log((section(depth) - ROOM) / (limit - ROOM)), 9);
          if (w(depth) * depth < SHALLOWEST || section(depth) - ROOM < 1) continue;
          // in its depth or in its rise
          const found = look.share * depth;
          const off = Math.min(
            Math.abs(found / (w(depth) * depth) - 1),
            Math.abs((c.peak(found) - ROOM) / (section(depth) - ROOM) - 1),
          );
          expect(off, `${depth} of ${limit}: ${look.share}`).toBeLessThan(3e-3);
          expect(look.next * look.share).toBeCloseTo(line, 12);
        }
      }
    },
  );

  test("beside the limit the slope between two known depths tells, and nothing else is looked at", () => {
    const c = power(20, 1.6);
    const limit = ROOM + 50;
    const line = c.depth(limit);
    for (const by of [0.97, 0.999, 1.001, 1.03]) {
      const { runs, looked } = curveRuns({ line: c.peak, section: (d) => c.peak(0.5 * d) });
      for (const known of [0.9, 1.2]) runs.linePeak(RESIN, { ...SETTING, depth: known * line });
      const depth = 2 * by * line;
      const look = lookAtDepth(runs, RESIN, { ...SETTING, depth }, { limit, line });
      expect(look.share).toBeCloseTo(0.5, 9);
      expect(look.next).toBeCloseTo(2 * line, 9);
      expect(looked.line).toBe(2);
    }
    // not beside it, or not between two
    for (const [by, known] of [
      [1.08, [0.9, 1.2]],
      [0.92, [0.9, 1.2]],
      [1.01, [1.1, 1.2]],
      [1.01, [0.8, 0.9]],
      [1.01, []],
    ] as const) {
      const { runs, looked } = curveRuns({ line: c.peak, section: (d) => c.peak(0.5 * d) });
      for (const at of known) runs.linePeak(RESIN, { ...SETTING, depth: at * line });
      const before = looked.line;
      const look = lookAtDepth(runs, RESIN, { ...SETTING, depth: 2 * by * line }, { limit, line });
      expect(look.share).toBeCloseTo(0.5, 2);
      expect(looked.line).toBeGreaterThan(before);
    }
  });

  test("an even slope says nothing; the walls never leave more than all; a room at the limit is past it", () => {
    const flat = power(40, 0.2);
    const limit = ROOM + 40;
    const { runs, looked } = curveRuns({ line: flat.peak, section: (d) => flat.peak(0.9 * d) });
    for (const known of [0.009, 0.011]) runs.linePeak(RESIN, { ...SETTING, depth: known });
    lookAtDepth(runs, RESIN, SETTING, { limit, line: 0.01 });
    expect(looked.line).toBeGreaterThan(2);
    const c = power(20, 1);
    const hotter = curveRuns({ line: c.peak, section: (d) => c.peak(1.05 * d) }).runs;
    for (const known of [0.009, 0.011]) hotter.linePeak(RESIN, { ...SETTING, depth: known });
    const at = { ...SETTING, depth: 0.01 };
    expect(lookAtDepth(hotter, RESIN, at, { limit: ROOM + 20, line: 0.01 }).share).toBe(1);
    for (const warm of [{ room: ROOM + 20 }, { stock: ROOM + 20 }])
      expect(
        lookAtDepth(hotter, RESIN, { ...at, ...warm }, { limit: ROOM + 20, line: 0.01 }).rise,
      ).toBe(1);
  });

  test("what runs far from walls may be known elsewhere", () => {
    const c = power(20, 1.6);
    const box = curveRuns({ line: () => Number.NaN, section: (d) => c.peak(0.6 * d) });
    const lines = curveRuns({ line: c.peak });
    const limit = ROOM + 30;
    const known = { limit, line: c.depth(limit), lines: lines.runs };
    expect(lookAtDepth(box.runs, RESIN, SETTING, known).share).toBeCloseTo(0.6, 2);
    expect([box.looked.line, box.looked.section]).toEqual([0, 1]);
  });
});

describe("the deepest", () => {
  test.each(cases)(
    "stays below the limit, and a little deeper does not: $curve, $walls",
    ({ c, w }) => {
      const section = (depth: number) => c.peak(w(depth) * depth);
      let sections = 0;
      for (const limit of [ROOM + 20, ROOM + 40, ROOM + 80])
        for (const share of [1, 0.7, 0.5, 0.3]) {
          const { runs, looked } = curveRuns({ line: c.peak, section });
          const { depth, share: left } = deepestPour(runs, RESIN, SETTING, limit, { share });
          const rise = (d: number) => Math.log((section(d) - ROOM) / (limit - ROOM));
          const where = `${limit} from ${share}: ${depth} in ${looked.section}`;
          if (depth === null) {
            expect(rise(DEEPEST_LOOKED), where).toBeLessThanOrEqual(0);
            continue;
          }
          // half a kelvin of fifty, or a percent and a half of the depth, and never past it
          expect(rise(depth / 1.001), where).toBeLessThanOrEqual(2e-3);
          expect(Math.max(rise(depth), rise(1.016 * depth)), where).toBeGreaterThan(-0.01);
          expect(Math.abs(left / w(depth) - 1), where).toBeLessThan(0.02);
          sections += looked.section;
        }
      // each is a simulation of the cut across the box: a dozen searches
      expect(sections).toBeLessThan(12 * 4);
    },
  );

  test("what is known far from walls is taken from there, and its ends stand", () => {
    const c = power(20, 1);
    const { runs, looked } = curveRuns({ line: c.peak, section: c.peak });
    const from = (line: number | null) =>
      deepestPour(runs, RESIN, SETTING, ROOM + 40, { share: 0.8, line });
    expect(from(null)).toEqual({ depth: null, share: 0.8 });
    expect(from(0)).toEqual({ depth: 0, share: 0.8 });
    expect(looked).toMatchObject({ line: 0, section: 0 });
    expect(Math.abs(from(0.02).depth! / 0.02 - 1)).toBeLessThan(0.016);
    expect(deepestPour(runs, RESIN, SETTING, ROOM + 4000, { share: 1 }).depth).toBeNull();
    expect(deepestPour(runs, RESIN, SETTING, ROOM + 1, { share: 1 }).depth).toBe(0);
  });
});

test("no look is deeper than the deepest or shallower than the shallowest, whatever is shown", () => {
  for (const next of [1e-6, 0.01, 0.2, 50, Number.POSITIVE_INFINITY])
    for (const limit of [0.0012, 0.0016, 0.005, 0.05, 0.29, 0.31])
      for (const start of [1e-5, 0.002, 0.04, 5]) {
        const seen: number[] = [];
        const { depth } = deepestBelow((d) => {
          seen.push(d);
          return { rise: Math.log(d / limit), next, share: 0.5 };
        }, start);
        const where = `${next} ${limit} ${start}: ${seen}`;
        expect(seen.length, where).toBeLessThanOrEqual(16);
        expect(Math.min(...seen), where).toBeGreaterThanOrEqual(SHALLOWEST);
        expect(Math.max(...seen), where).toBeLessThanOrEqual(DEEPEST_LOOKED);
        // never one that is past the limit, but where a look shows it further on
        if (depth === null) expect(limit, where).toBeGreaterThan(DEEPEST_LOOKED);
        else expect(depth, where).toBeLessThanOrEqual(Math.max(limit, next));
      }
});
