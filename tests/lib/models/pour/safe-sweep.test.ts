/** The depth with room for bad luck follows its inputs, and what is printed stays below the limit with all luck bad. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { catalog } from "../../../../lib/materials/catalog.ts";
import { cornersAt } from "../../../../lib/models/pour/corners.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { safeDepth, unluckiest } from "../../../../lib/models/pour/safe.ts";

const RESINS = catalog.filter((entry) => entry.resin !== undefined).map(({ name }) => name);
/** Rooms in degC, each beside one that is half a kelvin warmer; the long run takes them all. */
const ROOMS = process.env["LONG"]
  ? Array.from({ length: 70 }, (_, i) => 5 + i / 2)
  : [7, 14, 21, 24, 31, 37];
/**
 * What half a kelvin of the room may do to a depth, as a logarithm: at most twice what it does to the depth that reaches the limit,
 * which it moves by 2.0 to 3.7 % (measured over these resins and rooms; cold and slow ones more). Never up.
 */
const MOST_DOWN = 2;
const USUALLY = 0.037;
const MOST_UP = 0.002;

const jobOf = (material: string, room: number, more: object = {}) =>
  readJob(
    JSON.stringify({
      room: { temperature: `${room} degC` },
      bait: { thickness: "16 mm" },
      pour: { material, depth: "10 mm", ...more },
    }),
  ).job;

function safeOf(material: string, room: number, more?: object) {
  const job = jobOf(material, room, more);
  const runs = pourRuns(job, { quick: true });
  const limit = job.limits.peak;
  const { depth } = safeDepth(runs, limit, 1);
  if (Number.isFinite(depth) && depth > 0)
    for (const { end, resin, setting } of cornersAt(runs, "high")) {
      const { value } = runs.linePeak(resin, { ...setting, depth });
      expect(value - limit, `${room} degC ${JSON.stringify(end)}`).toBeLessThan(0.1);
    }
  return { depth, atLimit: unluckiest(runs, limit).line };
}

type Safe = ReturnType<typeof safeOf>;

function expectEven(cool: Safe, warm: Safe, where: string) {
  const by = Math.log(warm.depth / cool.depth);
  const ofLimit = Math.log((warm.atLimit ?? Number.NaN) / (cool.atLimit ?? Number.NaN));
  const most = MOST_DOWN * Math.max(USUALLY, -ofLimit || 0);
  expect(by, `${where}: ${cool.depth} to ${warm.depth} m`).toBeGreaterThan(-most);
  expect(by, `${where}: ${cool.depth} to ${warm.depth} m`).toBeLessThan(MOST_UP);
}

describe.each([
  ["as the catalog has it", {}],
  ["with a slow hardener", { thinFilm: { time: "12 h", at: "25 degC" } }],
] as const)("%s", (_, more) => {
  test.each(RESINS)("%s: half a kelvin of the room leaps nowhere", (material) => {
    for (const room of ROOMS) {
      const cool = safeOf(material, room, more);
      const warm = safeOf(material, room + 0.5, more);
      expect(cool.depth > 0 && warm.depth > 0, `${room}`).toBe(true);
      if (cool.depth !== Number.POSITIVE_INFINITY) expectEven(cool, warm, `${room} degC`);
    }
  });
});

// its climb is a cliff in a cool room and a slope in a warm one, first at the limit with a low energy, first at its cliff
// with a high one
test("a polyurethane whose data sheet names its exotherm moves on evenly from 18 to 30 degC", () => {
  const depths = Array.from({ length: 25 }, (_, i) =>
    safeOf("polyurethane", 18 + i / 2, {
      peakExotherm: { temperature: "90 degC", mass: "100 g" },
      potLife: { time: "8 min" },
    }),
  );
  depths.slice(1).forEach((warm, i) => {
    expectEven(depths[i]!, warm, `${18 + i / 2} degC`);
  });
});

test("is the same within its box, 2 % apart, for whatever depth is asked about", () => {
  for (const material of ["polyurethane", "filled epoxy"]) {
    let before: number | undefined;
    for (let depth = 8; depth < 9.6; depth *= 1.02) {
      const job = jobOf(material, 22, {
        depth: `${depth} mm`,
        box: { length: "180 mm", width: "60 mm" },
      });
      const runs = pourRuns(job);
      const safe = safeDepth(runs, job.limits.peak, 0.95);
      before ??= safe.depth;
      expect(Math.abs(Math.log(safe.depth / before)), material).toBeLessThan(0.015);
      for (const { resin, setting } of cornersAt(runs, "high"))
        expect(
          runs.sectionPeak(resin, { ...setting, depth: safe.depth }).value - job.limits.peak,
        ).toBeLessThan(0.5);
    }
  }
});
