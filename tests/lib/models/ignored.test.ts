/** What shots leave out of account is told: more by the quick look, neighbors only where there are some. */
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { ignoredByShots } from "../../../lib/models/cooling.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";
import { shots } from "../../../lib/questions/shots/shots.ts";

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
    ["filled epoxy", 12, true],
    ["plaster", 12, true],
    ["filled epoxy", 4, false],
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

test("shots in a row warm the block beside a flat bait in any mold: their quick look says so, and by which body it is decided", () => {
  const codes = (bait: string, mold: string) => {
    const { job } = readJob(`{ bait: { length: 100 mm, ${bait} }, mold: { ${mold} } }`);
    return { job, ignored: shots(job, { quick: true, likelyOnly: true }).ignored };
  };
  const sheet = (thick: number) => `stations: [{ width: 40 mm, height: ${thick} mm, form: flat }]`;
  for (const material of ["plaster", "filled epoxy", "silicone", "aluminum"]) {
    const { job, ignored } = codes(sheet(4), `material: ${material}, wall: 12 mm`);
    expect(ignored, material).toContain("sides_of_block");
    const { full, quick } = shots(job, { likelyOnly: true }).answer;
    expect(full!.settled / quick.settled, material).toBeLessThan(0.8);
  }
  // a sheet so wide that its edges are nothing beside it, and a thin tail on a fat body
  const wide = "stations: [{ width: 100 mm, height: 3 mm, form: flat }]";
  expect(codes(wide, "wall: 4 mm").ignored).not.toContain("sides_of_block");
  const tail =
    "stations: [{ at: 30 mm, width: 16 mm, height: 16 mm }, { at: 80 mm, width: 14 mm, height: 3 mm, form: flat }]";
  expect(codes(tail, "wall: 12 mm").ignored).not.toContain("sides_of_block");
});
