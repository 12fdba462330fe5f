/** What shots leave out of account is told: more by the quick look, neighbors only where there are some. */
import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { ignoredByShots } from "../../../lib/models/cooling.ts";

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
