/** No limit of a job makes smoke milder: 100 degC is minded with bad luck, whatever was typed. */
import { describe, expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { TOO_HOT } from "../../../../lib/models/pour/resin.ts";
import { pour } from "../../../../lib/questions/pour/pour.ts";
import { walls } from "../../../../lib/questions/walls/walls.ts";
import { pourQuestion } from "../../../../src/cli/questions/pour.ts";

const BLOCK = `
bait: { thickness: 40 mm, length: 14 in }
room: { temperature: 30 degC }
pour: { material: polyurethane, depth: 60 mm, hardener: fast, granules: 30 %, box: { length: 450 mm, width: 150 mm } }
`;
/** Its peak climbs evenly with its depth: refused for no cliff. */
const slope = (mm: number) => `
room: { temperature: 25 degC }
bait: { thickness: 10 mm }
pour: { material: polyurethane, depth: ${mm} mm, peakExotherm: { temperature: 90 degC, mass: 100 g }, potLife: { time: 8 min } }
`;
const jobOf = (text: string, limit: number) =>
  readJob(`${text}limits: { peak: ${limit} degC }\n`).job;

describe("a limit above 100 degC", () => {
  const { answer, cautions } = pour(jobOf(BLOCK, 150));

  test("leaves the reason, the caution and the refusal of what smokes", () => {
    // likely just below 100 degC, so that bad luck alone decides
    expect(answer.peak.value).toBeLessThan(TOO_HOT);
    expect(answer.worstPeak).toBeGreaterThan(TOO_HOT);
    expect(answer.reasons).toContain("too_hot_with_bad_luck");
    expect(cautions.some((c) => c === "pour_not_recommended" || c === "pour_may_smoke")).toBe(true);
    const { headline } = pourQuestion.text(
      { ...pour(jobOf(BLOCK, 150), { quick: true }), answer },
      jobOf(BLOCK, 150),
      "metric",
    );
    expect(headline.join(" ")).toMatch(/above 100 °C: it can foam, crack and smoke/);
    expect(headline[0]).not.toBe("Yes, in one go.");
  });

  test("calls no alternative enough that may smoke", () => {
    const serving = answer.alternatives.filter(({ serves }) => serves);
    expect(answer.alternatives.some(({ worstPeak }) => worstPeak > TOO_HOT)).toBe(true);
    for (const { worstPeak } of serving) expect(worstPeak).toBeLessThanOrEqual(TOO_HOT);
  });

  test("answers the same depths as one of 100 degC", () => {
    const { heatDepth, byRoom, layers, deepestSinglePour, limit } = pour(jobOf(BLOCK, 100)).answer;
    expect(answer).toMatchObject({ heatDepth, byRoom, layers, deepestSinglePour, limit });
  });

  test("makes no wall thicker", () => {
    const text = "bait: { thickness: 16 mm }\n";
    const [own, held] = [180, 100].map(
      (limit) => walls(jobOf(text, limit), { quick: true }).answer,
    );
    expect(own!.mostWithBadLuck).toBe(held!.mostWithBadLuck);
    expect(own!.most).toEqual(held!.most);
  });
});

test.each([6, 8, 12, 16, 20, 24])("a slope %d mm deep is told of its smoke where it may", (mm) => {
  const { answer, cautions } = pour(jobOf(slope(mm), 150), { brief: true });
  const may = answer.worstPeak > TOO_HOT;
  const told = answer.reasons.some((r) => r === "too_hot" || r === "too_hot_with_bad_luck");
  expect(told).toBe(may);
  const warned = cautions.some((c) => c === "pour_not_recommended" || c === "pour_may_smoke");
  if (may) expect(warned).toBe(true);
  // what is called safe is
  if (may) expect(answer.depth).toBeGreaterThan(answer.heatDepth);
});
