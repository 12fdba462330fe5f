/** The course of a pour, read from histories whose fields are closed curves. */
import { describe, expect, test } from "vitest";
import { makeRateLaw } from "../../../../lib/cure/rate-laws.ts";
import type { History, Snapshot } from "../../../../lib/heat/problem.ts";
import {
  firmCure,
  horizonOf,
  leastCureAt,
  lookTimes,
  pourCourseOf,
} from "../../../../lib/models/pour/course.ts";
import type { PouredResin } from "../../../../lib/models/pour/resin.ts";

const ROOM = 293;
/** First order, 1e-4 per second at any temperature. */
const spec = { law: "nth-order", A: 1e-4, E: 0, n: 1 } as const;
const resinOf = (more: Partial<PouredResin> = {}) =>
  ({
    gel: 0.6,
    glass: { uncured: 253, cured: 403, lambda: 0.4 },
    spec,
    heat: 2e5,
    specificHeat: 1000,
    material: { cure: { law: makeRateLaw(spec), heat: 2e5, initial: 0 } },
    ...more,
  }) as unknown as PouredResin;
const resin = resinOf();
const rubber = resinOf({ glass: { uncured: 150, cured: 200, lambda: 0.4 } });

/** Glass transition of a cure, after DiBenedetto, and the cure of a glass transition. */
const glassOf = (a: number) => 253 + (150 * 0.4 * a) / (1 - 0.6 * a);
const cureOf = (T: number) => (T - 253) / (60 + 0.6 * (T - 253));

/** Cures over time: the fast places and the slow ones. */
const fast = (t: number) => 1 - Math.exp(-t / 5000);
const slow = (t: number) => 1 - Math.exp(-t / 10000);
const timeOf = (a: number, over: number) => -over * Math.log(1 - a);
/** Heat: up to 60 K over the room after 8000 s and down again. */
const PEAK = 8000;
const hot = (t: number) => ROOM + 60 * (t / PEAK) * Math.exp(1 - t / PEAK);

const UNTIL = 120000;
const TIMES = Array.from({ length: 161 }, (_, i) => 100 * (UNTIL / 100) ** (i / 160));
const FACES = Float32Array.from({ length: 9 }, (_, i) => 0.01 * i);

/** A line of eight cells from the bench up, resin from the fourth on; the hottest place moves to the top. */
const topAt = (t: number) => 0.05 + 0.01 * Math.min(1, t / 20000);
const cellCure = (t: number, i: number) => (i < 3 ? 0 : i === 5 ? fast(t) : slow(t));
const line = (time: number): Snapshot => ({
  time,
  x: FACES,
  y: Float32Array.of(0, 1),
  temperature: Float32Array.from({ length: 8 }, (_, i) =>
    // a parabola over the places, which between cells is read exactly
    i < 3 ? 500 : hot(time) - 2e4 * (0.01 * (i + 0.5) - topAt(time)) ** 2,
  ),
  cure: Float32Array.from({ length: 8 }, (_, i) => cellCure(time, i)),
});
function historyOf(snapshotAt: (t: number) => Snapshot, more: Record<string, number> = {}) {
  const times = Float64Array.from({ length: 2401 }, (_, i) => (i / 2400) * UNTIL);
  const probes: Record<string, Float64Array> = {
    hot: times.map(hot),
    bed: times.map((t) => hot(t) - 7),
    ...Object.fromEntries(
      Object.entries(more).map(([name, off]) => [name, times.map((t) => hot(t) - off)]),
    ),
  };
  return {
    end: UNTIL,
    trace: { times, probes },
    snapshots: TIMES.map(snapshotAt),
    effort: { frontError: 7 },
  } as unknown as History;
}
const PLACE = { room: ROOM, bed: 0.03, wall: 0.01 };

