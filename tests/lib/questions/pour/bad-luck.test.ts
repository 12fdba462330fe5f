/** A depth that is called safe, the range of the peak, and the verdict tell of one and the same pour. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import type { Job } from "../../../../lib/job/types.ts";
import { cornersAt } from "../../../../lib/models/pour/corners.ts";
import { settingOf } from "../../../../lib/models/pour/problem.ts";
import { TOO_HOT } from "../../../../lib/models/pour/resin.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";
import { NINE_OF_TEN } from "../../../../lib/numerics/deviates.ts";
import { normalQuantile } from "../../../../lib/numerics/special-functions.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { pourQuestion } from "../../../../src/cli/questions/pour.ts";

/** Warm stock in a cold room: the likely pour peaks at its stock, an unlucky deep one runs away a day later. */
const WARM_STOCK = `
room: { temperature: 40 degF }
bait: { thickness: 1 in, length: 6 in }
pour: { material: epoxy, depth: 2 1/4 in, box: { length: 9 in, width: 6 in }, stock: 77 degF, thinFilm: { time: 24 h, at: 25 degC } }
`;
/** Its peak climbs evenly: no runaway, and no more than a slope in a cooler room. */
const SLOPE = `
room: { temperature: 25 degC }
bait: { thickness: 10 mm }
pour: { material: polyurethane, depth: 8 mm, peakExotherm: { temperature: 90 degC, mass: 100 g }, potLife: { time: 8 min } }
`;

const at = (text: string, depth?: number): Job => {
  const { job } = readJob(text);
  return depth === undefined ? job : { ...job, pour: { ...job.pour, depth } };
};

/** Van der Corput's sequence: deviates of its own, not those of the answer. */
function evenly(n: number, base: number): number {
  let [sum, part] = [0, 1 / base];
  for (let left = n; left > 0; left = Math.floor(left / base), part /= base)
    sum += part * (left % base);
  return sum;
}

describe("warm stock in a cold room", () => {
  const { answer, cautions } = pour(at(WARM_STOCK));

  test("has the range of its own cuts across the box, each drawn and solved", () => {
    const job = at(WARM_STOCK);
    const runs = pourRuns(job);
    const setting = settingOf(job);
    const width = job.uncertainty.roomTemperature / NINE_OF_TEN;
    const peaks = Array.from({ length: 80 }, (_, i) => {
      const [speed, energy, heat, conductivity, room] = [2, 3, 5, 7, 11].map((base) =>
        normalQuantile(evenly(i + 1, base)),
      ) as [number, number, number, number, number];
      const warmer = { room: setting.room + width * room, stock: setting.stock + width * room };
      const resin = runs.resin({ speed, energy, heat, conductivity });
      return runs.sectionPeak(resin, { ...setting, ...warmer }).value;
    }).sort((a, b) => a - b);
    expect(Math.abs(answer.peak.low - peaks[7]!)).toBeLessThan(1);
    expect(Math.abs(answer.peak.high - peaks[71]!)).toBeLessThan(1);
  });
  test("is refused a little deeper than is safe, though its heat does not show yet", () => {
    expect(answer.depth).toBeGreaterThan(answer.heatDepth);
    expect(answer.reasons).toContain("near_cliff");
    expect(answer.heatDepthBoundBy).toBe("runaway");
    expect(cautions[0]).toBe("pour_not_recommended");
  });
  test("a depth that is called safe is answered so, and a tenth more does not run away with all luck bad", () => {
    const job = at(WARM_STOCK, answer.heatDepth);
    const there = pour(job, { brief: true }).answer;
    expect(there.reasons).toEqual(["never_hardens"]);
    expect(there.peak.high).toBeLessThan(there.limit);
    expect(there.worstPeak).toBeLessThan(there.limit);
    const runs = pourRuns(job);
    for (const { resin, setting } of cornersAt(runs, "high"))
      expect(
        runs.sectionPeak(resin, { ...setting, depth: 1.08 * answer.heatDepth }).value,
      ).toBeLessThan(TOO_HOT);
  });
  test("may be turned over once it has gelled, whichever way things turn out", () => {
    expect(answer.turn.low).toBeGreaterThanOrEqual(answer.gelLast.low);
  });
});

test("the hottest of a pour is no colder than what was poured", () => {
  const job = at(`
room: { temperature: 5 degC }
bait: { thickness: 1 in, length: 6 in }
pour: { material: filled epoxy, depth: 6 in, hardener: slow, thinFilm: { time: 30 h, at: 25 degC }, stock: 40 degC, box: { length: 10 in, width: 6 in } }
`);
  const { peak } = pour(job, { brief: true }).answer;
  // every member peaks at its own stock or above: nine of ten stocks are above the given one less its band
  expect(peak.low).toBeGreaterThan(job.pour.stock - job.uncertainty.roomTemperature - 0.2);
  expect(peak.low).toBeLessThanOrEqual(peak.value);
});

