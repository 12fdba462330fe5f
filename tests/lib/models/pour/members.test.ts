/** Ranges of a pour whose members follow a law with known percentiles; which corner of what is known is the unlucky one. */
import { describe, expect, test } from "vitest";
import { makeRateLaw } from "../../../../lib/cure/rate-laws.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { cornerOf, cornersAt, pourCorners } from "../../../../lib/models/pour/corners.ts";
import { courseSpread, depthSpread } from "../../../../lib/models/pour/members.ts";
import type { PourSetting } from "../../../../lib/models/pour/problem.ts";
import type { PouredResin, ResinCorner } from "../../../../lib/models/pour/resin.ts";
import type { PourRuns } from "../../../../lib/models/pour/runs.ts";
import {
  CLIFF_MARGIN,
  ROOMS,
  safeDepth,
  safeDepthByRoom,
  safeLine,
  unluckiest,
} from "../../../../lib/models/pour/safe.ts";
import { NINE_OF_TEN } from "../../../../lib/numerics/deviates.ts";
import { power, runaway } from "./curves.ts";

const { job } = readJob(
  "{ bait: { thickness: 16 mm }, room: { temperature: 20 degC }, pour: { depth: 30 mm }, uncertainty: { room: 3 K } }",
);
const ROOM = 293.15;

interface Asked {
  readonly setting: PourSetting;
  /** Deviates, an end counted as one of nine in ten. */
  readonly z: Readonly<Record<keyof ResinCorner, number>>;
}

/** First order with 60 kJ/mol: of 65 % cure, a little past its gel point, in a week at 10 degC. */
const WEEK = 7 * 24 * 3600;
const spec = {
  law: "nth-order",
  A: (-Math.log(0.35) / WEEK) * Math.exp(60e3 / (8.314462618 * 283.15)),
  E: 60e3,
  n: 1,
} as const;
const RESIN = {
  heat: 160e3,
  specificHeat: 1000,
  gel: 0.6,
  glass: { uncured: 250, cured: 400, lambda: 0.4 },
  spec,
  material: { cure: { law: makeRateLaw(spec), heat: 160e3, initial: 0 } },
};

/** Runs of a pour whose resins are no more than their corner. */
function cornerRuns(
  peak: (asked: Asked) => number,
  course: (asked: Asked) => object = () => ({}),
  more: Partial<PourRuns> = {},
) {
  const resins = new Map<string, ResinCorner>();
  const made = new Map<string, PouredResin>();
  const places: Record<string, number> = { low: -NINE_OF_TEN, value: 0, high: NINE_OF_TEN };
  const asked = (resin: PouredResin, setting: PourSetting): Asked => {
    const corner = resins.get((resin as unknown as { key: string }).key)!;
    const z = Object.fromEntries(
      Object.entries(corner).map(([key, at]) => [key, typeof at === "number" ? at : places[at]!]),
    );
    return { setting, z: z as Asked["z"] };
  };
  const known = new Map<string, { depth: number; value: number; time: number; lost: number }[]>();
  const seenOf = (resin: PouredResin, { depth: _, ...setting }: PourSetting) => {
    const key = (resin as unknown as { key: string }).key + JSON.stringify(setting);
    const seen = known.get(key) ?? [];
    known.set(key, seen);
    return seen;
  };
  const runs: Partial<PourRuns> = {
    job,
    likelyOnly: false,
    resin: (corner) => {
      const key = JSON.stringify(corner);
      resins.set(key, corner);
      if (!made.has(key)) made.set(key, { ...RESIN, key } as unknown as PouredResin);
      return made.get(key)!;
    },
    linePeak: (resin, setting) => {
      const seen = seenOf(resin, setting);
      const { depth } = setting;
      if (!seen.some((one) => one.depth === depth))
        seen.push({ depth, value: peak(asked(resin, setting)), time: 1, lost: 0 });
      return seen.find((one) => one.depth === depth)!;
    },
    linePeaks: (resin, setting) => [...seenOf(resin, setting)].sort((a, b) => a.depth - b.depth),
    sectionPeak: (resin, setting) => ({ value: peak(asked(resin, setting)), time: 1, lost: 0 }),
    draftPeak: (resin, setting) => peak(asked(resin, setting)),
    draftCourse: (resin, setting) => course(asked(resin, setting)) as never,
    ...more,
  };
  return runs as PourRuns;
}

