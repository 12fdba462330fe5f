import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { sharesInSection } from "../../../../lib/models/layer/judged-edge.ts";
import { JUDGED_UP_TO } from "../../../../lib/models/layer/section.ts";

function sharesOf(bait: string, layer: string) {
  const { job } = readJob(`bait: ${bait}\nlayer: ${layer}`);
  return sharesInSection(job.bait.stations[0], job.layer);
}

test("a lining has as much less within it as it takes of the half thickness", () => {
  const shares = sharesOf("{ thickness: 16 mm }", "{ form: skin, depth: 2 mm }");
  expect(shares.opening).toBe(1);
  expect(shares.closing).toBeCloseTo(1 - 2 / 8, 9);
});

test("a lining that leaves hardly anything within it closes in a quarter of its time at the least", () => {
  expect(sharesOf("{ thickness: 16 mm }", "{ form: skin, depth: 7.2 mm }").closing).toBe(0.25);
});

test("a wide flat color is as one dimension has it, but for what is taken off to be on the safe side", () => {
  const bait = "{ form: flat, thickness: 8 mm, width: 120 mm }";
  const shares = sharesOf(bait, "{ form: belly, depth: 2 mm }");
  expect(shares.opening).toBe(1);
  expect(shares.closing).toBeCloseTo(0.85, 3);
});

test("beside the wall of a narrow color it is nearer to the mold than it is deep: it closes sooner", () => {
  const wide = sharesOf(
    "{ form: flat, thickness: 16 mm, width: 120 mm }",
    "{ form: belly, depth: 6 mm }",
  );
  const narrow = sharesOf(
    "{ form: flat, thickness: 16 mm, width: 17 mm }",
    "{ form: belly, depth: 6 mm }",
  );
  expect(narrow.closing).toBeLessThan(wide.closing);
  expect(narrow.opening).toBeLessThan(wide.opening);
});

test("the half of a round bait: at its judged edge as near to the mold as the circle is", () => {
  const [radius, depth] = [8, 8];
  const { closing } = sharesOf("{ thickness: 16 mm }", "{ form: belly, depth: 8 mm }");
  // the chord through the middle is judged up to a share of its half, x: the arc is radius - x away, the depth there sqrt(r^2 - x^2)
  const least = (share: number) => {
    const x = share * radius;
    return (0.85 * (radius - x) * Math.sqrt(radius ** 2 - x ** 2)) / depth ** 2;
  };
  expect(closing).toBeCloseTo(Math.max(0.25, least(JUDGED_UP_TO)), 2);
});

test("past the middle of a bait a color is as wide as it is below, and no nearer to the mold than there", () => {
  const [radius, depth] = [8, 12];
  const { opening, closing } = sharesOf("{ thickness: 16 mm }", "{ form: belly, depth: 12 mm }");
  // widest at its middle, half of a half deeper than that
  expect(opening).toBeCloseTo(
    (1.1 + 0.1 * (depth / radius - 1)) / Math.hypot(1, depth / radius),
    3,
  );
  expect(closing).toBeCloseTo(
    sharesOf("{ thickness: 16 mm }", "{ form: belly, depth: 8 mm }").closing,
    3,
  );
  // between straight walls the edge of what is judged gets farther from the parting line: 7.5 mm aside, 3 mm and more above it
  const flat = "{ form: flat, thickness: 12 mm, width: 30 mm }";
  const near = Math.hypot(7.5, 4.8);
  const { closing: high } = sharesOf(flat, "{ form: belly, depth: 10.8 mm }");
  expect(high).toBeCloseTo((0.85 * near) / 10.8, 3);
});