describe("a pour that cures slower at its ends than in the middle", () => {
  const course = pourCourseOf(historyOf(line), resin, PLACE);
  test("peaks as its hottest place does, where that is", () => {
    expect(course.peak).toBeCloseTo(ROOM + 60, 3);
    expect(course.peakTime).toBeCloseTo(PEAK, 0);
    expect(course.where.overBed).toBeCloseTo(topAt(PEAK) - 0.03, 4);
    expect(course.where.fromWall).toBe(Number.POSITIVE_INFINITY);
    // no front is lost that leaves open so little of an adiabatic rise of 200 K; of one of 10 K it is
    expect(course.lost).toBe(0);
    expect(pourCourseOf(historyOf(line), resinOf({ heat: 1e4 }), PLACE).lost).toBeCloseTo(1.6, 12);
    expect(course.bed).toBeCloseTo(ROOM + 53, 3);
    expect(course.master).toBeNull();
    expect(pourCourseOf(historyOf(line, { master: 9 }), resin, PLACE).master).toBeCloseTo(
      ROOM + 51,
      3,
    );
    expect(course.curve.hot).toHaveLength(2401);
    expect(course.curve.t.at(-1)).toBe(UNTIL);
  });
  test("gels first in its fastest place and last in its slowest", () => {
    expect(course.gelFirst! / timeOf(0.6, 5000)).toBeCloseTo(1, 3);
    expect(course.gelLast! / timeOf(0.6, 10000)).toBeCloseTo(1, 3);
    expect(course.until).toBe(UNTIL);
    expect(course.cureReached).toBeCloseTo(slow(UNTIL), 6);
    expect(course.glassReached).toBeCloseTo(glassOf(slow(UNTIL)), 2);
    expect(course.hardening.t).toEqual(TIMES);
    course.hardening.cure.forEach((a, k) => {
      expect(a).toBeCloseTo(slow(TIMES[k]!), 5);
      expect(course.hardening.glass[k]).toBeCloseTo(glassOf(slow(TIMES[k]!)), 2);
    });
  });
  test("may be left when half of its rise is gone, turned when it is firm and may be left", () => {
    // the later root of x e^(1 - x) = 1/2
    expect(course.milestones.leave! / PEAK).toBeCloseTo(2.6783, 3);
    expect(course.firm! / timeOf(0.65, 10000)).toBeCloseTo(1, 3);
    // firm while it is hot: not lifted before it may be left alone
    expect(course.milestones.leave!).toBeGreaterThan(course.firm!);
    expect(course.milestones.turn).toBe(course.milestones.leave);
    expect(firmCure(resin)).toBeCloseTo(0.65, 12);
    // beyond nine tenths half of what is left
    expect(firmCure(resinOf({ gel: 0.94 }))).toBeCloseTo(0.97, 12);
    expect(firmCure(rubber)).toBe(0.8);
  });
  test("comes off when it is cool and hard everywhere, and is clamped when it is harder than the room", () => {
    // a fifth of the rise: the later root of x e^(1 - x) = 0.2 is x = 4.0
    const away = 3.9943 * PEAK;
    expect(course.milestones.comesOff! / away).toBeCloseTo(1, 3);
    // 20 K over the room, of the slowest
    const clamp = timeOf(cureOf(ROOM + 20), 10000);
    expect(course.milestones.clamp! / Math.max(clamp, away)).toBeCloseTo(1, 3);
  });
});

