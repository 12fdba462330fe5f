import { expect, test } from "vitest";
import { readJob } from "../../../lib/job/job.ts";
import { demold } from "../../../lib/questions/demold/demold.ts";

const PARTS = `bait: { stations: [{ at: 40 mm, width: 12 mm, height: 16 mm }] }
mold: { wall: 20 mm, cavities: 2, spacing: 15 mm, inserts: [{ material: aluminum 6061, thickness: 5 mm, distance: 6 mm }] }`;

test("the picture is the whole section, at many times, with bait, inserts and parting line where they are", () => {
  const { job } = readJob(PARTS);
  const { picture, time } = demold(job, { picture: true, further: false }).answer;
  expect(picture).not.toBeNull();
  const { fields, lines, width, height } = picture!;
  // two baits of 12 mm, 15 mm between, 20 mm of wall at both sides; 16 mm between two walls of 20 mm
  expect(width).toBeCloseTo(0.079, 6);
  expect(height).toBeCloseTo(0.056, 6);
  expect(fields.length).toBeGreaterThanOrEqual(24);
  expect(fields.at(-1)!.time).toBeCloseTo(time.value, 0);
  const { x, y, temperature } = fields[4]!;
  expect(x.at(-1)).toBeCloseTo(width, 5);
  expect(y.at(-1)).toBeCloseTo(height, 5);
  // both mirrors: the field is its own image
  const [across, up] = [x.length - 1, y.length - 1];
  for (const [i, j] of [
    [0, 0],
    [across >> 2, up >> 2],
    [(across >> 1) - 1, 3],
  ] as const) {
    const here = temperature[j * across + i]!;
    expect(temperature[j * across + across - 1 - i]).toBe(here);
    expect(temperature[(up - 1 - j) * across + i]).toBe(here);
  }
  const boxes = (part: string) =>
    lines
      .filter((l) => l.part === part)
      .map(({ points }) => {
        const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
        return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)].map((m) =>
          Math.round(m * 1000),
        );
      })
      .sort((a, b) => a[0]! - b[0]! || a[2]! - b[2]!);
  expect(boxes("bait")).toEqual([
    [20, 32, 20, 36],
    [47, 59, 20, 36],
  ]);
  expect(boxes("insert")).toEqual([
    [0, 79, 9, 14],
    [0, 79, 42, 47],
  ]);
  expect(boxes("parting")).toEqual([
    [0, 20, 28, 28],
    [32, 47, 28, 28],
    [59, 79, 28, 28],
  ]);
}, 60_000);