describe("the verdict is that of the depth with room for bad luck", () => {
  test.each([6, 7.5, 8, 9, 10, 12, 15])("polyurethane %d mm deep", (mm) => {
    const { depth, heatDepth, reasons, recommended, heatDepthBoundBy } = pour(
      at(SLOPE, mm * 1e-3),
      { brief: true },
    ).answer;
    const minded = !recommended || reasons.includes("no_room_for_bad_luck");
    expect(minded).toBe(depth > heatDepth);
    expect(heatDepthBoundBy).toBe("climb");
  });
});

describe("warming in a cold room", () => {
  const COLD = `
room: { temperature: 40 degF }
bait: { thickness: 1 in, length: 6 in }
pour: { material: epoxy, depth: 2 1/4 in, box: { length: 9 in, width: 6 in }, thinFilm: { time: 24 h, at: 25 degC } }
`;
  const THIN = `
room: { temperature: 40 degF }
bait: { thickness: 3/8 in, length: 3 in }
pour: { material: epoxy, depth: 1/4 in, box: { length: 5 in, width: 3 in }, hardener: slow }
`;

  test("stock that is warmed peaks as the pour of that stock does when it is asked for, with bad luck, too", () => {
    const { warmStock } = pour(at(COLD), { brief: true }).answer.cold;
    const there = pour(at(WARM_STOCK), { brief: true }).answer;
    expect(Math.abs(warmStock!.peak - there.peak.value)).toBeLessThan(1);
    expect(Math.abs(warmStock!.worstPeak - there.worstPeak)).toBeLessThan(1.5);
    // the asked pour is refused as near the cliff
    expect(warmStock!.atEdge).toBe(true);
  });
  test("a box that no wait makes safe is no way out", () => {
    const { answer } = pour(at(COLD), { brief: true });
    const { worstPeak, peak } = answer.cold.warmBox!;
    expect(worstPeak).toBeGreaterThan(answer.limit);
    expect(peak).toBeLessThan(answer.limit);
    expect(answer.alternatives).toEqual([]);
  });
  test("its worst is never below what is likely", () => {
    const { answer } = pour(at(THIN), { brief: true });
    const { worstPeak, peak } = answer.cold.warmBox!;
    expect(worstPeak).toBeGreaterThanOrEqual(peak);
    expect(worstPeak).toBeLessThanOrEqual(answer.limit);
    const [{ worstPeak: worst, peak: likely }] = answer.alternatives as [
      (typeof answer.alternatives)[number],
    ];
    expect([worst, likely]).toEqual([worstPeak, peak]);
  });
});

describe("what is said beside it", () => {
  const HOT = `
room: { temperature: 75 degF }
bait: { thickness: 1 in, length: 6 in }
pour: { material: polyurethane, depth: 2 in, box: { length: 9 in, width: 5 in }, potLife: { time: 5 min } }
`;

  test("a pour that is hot is not turned over, however firm; granules come with the caution of their dust", () => {
    const { answer, cautions } = pour(at(HOT), { brief: true });
    for (const end of ["low", "value", "high"] as const)
      expect(answer.turn[end]).toBeGreaterThanOrEqual(answer.leave[end]);
    expect(answer.demold.value).toBeGreaterThanOrEqual(answer.turn.value);
    expect(answer.alternatives.map(({ code }) => code)).toContain("granules");
    expect(cautions).toContain("metal_powder");
  });
  test.each([
    ["shop-us", "11 13/16 in"],
    ["metric", "300 mm"],
  ] as const)("a silicone gets no sentence of a glass, in units %s", (system, deepest) => {
    const job = at(`
room: { temperature: 70 degF }
bait: { thickness: 5/8 in, length: 4 in }
pour: { material: silicone, depth: 1 1/2 in, box: { length: 7 in, width: 4 in } }
`);
    const answer = pour(job, { quick: true, brief: true });
    const { headline, body } = pourQuestion.text(answer, job, system);
    const said = [...headline, ...body].join(" ");
    expect(said).not.toMatch(/withstands|goes soft|post-cure|without end/);
    expect(said).toContain(`any down to ${deepest}`);
    // the entry's own limit, as `materials` has it
    expect(said).toContain(system === "shop-us" ? "it bears 392 °F" : "it bears 200 °C");
  });
});

test("by the temperature of the room, stock that was warmed apart stays as warm: as the job in that room answers", () => {
  const inRoom = (degC: number) =>
    pour(
      at(
        `{ bait: { thickness: 16 mm }, room: { temperature: ${degC} degC }, pour: { stock: 50 degC } }`,
      ),
    ).answer;
  const row = inRoom(-5).byRoom.find(({ room }) => Math.abs(room - 298.15) < 1e-6)!;
  const own = inRoom(25).heatDepth;
  expect(Math.abs(row.deepest / own - 1)).toBeLessThan(0.015);
});