describe("the range of a course", () => {
  const weights = { speed: 3, energy: 2, heat: 5, conductivity: 1 };
  const linear = ({ z, setting }: Asked) =>
    3 * z.speed + 2 * z.energy + 5 * z.heat + z.conductivity + 4 * ((setting.room - ROOM) / 3);
  const course = (asked: Asked) => {
    const x = linear(asked);
    return {
      peak: 350 + x,
      peakTime: 5000 * Math.exp(0.05 * x),
      gelFirst: 100 + asked.z.speed,
      gelLast: null,
      glassReached: asked.setting.stock - asked.setting.room,
      milestones: { leave: 1, turn: 20 - x, comesOff: null, clamp: asked.setting.depth },
    };
  };
  const found = courseSpread(
    cornerRuns(() => 0, course),
    0.8,
  );
  // the room's half-width is the 90th percentile, and the course above has 4 for each half-width
  const sigma = Math.hypot(...Object.values(weights), 4 / NINE_OF_TEN);

  test("has the percentiles of its law, and nine in ten of the room's half-width", () => {
    const { value, low, high } = found.peak.range;
    expect(value).toBe(350);
    expect(Math.abs(high - 350) / (NINE_OF_TEN * sigma)).toBeCloseTo(1, 1);
    expect(Math.abs(350 - low) / (NINE_OF_TEN * sigma)).toBeCloseTo(1, 1);
    const time = found.peakTime.range;
    expect(time.value).toBe(5000);
    expect(Math.log(time.high / 5000) / (0.05 * NINE_OF_TEN * sigma)).toBeCloseTo(1, 1);
    expect(Math.log(time.low / 5000) / (0.05 * NINE_OF_TEN * sigma)).toBeCloseTo(-1, 1);
    const gel = found.gelFirst.range;
    expect((gel.high - gel.low) / (2 * NINE_OF_TEN)).toBeCloseTo(1, 1);
  });
  test("each number is its own", () => {
    expect(found.turn.range.value).toBe(20);
    expect(found.leave.range).toEqual({ value: 1, low: 1, high: 1 });
    expect(found.gelLast.range.value).toBe(Number.POSITIVE_INFINITY);
    expect(found.comesOff.range.low).toBe(Number.POSITIVE_INFINITY);
    // looked at where it gets as hot far from walls
    expect(found.clamp.range.value).toBeCloseTo(0.8 * 0.03, 12);
    // stock is as much warmer as the room is
    expect(found.glassReached.range).toMatchObject({ value: 0 });
    expect(found.glassReached.range.high).toBeCloseTo(0, 9);
  });
  test("shares are those of the variance, under the names of what is uncertain", () => {
    const share = Object.fromEntries(found.peak.shares.map(({ name, total }) => [name, total]));
    const variance = sigma ** 2;
    expect(share["pour.speed"]).toBeCloseTo(9 / variance, 1);
    expect(share["pour.energy"]).toBeCloseTo(4 / variance, 1);
    expect(share["pour.heat"]).toBeCloseTo(25 / variance, 1);
    expect(share["pour.material"]).toBeCloseTo(1 / variance, 1);
    expect(share["room.temperature"]).toBeCloseTo((4 / NINE_OF_TEN) ** 2 / variance, 1);
  });
  test("what a data sheet settles is not drawn, and nothing where only the likely is asked for", () => {
    const names = (text: string, more: Partial<PourRuns> = {}) => {
      const given = readJob(`{ bait: { thickness: 16 mm }, pour: { ${text} } }`).job;
      const runs = cornerRuns(() => 0, course, { job: given, ...more });
      return courseSpread(runs, 1)
        .peak.shares.map(({ name }) => name)
        .sort();
    };
    const rest = ["pour.material", "pour.speed", "room.temperature"];
    const pot = "potLife: { time: 40 min, mass: 100 g, at: 25 degC }";
    const film = "thinFilm: { time: 6 h, at: 25 degC }";
    expect(names("depth: 20 mm")).toEqual(["pour.energy", "pour.heat", ...rest].sort());
    expect(names(pot)).toEqual(["pour.energy", "pour.heat", ...rest].sort());
    expect(names(film)).toEqual(["pour.energy", "pour.heat", ...rest].sort());
    expect(names(`${pot}, ${film}`)).toEqual(["pour.heat", ...rest].sort());
    expect(names("peakExotherm: { temperature: 60 degC, mass: 100 g }")).toEqual(
      ["pour.energy", ...rest].sort(),
    );
    expect(names("depth: 20 mm", { likelyOnly: true })).toEqual([]);
  });
});

