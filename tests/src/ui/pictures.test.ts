import { expect, test } from "vitest";
import { rampColor } from "../../../src/ui/outputs/field/color-ramp.ts";
import { extentOf, spanOf, temperatureAt } from "../../../src/ui/outputs/field/grid.ts";
import { isotherms, partPaths } from "../../../src/ui/outputs/field/lines.ts";
import { tickStep } from "../../../src/ui/outputs/tape.tsx";

/** Relative luminance of sRGB, W3C WCAG 2.2. */
function luminance(rgb: readonly number[]): number {
  const [r, g, b] = rgb.map((c) => {
    const s = c / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

/** OKLab of sRGB: Ottosson, A perceptual color space for image processing, 2020. */
function oklab(rgb: readonly number[]): [number, number, number] {
  const [r, g, b] = rgb.map((c) => {
    const s = c / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

test("hotter is always darker, so that a black-and-white print reads the same way", () => {
  const lights = Array.from({ length: 65 }, (_, i) => luminance(rampColor(i / 64)));
  for (let i = 1; i < lights.length; i++) expect(lights[i]!).toBeLessThan(lights[i - 1]!);
});

test("equal steps of temperature are equal steps to the eye, within a fifth", () => {
  const n = 16;
  const labs = Array.from({ length: n + 1 }, (_, i) => oklab(rampColor(i / n)));
  const steps = labs.slice(1).map((b, i) => Math.hypot(...b.map((v, k) => v - labs[i]![k]!)));
  const mean = steps.reduce((a, b) => a + b) / n;
  // chords of a bent path are shorter than its arcs, and colors are whole bytes
  for (const step of steps) expect(Math.abs(step / mean - 1)).toBeLessThan(0.2);
});

const PLATE = { x0: 0, y0: 0, width: 0.1, height: 0.05 };

/** T = 300 + 1000 x over a plate of 0.1 m by 0.05 m: isotherms are upright lines at known places. */
function slope() {
  const across = 50;
  const up = 25;
  const x = Float32Array.from({ length: across + 1 }, (_, i) => (0.1 * i) / across);
  const y = Float32Array.from({ length: up + 1 }, (_, j) => (0.05 * j) / up);
  const temperature = new Float32Array(across * up);
  for (let j = 0; j < up; j++)
    for (let i = 0; i < across; i++)
      temperature[j * across + i] = 300 + 1000 * ((x[i]! + x[i + 1]!) / 2);
  return { time: 0, x, y, temperature };
}

test("an isotherm of a slope stands where the slope has that temperature", () => {
  const [line] = isotherms(slope(), PLATE, [360]);
  const places = [...line!.path.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map((m) => Number(m[1]));
  expect(places.length).toBeGreaterThan(50);
  // 360 K lies at 0.06 of 0.1 m: 600 of 1000
  for (const place of places) expect(Math.abs(place - 600)).toBeLessThan(3);
});

/** A hot disk of 15 mm radius in a plate of 60 mm on cells of 3 mm: a field of cones, and one with a jump at the disk. */
function disk(temperature: (r: number) => number) {
  const n = 20;
  const faces = () => Float32Array.from({ length: n + 1 }, (_, i) => (0.06 * i) / n);
  const middle = (i: number) => (0.06 * (i + 0.5)) / n - 0.03;
  const cells = new Float32Array(n * n);
  for (let j = 0; j < n; j++)
    for (let i = 0; i < n; i++) cells[j * n + i] = temperature(Math.hypot(middle(i), middle(j)));
  return { time: 0, x: faces(), y: faces(), temperature: cells };
}

/** Corners of a path of one closed line, mm from the middle of that plate. */
const cornersOf = (path: string) =>
  [...path.matchAll(/([\d.]+) ([\d.]+)/g)].map((m) => [
    (Number(m[1]) * 60) / 1000 - 30,
    (Number(m[2]) * 60) / 1000 - 30,
  ]);

test.each([
  ["a cone", (r: number) => 400 - 4000 * r, 340, 15, 0.3],
  ["a jump from hot to cool", (r: number) => (r < 0.015 ? 400 : 300), 350, 15, 1.2],
])(
  "on cells a fifth of its radius the isotherm of %s is a smooth round line",
  (_, law, level, radius, within) => {
    const square = { x0: 0, y0: 0, width: 0.06, height: 0.06 };
    const [line] = isotherms(disk(law), square, [level]);
    const corners = cornersOf(line!.path);
    for (const [x, y] of corners)
      expect(Math.abs(Math.hypot(x!, y!) - radius)).toBeLessThan(within);
    // a circle turns by one round in all; one that follows the cells in steps turns to and fro, several rounds
    let turned = 0;
    const n = corners.length;
    for (let i = 0; i < n; i++) {
      const [a, b, c] = [corners[i]!, corners[(i + 3) % n]!, corners[(i + 6) % n]!];
      const one = Math.atan2(b[1]! - a[1]!, b[0]! - a[0]!);
      const two = Math.atan2(c[1]! - b[1]!, c[0]! - b[0]!);
      turned += Math.abs(Math.atan2(Math.sin(two - one), Math.cos(two - one))) / 3;
    }
    expect(turned / (2 * Math.PI)).toBeLessThan(1.6);
  },
);

test("the parts of a section are drawn each in its own way, the bait last, the parting line open", () => {
  const square = [
    [0.02, 0.01],
    [0.04, 0.01],
    [0.04, 0.03],
  ] as [number, number][];
  const field = {
    kind: "field" as const,
    caption: "",
    frames: [slope()],
    outline: [],
    lines: [
      { part: "bait" as const, points: square },
      { part: "parting" as const, points: square.slice(0, 2) },
      { part: "insert" as const, points: square },
    ],
  };
  const drawn = partPaths(field, PLATE);
  expect(drawn.map(({ part }) => part)).toEqual(["insert", "parting", "bait"]);
  // y is up in the section and down in the box: 10 mm from the bottom of 50 is 400 of 500 from the top
  expect(drawn[1]!.path).toBe("M200.0 400.0L400.0 400.0");
  expect(drawn[2]!.path).toBe("M200.0 400.0L400.0 400.0L400.0 200.0Z");
});

test("a reading is the temperature of the cell under the cross; outside there is none", () => {
  const frame = slope();
  expect(temperatureAt(frame, 0.0505, 0.02)).toBeCloseTo(351, 3);
  expect(temperatureAt(frame, 0.1, 0.05)).toBeCloseTo(399, 3);
  expect(temperatureAt(frame, -0.001, 0.02)).toBeUndefined();
  expect(temperatureAt(frame, 0.2, 0.02)).toBeUndefined();
  const field = { kind: "field", caption: "", frames: [frame], outline: [] } as const;
  expect(extentOf({ ...field, frames: [frame], outline: [] }).width).toBeCloseTo(0.1, 6);
  expect(spanOf([frame])).toEqual({ coolest: 301, hottest: 399 });
});

test("ticks of the tape are whole steps of a clock", () => {
  expect(tickStep(420)).toBe(60);
  expect(tickStep(64)).toBe(10);
  expect(tickStep(40_000)).toBe(7200);
});