describe("what decides each moment", () => {
  /** A line whose cures lag by a factor, as cold as the room, but for its one hot place at the peak. */
  const lagging = (over: number, warm: number) =>
    historyOf((t) => ({
      ...line(t),
      temperature: Float32Array.from({ length: 8 }, () => ROOM + warm),
      cure: Float32Array.from({ length: 8 }, (_, i) => (i < 3 ? 0 : 1 - Math.exp(-t / over))),
    }));
  test("a slow cure: firm, hard against its own temperature, hard against the room", () => {
    const { milestones, gelFirst } = pourCourseOf(lagging(40000, 0), resin, PLACE);
    expect(gelFirst! / timeOf(0.6, 40000)).toBeCloseTo(1, 3);
    // gels after it has cooled
    expect(milestones.leave).toBe(gelFirst);
    expect(milestones.turn! / timeOf(0.65, 40000)).toBeCloseTo(1, 3);
    // 10 K over its own temperature: 303 K is less than the firm cure's
    expect(cureOf(ROOM + 10)).toBeLessThan(0.65);
    expect(milestones.comesOff).toBe(milestones.turn);
    const clamp = timeOf(cureOf(ROOM + 20), 40000);
    expect(milestones.clamp! / Math.max(clamp, milestones.turn!)).toBeCloseTo(1, 3);
  });
  test("one that stays warm must be harder to come off", () => {
    const { milestones } = pourCourseOf(lagging(30000, 25), resin, PLACE);
    expect(milestones.comesOff! / timeOf(cureOf(ROOM + 35), 30000)).toBeCloseTo(1, 3);
    expect(milestones.clamp).toBe(milestones.comesOff);
  });
  test("one that stays liquid has none of them", () => {
    const { milestones, gelFirst, gelLast } = pourCourseOf(lagging(1e7, 0), resin, PLACE);
    expect([gelFirst, gelLast]).toEqual([null, null]);
    expect(milestones).toEqual({ leave: null, turn: null, comesOff: null, clamp: null });
    // gelled within reach, but not hard
    const half = pourCourseOf(lagging(110000, 60), resin, PLACE).milestones;
    expect(half.turn).not.toBeNull();
    expect(half.comesOff).toBeNull();
    expect(half.clamp).toBeNull();
  });
  test("a rubber comes off when it has cured, whatever its temperature", () => {
    const { milestones } = pourCourseOf(lagging(20000, 0), rubber, PLACE);
    expect(milestones.turn! / timeOf(0.8, 20000)).toBeCloseTo(1, 3);
    expect(milestones.comesOff! / timeOf(0.95, 20000)).toBeCloseTo(1, 3);
    expect(milestones.clamp).toBe(milestones.comesOff);
  });
});

describe("where it is hottest in a cut", () => {
  /** Eight columns by five rows; a hill with its top at a place, resin from the second row up. */
  const cut =
    (x0: number, y0: number, drift = 0) =>
    (time: number): Snapshot => {
      const [nx, ny] = [8, 5];
      const cells = Array.from(
        { length: nx * ny },
        (_, k) => [k % nx, Math.floor(k / nx)] as const,
      );
      const at = x0 + drift * Math.log(time / PEAK);
      return {
        time,
        x: FACES,
        y: Float32Array.from({ length: ny + 1 }, (_, i) => 0.01 * i),
        temperature: Float32Array.from(cells, ([i, j]) =>
          j < 1
            ? 900
            : hot(time) - 1e4 * (0.01 * (i + 0.5) - at) ** 2 - 1e4 * (0.01 * (j + 0.5) - y0) ** 2,
        ),
        cure: Float32Array.from(cells, ([, j]) => (j < 1 ? 0 : fast(time))),
      };
    };
  const place = { room: ROOM, bed: 0.01, wall: 0.005 };
  const whereOf = (...at: Parameters<typeof cut>) =>
    pourCourseOf(historyOf(cut(...at)), resin, place).where;
  test("is its place between the cells, from the nearer wall and over the bed", () => {
    for (const [x, y] of [
      [0.043, 0.027],
      [0.018, 0.031],
      [0.037, 0.0225],
    ] as const) {
      expect(whereOf(x, y).overBed).toBeCloseTo(y - 0.01, 4);
      expect(whereOf(x, y).fromWall).toBeCloseTo(Math.min(x, 0.08 - x) - 0.005, 4);
      // the mirror image is as far from its own wall
      expect(whereOf(0.08 - x, y).fromWall).toBeCloseTo(whereOf(x, y).fromWall, 4);
    }
  });
  test("in a cell at the edge is its middle; never within the wall or the bed", () => {
    expect(whereOf(0.001, 0.03).fromWall).toBe(0);
    expect(whereOf(0.04, 0.049).overBed).toBeCloseTo(0.035, 4);
    expect(whereOf(0.006, 0.03).fromWall).toBe(0);
  });
  test("moves from one picture to the next", () => {
    // at the peak it is where the law says: straight between two pictures
    expect(whereOf(0.03, 0.03, 0.02).fromWall).toBeCloseTo(0.025, 3);
  });
});

