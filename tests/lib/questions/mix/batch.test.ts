/** A mass of resin that heats itself in its cup is told, what stays cool there is not. */
import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { mix } from "../../../../lib/questions/mix/mix.ts";

const cautionsOf = (material: string, volume: string, more = "") =>
  mix(
    readJob(
      `{ bait: { thickness: 16 mm }, mix: { pours: [{ material: "${material}", volume: ${volume}, ratio: "100:33" }] }${more} }`,
    ).job,
  ).cautions;

test.each(["epoxy, room-cured", "filled epoxy", "polyurethane"])(
  "three liters of %s in one cup are told to heat themselves",
  (material) => {
    expect(cautionsOf(material, "3 l")).toContain("batch_may_smoke");
  },
);

test("a cup no larger than that of the pot life is as the data sheet has it", () => {
  // 50 ml of some 1.1 to 1.2 g/ml and a tenth of waste: below 100 g
  expect(cautionsOf("epoxy, room-cured", "50 ml")).not.toContain("batch_may_smoke");
});

test("silicone can't: all of its heat, 25 kJ/kg at most, over 1 kJ/(kg K) or more, is 25 K", () => {
  for (const material of ["silicone", "tin silicone", "filled silicone"])
    expect(cautionsOf(material, "10 l", ", room: { temperature: 40 degC }")).not.toContain(
      "batch_may_smoke",
    );
});
