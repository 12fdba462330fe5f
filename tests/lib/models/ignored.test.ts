/** What shots leave out of account is told: more by the quick look, neighbors only where there are some. */
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { ignoredByShots } from "../../../lib/models/cooling.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";

test("codes of what is left out", () => {
  const of = (quick: boolean, cavities: number) =>
    ignoredByShots(
      quick,
      readJob(`{ bait: { thickness: 16 mm }, mold: { wall: 20 mm, cavities: ${cavities} } }`).job,
    );
  const always = [
    "fill_time",
    "shrink_gap",
    "constant_contact",
    "runner_heat",
    "bench_below",
    "air_drafts",
  ];
  expect(of(false, 1)).toEqual(always);
  expect(of(false, 3)).toEqual(always);
  const quickly = ["one_dimension", "corners_of_block", "mold_ends"];
  expect(of(true, 1)).toEqual([...quickly, ...always]);
  expect(of(true, 2)).toEqual([...quickly, "neighbor_cavities", ...always]);
});

// the quick look has a wall of even thickness; the block has metal beside the bait, too, which takes as much heat
test("where a flat bait's quick look is far from its section, it says why", () => {
  for (const [material, thickness, told] of [
    ["steel", 20, true],
    ["aluminum", 20, true],
    ["aluminum", 12, true],
    ["filled epoxy", 12, false],
    ["steel", 3, false],
  ] as const) {
    const { job } = readJob(
      `{ bait: { thickness: ${thickness} mm, width: 60 mm, length: 100 mm, form: flat }, mold: { material: ${material}, wall: 15 mm } }`,
    );
    const where = `${material}, ${thickness} mm`;
    const { answer, ignored } = demold(job, { quick: true, likelyOnly: true });
    expect(ignored.includes("sides_of_block"), where).toBe(told);
    const full = demold(job, { likelyOnly: true });
    expect(full.ignored, where).not.toContain("sides_of_block");
    // late, and so safe; without the sentence by less than a third
    const share = full.answer.time.value / answer.time.value;
    if (!told) expect(share, where).toBeGreaterThan(2 / 3);
    else expect(share, where).toBeLessThan(0.8);
  }
});