describe("the range of a depth", () => {
  // rise over the room 20 K at 10 mm, to the power 1.5, times a lognormal
  const rise = ({ z, setting }: Asked) =>
    setting.room +
    20 *
      (setting.depth / 0.01) ** 1.5 *
      Math.exp(0.2 * z.speed + 0.1 * z.energy + 0.15 * z.heat - 0.05 * z.conductivity);
  const runs = cornerRuns(rise);
  const { likely } = pourCorners(runs);

  test("is the lognormal that its members have, about the depth that all at their values get to", () => {
    for (const up of [40, 70]) {
      const { range } = depthSpread(runs, ROOM + up, likely);
      const exact = 0.01 * (up / 20) ** (1 / 1.5);
      expect(range.value / exact).toBeCloseTo(1, 2);
      // a room that is warmer leaves less to rise: its derivative
      const room = 3 / NINE_OF_TEN / up;
      const sigma = Math.hypot(0.2, 0.1, 0.15, 0.05, room) / 1.5;
      expect(Math.log(range.high / exact) / (NINE_OF_TEN * sigma)).toBeCloseTo(1, 0);
      expect(Math.abs(Math.log(range.high / exact) - NINE_OF_TEN * sigma)).toBeLessThan(0.025);
      expect(Math.abs(Math.log(range.low / exact) + NINE_OF_TEN * sigma)).toBeLessThan(0.025);
    }
  });
  test("where the data sheet settles the energy it is left out", () => {
    const settled = readJob(
      "{ bait: { thickness: 16 mm }, room: { temperature: 20 degC }, pour: { depth: 30 mm, potLife: { time: 40 min, mass: 100 g, at: 25 degC }, thinFilm: { time: 6 h, at: 25 degC } }, uncertainty: { room: 3 K } }",
    ).job;
    const own = cornerRuns(rise, undefined, { job: settled });
    const { range } = depthSpread(own, ROOM + 40, pourCorners(own).likely);
    const sigma = Math.hypot(0.2, 0.15, 0.05, 3 / NINE_OF_TEN / 40) / 1.5;
    expect(Math.abs(Math.log(range.high / range.value) - NINE_OF_TEN * sigma)).toBeLessThan(0.025);
    expect(Math.abs(Math.log(range.low / range.value) + NINE_OF_TEN * sigma)).toBeLessThan(0.025);
  });
  test("in a room that is known exactly is that of the resin alone", () => {
    const known = { ...job, uncertainty: { ...job.uncertainty, roomTemperature: 0 } };
    const own = cornerRuns(rise, undefined, { job: known });
    const { range } = depthSpread(own, ROOM + 40, pourCorners(own).likely);
    const sigma = Math.hypot(0.2, 0.1, 0.15, 0.05) / 1.5;
    expect(Math.abs(Math.log(range.high / range.value) - NINE_OF_TEN * sigma)).toBeLessThan(0.025);
    expect(Math.abs(Math.log(range.low / range.value) + NINE_OF_TEN * sigma)).toBeLessThan(0.025);
  });
  test("0 or without end where every depth gets there, or none does", () => {
    expect(depthSpread(runs, ROOM - 1, likely).range.value).toBe(0);
    expect(depthSpread(runs, ROOM + 9e4, likely).range).toEqual({
      value: Number.POSITIVE_INFINITY,
      low: Number.POSITIVE_INFINITY,
      high: Number.POSITIVE_INFINITY,
    });
  });
  test("takes few looks for each member, since each learns from those before: a regression", () => {
    let looks = 0;
    const counted = cornerRuns((asked) => {
      looks += 1;
      return rise(asked);
    });
    depthSpread(counted, ROOM + 40, pourCorners(counted).likely);
    expect(looks).toBeLessThan(57);
  });
});

