import { expect, test } from "vitest";
import { checkJob } from "../../../../lib/job/job.ts";
import { parseJobText } from "../../../../lib/job/text.ts";
import { measuredPour } from "../../../../lib/models/pour/measured.ts";
import { mixOf } from "../../../../lib/models/pour/mix.ts";
import { pouredVolume } from "../../../../lib/models/pour/problem.ts";
import type { InputError } from "../../../../lib/units/problem.ts";
import { isProblem, readQuantity } from "../../../../lib/units/quantity.ts";
import { problemSentence } from "../../../../src/messages/all-problems.ts";

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

test.each([
  ["the depth", "mass: 2 kg"],
  ["the depth in a box of its own", "mass: 3 kg, box: { length: 260 mm, width: 150 mm }"],
  ["the box", "mass: 2 kg, depth: 30 mm"],
  ["the box, under a deeper pour", "mass: 4 kg, depth: 45 mm"],
])("%s follows from the mass: box, depth and density hold it", (_name, pour) => {
  const { job } = checkJob(parseJobText(`{ bait: { thickness: 16 mm }, pour: { ${pour} } }`));
  const made = measuredPour(job);
  const { density } = mixOf(made, made.pour.granules);
  expect((pouredVolume(made) * density) / job.pour.mass!).toBeCloseTo(1, 9);
  const { length, width } = made.pour.box;
  // a box keeps its form
  expect(length / width).toBeCloseTo(job.pour.box.length / job.pour.box.width, 9);
});

test("a mass that does not fit is told with the mass that does", () => {
  const pour = "mass: 40 kg, depth: 30 mm, box: { length: 180 mm, width: 120 mm }";
  const { job } = checkJob(parseJobText(`{ bait: { thickness: 16 mm }, pour: { ${pour} } }`));
  try {
    measuredPour(job);
    expect.unreachable();
  } catch (error) {
    const [problem] = (error as InputError).problems;
    expect(problem).toMatchObject({ code: "mass_differs", path: "pour.mass" });
    const [fits] = problem!.possible!;
    const { density } = mixOf(job, job.pour.granules);
    const said = readQuantity(fits!, "mass");
    expect(isProblem(said) ? 0 : said.value / (pouredVolume(job) * density)).toBeCloseTo(1, 1);
  }
});

test("a mass alone that leaves the masters bare is told with the masses that can be, and those can", () => {
  const asked = (mass: string) => () =>
    measuredPour(
      checkJob(
        parseJobText(
          `{ bait: { thickness: 16 mm }, pour: { mass: ${mass}, box: { length: 150 mm, width: 130 mm } } }`,
        ),
      ).job,
    );
  for (const mass of ["150 g", "200 g", "50 kg"])
    try {
      asked(mass)();
      expect.unreachable();
    } catch (error) {
      const [problem] = (error as InputError).problems;
      // nobody gave a depth: it is not named
      expect(problem).toMatchObject({ code: "mass_out_of_box", path: "pour.mass" });
      expect(asked(problem!.least!)).not.toThrow();
      expect(asked(problem!.most!)).not.toThrow();
    }
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

test("masses are told in the units of either shop, and those that are named as possible are", () => {
  const text = (mass: string) =>
    `{ bait: { thickness: 1 in }, pour: { mass: ${mass}, box: { length: 6 in, width: 5 in } } }`;
  try {
    measuredPour(checkJob(parseJobText(text("1 oz"))).job);
    expect.unreachable();
  } catch (error) {
    const [problem] = (error as InputError).problems;
    const said = problemSentence(problem!);
    const [least, most] = [...said.matchAll(/\(([\d.]+ (?:oz|lb))\)/g)].slice(1).map(([, m]) => m!);
    for (const mass of [least!, most!])
      expect(() => measuredPour(checkJob(parseJobText(text(mass))).job), mass).not.toThrow();
  }
});
