import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { pourPicture } from "../../../../lib/models/pour/picture.ts";
import { settingOf } from "../../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN } from "../../../../lib/models/pour/resin.ts";
import { pourRuns } from "../../../../lib/models/pour/runs.ts";

test("a pour's picture is the whole box with its masters, from the pour until past the peak that is told", () => {
  const text = `bait: { thickness: 16 mm }
pour: { depth: 30 mm, box: { width: 120 mm, wall: 12 mm }, masters: { count: 2, width: 16 mm, height: 8 mm } }`;
  const { job } = readJob(text);
  const runs = pourRuns(job);
  const resin = runs.resin(LIKELY_RESIN);
  const setting = settingOf(job);
  const peak = runs.sectionPeak(resin, setting);
  const { width, height, fields, lines } = runs.picture(resin, setting, peak.time);
  expect(width).toBeCloseTo(0.144, 9);
  const masters = lines.filter(({ part }) => part === "master");
  expect(masters).toHaveLength(2);
  // bedded to the widest line: as wide as typed, and as high above it as below
  const [x, y] = [0, 1].map((axis) => masters[0]!.points.map((p) => p[axis]!));
  expect(Math.max(...x!) - Math.min(...x!)).toBeCloseTo(0.016, 4);
  expect(Math.max(...y!) - Math.min(...y!)).toBeCloseTo(0.016, 4);
  expect(fields).toHaveLength(30);
  for (const { x: faces, y: rows } of fields) {
    expect(faces.at(-1)).toBeCloseTo(width, 6);
    expect(rows.at(-1)).toBeCloseTo(height, 6);
  }
  const hottest = Math.max(...fields.map(({ temperature }) => Math.max(...temperature)));
  expect(Math.abs(hottest - peak.value)).toBeLessThan(2);
  expect(fields.at(-1)!.time).toBeGreaterThan(1.9 * peak.time);
});

test("masters, a plate and what else is cut are drawn each as itself, within the box", () => {
  const [width, height] = [0.1, 0.06];
  const rectangle = (x: number, w: number) =>
    ({ kind: "rectangle", size: [w, 0.01], center: [x, 0.02] }) as const;
  const shape = (material: string, x: number, w = 0.01) => ({
    name: `${material} ${x}`,
    material,
    outline: rectangle(x, w),
    initial: 293,
  });
  const { lines, ...size } = pourPicture(
    {
      block: { width, height, material: "resin", initial: 293 },
      // the last one half outside
      shapes: [shape("master", 0.02), shape("plate", 0.05), shape("resin", 0.1, 0.02)],
    },
    [],
  );
  expect(size).toEqual({ fields: [], width, height });
  expect(lines.map(({ part }) => part)).toEqual(["master", "insert", "edge"]);
  const spans = lines.map(({ points }) => {
    const xs = points.map(([x]) => x);
    return [points.length, Math.min(...xs), Math.max(...xs)];
  });
  const expected = [
    [4, 0.015, 0.025],
    [4, 0.045, 0.055],
    [4, 0.09, 0.1],
  ];
  spans.flat().forEach((v, i) => {
    expect(v).toBeCloseTo(expected.flat()[i]!, 9);
  });
});
