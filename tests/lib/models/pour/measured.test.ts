import { expect, test } from "vitest";
import { checkJob } from "../../../../lib/job/job.ts";
import { parseJobText } from "../../../../lib/job/text.ts";
import { measuredPour } from "../../../../lib/models/pour/measured.ts";
import { isProblem, readQuantity } from "../../../../lib/units/quantity.ts";

test("mass, depth and box tell one story, or are refused with what they hold", () => {
  const weighed = (pour: string) => () =>
    measuredPour(checkJob(parseJobText(`{ bait: { thickness: 16 mm }, pour: { ${pour} } }`)).job);
  expect(weighed("mass: 40 kg, depth: 30 mm, box: { length: 180 mm, width: 120 mm }")).toThrow(
    /mass_differs/,
  );
  expect(
    weighed("mass: 1.2 kg, depth: 30 mm, box: { length: 180 mm, width: 120 mm }"),
  ).not.toThrow();
  const deep = (mass: string) => {
    const job = checkJob({ bait: { thickness: "16 mm" }, pour: { mass } }).job;
    return measuredPour(job).pour.depth;
  };
  // twice the resin over the same bed and masters: the box is 180 x 120 mm
  const [one, two, three] = [deep("1 kg"), deep("2 kg"), deep("3 kg")] as const;
  expect(three - two).toBeCloseTo(two - one, 12);
  expect(two - one).toBeGreaterThan(1 / (0.18 * 0.12) / 2500);
});

test("a ratio with a doubtful comma is asked about, like every number", () => {
  for (const ratio of ["123,456:18", "100:1,234"])
    expect(() =>
      checkJob({ bait: { thickness: "16 mm" }, mix: { pours: [{ volume: "1 l", ratio }] } }),
    ).toThrow(/doubtful_comma/);
  expect(isProblem(readQuantity("123,456 mm", "length"))).toBe(true);
  const { job } = checkJob({
    bait: { thickness: "16 mm" },
    mix: { pours: [{ volume: "1 l", ratio: "100:12,5" }] },
  });
  expect(job.mix.pours[0]!.ratio).toMatchObject({ a: 100, b: 12.5 });
});