describe("the resin in a picture", () => {
  const snapshot = (cure: number[]) => ({ ...line(1), cure: Float32Array.from(cure) });
  test("is what has cured more than it came with; cells cut by a master count", () => {
    expect(leastCureAt(snapshot([0, 0, 0.5, 0.4, 0.7]), resin)).toBeCloseTo(0.4, 6);
    expect(leastCureAt(snapshot([0, 1e-5, 0.5]), resin)).toBeCloseTo(0.5, 6);
    expect(leastCureAt(snapshot([0, 0.02, 0.5]), resin)).toBeCloseTo(0.02, 6);
    const begun = resinOf({
      material: { cure: { law: makeRateLaw(spec), heat: 1, initial: 0.1 } } as never,
    });
    expect(leastCureAt(snapshot([0, 0.09, 0.3, 0.2]), begun)).toBeCloseTo(0.2, 6);
    const { cure: _, ...bare } = line(1);
    expect(leastCureAt(bare, resin)).toBe(1);
  });
});

describe("how long to look", () => {
  test("is fourteen times the gel time of a thin layer, half a day at least, sixty days at most", () => {
    const of = (rate: number, more: Partial<PouredResin> = {}) => {
      const own = { ...spec, A: rate };
      return horizonOf(
        resinOf({
          spec: own,
          material: { cure: { law: makeRateLaw(own), heat: 1, initial: 0 } } as never,
          ...more,
        }),
        ROOM,
        ROOM,
      );
    };
    const gel = -Math.log(0.4);
    expect(of(1e-4) / ((14 * gel) / 1e-4)).toBeCloseTo(1, 4);
    expect(of(1e-2)).toBe(12 * 3600);
    expect(of(1e-9)).toBe(60 * 86400);
    // without what glass does to it, and from the colder of room and stock
    const capped = {
      ...spec,
      cap: { kind: "glass", C: 30, uncured: 253, cured: 403, lambda: 0.4, offset: 12 },
    };
    expect(of(1e-4, { spec: capped as never })).toBeCloseTo(of(1e-4), 0);
    const warm = { ...spec, A: 1e-4 * Math.exp(50e3 / 8.314462618 / 300), E: 50e3 };
    const own = resinOf({
      spec: warm,
      material: { cure: { law: makeRateLaw(warm), heat: 1, initial: 0 } } as never,
    });
    expect(horizonOf(own, 300, 320) / ((14 * gel) / 1e-4)).toBeCloseTo(1, 3);
    expect(horizonOf(own, 320, 300)).toBe(horizonOf(own, 300, 320));
    expect(horizonOf(own, 290, 300)).toBeGreaterThan(horizonOf(own, 300, 300));
  });
  test("looks stand evenly in ratios, from a three thousandth on", () => {
    for (const count of [12, 24]) {
      const times = lookTimes(6000, count);
      expect(times).toHaveLength(count);
      expect(times[0]).toBeCloseTo(2, 9);
      expect(times.at(-1)).toBeCloseTo(6000, 6);
      const ratio = times[1]! / times[0]!;
      times.slice(1).forEach((t, i) => {
        expect(t / times[i]!).toBeCloseTo(ratio, 9);
      });
    }
    expect(lookTimes(6000)).toHaveLength(12);
  });
});