describe("the corners", () => {
  test("are all ends of energy and conductivity, at one end of the rest, in a room as much off", () => {
    const runs = cornerRuns(() => 0);
    for (const [end, sign] of [
      ["high", 1],
      ["low", -1],
    ] as const) {
      const corners = cornersAt(runs, end);
      expect(corners.map((one) => one.end)).toEqual(
        ["low", "high"].flatMap((energy) =>
          ["low", "high"].map((conductivity) => ({ speed: end, energy, heat: end, conductivity })),
        ),
      );
      for (const { setting } of corners) {
        expect(setting.room).toBeCloseTo(ROOM + 3 * sign, 9);
        expect(setting.stock).toBeCloseTo(ROOM + 3 * sign, 9);
        expect(setting.depth).toBeCloseTo(0.03, 12);
      }
    }
  });
  test("the unlucky one is the hottest, the lucky one the coolest; its rival has the other energy", () => {
    for (const [energy, conductivity] of [
      [3, 1],
      [3, -1],
      [-3, 1],
      [-3, -1],
      [1, 3],
      [-1, -3],
    ] as const) {
      const runs = cornerRuns(({ z }) => 350 + energy * z.energy + conductivity * z.conductivity);
      const end = (x: number) => (x > 0 ? "high" : "low");
      const hot = cornerOf(runs, "high");
      expect(hot.end).toMatchObject({ energy: end(energy), conductivity: end(conductivity) });
      expect(pourCorners(runs).fast.end).toEqual(hot.end);
      const cool = cornerOf(runs, "low");
      expect(cool.end).toMatchObject({ energy: end(-energy), conductivity: end(-conductivity) });
      // the rival is the hottest with the other energy
      const rival = { ...hot.end, energy: end(-energy) as "low" | "high" };
      expect(hot.rival).toBe(runs.resin(rival));
    }
  });
});

describe("the safe depth", () => {
  /** Two unlucky curves that cross at 20 mm: a high energy climbs steeper. */
  const crossing = ({ z, setting: { depth, room } }: Asked) =>
    room + 30 * (depth / 0.02) ** (z.energy > 0 ? 3 : 1) * (z.conductivity > 0 ? 0.9 : 1);

  test("is that of the corner that reaches the limit first, on either side of a crossing", () => {
    for (const [rise, energy, power] of [
      [10, "low", 1],
      [25, "low", 1],
      [35, "high", 3],
      [80, "high", 3],
    ] as const)
      for (const near of [undefined, 0.004, 0.02, 0.08]) {
        const runs = cornerRuns(crossing);
        const found = unluckiest(runs, ROOM + 3 + rise, undefined, near);
        const exact = 0.02 * (rise / 30) ** (1 / power);
        expect(found.end, `${rise} near ${near}`).toMatchObject({ energy, conductivity: "low" });
        expect(Math.abs(found.line! / exact - 1)).toBeLessThan(3e-3);
      }
  });
  test("has no limit where none gets there, and is none where all do", () => {
    const runs = cornerRuns(crossing);
    expect(unluckiest(runs, ROOM + 1e6).line).toBeNull();
    expect(unluckiest(runs, ROOM + 3).line).toBe(0);
    // one corner alone gets there, and only where it is deep
    const late = cornerRuns(({ z, setting: { depth, room } }) =>
      z.energy > 0 && z.conductivity > 0 ? power(1, 2).peak(depth) - 293 + room : room + 1,
    );
    expect(unluckiest(late, ROOM + 3 + 100).end).toMatchObject({
      energy: "high",
      conductivity: "high",
    });
    expect(Math.abs(unluckiest(late, ROOM + 3 + 100).line! / 0.1 - 1)).toBeLessThan(3e-3);
  });
  test("stays off a cliff by its margin, and is the limit's own where the cliff is higher", () => {
    const curve = runaway(0.02, 160, 6);
    const runs = cornerRuns(
      ({ z, setting: { depth, room } }) =>
        room + (curve.peak(depth) - 293) * (1 - 0.001 * z.energy),
    );
    const peakOf = (limit: number) => safeLine(runs, limit).most;
    const room = ROOM + 3;
    // half of the rise, where it climbs most steeply
    expect(Math.abs(peakOf(room + 120) - (room + 80 - CLIFF_MARGIN))).toBeLessThan(3);
    expect(Math.abs(peakOf(room + 75) - (room + 80 - CLIFF_MARGIN))).toBeLessThan(3);
    expect(peakOf(room + 50)).toBe(room + 50);
    expect(peakOf(room + 30)).toBe(room + 30);
    for (const limit of [room + 30, room + 50, room + 120]) {
      const { depth, line, share } = safeDepth(runs, limit, 0.9);
      const exact = curve.depth(293 + peakOf(limit) - room);
      expect(Math.abs(line! / exact - 1)).toBeLessThan(3e-3);
      // no walls here: the whole depth is left
      expect(share).toBeCloseTo(1, 2);
      expect(depth / exact).toBeGreaterThan(0.98);
      expect(depth / exact).toBeLessThan(1.003);
    }
    const slope = cornerRuns(({ setting: { depth, room } }) => room + 100 * depth);
    expect(safeDepth(slope, room + 90, 1)).toMatchObject({
      depth: Number.POSITIVE_INFINITY,
      line: null,
    });
    expect(safeDepth(slope, room - 1, 1).depth).toBe(0);
  });
});

describe("the safe depth by room", () => {
  /** Grows by 5 % for each K: in a warm room it gets there at less depth. */
  const warm = ({ setting: { depth, room, stock } }: Asked) =>
    Math.max(room, stock) + 20 * (depth / 0.01) ** 1.5 * Math.exp(0.05 * (room - ROOM));
  const limit = ROOM + 60;
  const exact = (room: number, stock: number) =>
    0.01 *
    ((limit - Math.max(room, stock) - 3) / (20 * Math.exp(0.05 * (room + 3 - ROOM)))) ** (1 / 1.5);

  test.each([
    ["as warm as the room", "", 0, 21.2],
    // typed, it is that in any room
    ["typed as warm as it is today", ", stock: 20 degC", 293.15, 21.2],
    // warmed apart, it is as warm in any room
    ["warmer than it", ", stock: 28 degC", 301.15, 20.9],
  ])(
    "of stock %s is each room's own, from the coldest on, and hardens where it has a week for it",
    (_, stock, warmed, most) => {
      const given = readJob(
        `{ bait: { thickness: 16 mm }, room: { temperature: 20 degC }, pour: { depth: 30 mm${stock} }, uncertainty: { room: 3 K } }`,
      ).job;
      let [looks, told] = [0, 0];
      const runs = cornerRuns(
        (asked) => {
          looks += 1;
          return warm(asked);
        },
        undefined,
        {
          job: given,
          // without heat of its own a pour in a cold room is not firm in a week
          looked: () => ({ cure: Float32Array.of(0.64, 0.9) }) as never,
        },
      );
      const rows = safeDepthByRoom(runs, limit, safeDepth(runs, limit, 1), () => {
        told += 1;
      });
      expect(rows.map(({ room }) => room)).toEqual([...ROOMS].sort((a, b) => a - b));
      for (const { room, deepest } of rows) {
        const deep = exact(room, warmed);
        expect(deepest / deep, `${room}`).toBeGreaterThan(0.98);
        expect(deepest / deep, `${room}`).toBeLessThan(1.003);
      }
      // in 0.9 of a week at the latest without a look; below, the look tells
      expect(rows.map(({ room, hardens }) => hardens === room > 283.2)).not.toContain(false);
      expect(told).toBe(ROOMS.length);
      // what is known of other rooms spares looks at either energy: a regression of their number
      expect(looks / ROOMS.length).toBeLessThan(most);
    },
  );

  test("one that is firm when it is looked at hardens", () => {
    const runs = cornerRuns(warm, undefined, {
      looked: () => ({ cure: Float32Array.of(0.66, 0.9) }) as never,
    });
    const rows = safeDepthByRoom(runs, limit, safeDepth(runs, limit, 1));
    expect(rows.every(({ hardens }) => hardens)).toBe(true);
  });

  test("rooms that are too warm for any depth, or where none is too deep, do not mislead the others", () => {
    // no heat at all below 12 degC, at once too hot above 34
    const strange = (asked: Asked) => {
      const { room, depth } = asked.setting;
      if (room < 285.15 + 3) return room + 0.1 * depth;
      return room > 307.15 + 3 ? room + 500 : warm(asked);
    };
    const runs = cornerRuns(strange, undefined, {
      looked: () => ({ cure: Float32Array.of(0.9) }) as never,
    });
    const rows = safeDepthByRoom(runs, limit, safeDepth(runs, limit, 1));
    for (const { room, deepest } of rows)
      if (room < 285) expect(deepest).toBe(Number.POSITIVE_INFINITY);
      else if (room > 308) expect(deepest).toBe(0);
      else expect(Math.abs(deepest / exact(room, 0) - 0.993)).toBeLessThan(0.015);
  });
});
