import { expect, test } from "vitest";
import { readSolveProblem, simulate } from "../../../lib/index.ts";
import { erf } from "../../../lib/numerics/special-functions.ts";

const resin = { conductivity: 0.9, density: 1700, specificHeat: 1100 };
const steel = { conductivity: 45, density: 7850, specificHeat: 470 };

test("a probe that rises to the end has its maximum there, as exactly as its value", () => {
  const { probes, extremes } = simulate(
    readSolveProblem({
      frame: "slab",
      materials: { resin },
      layers: [{ name: "plate", material: "resin", thickness: 0.02, initial: 20 }],
      boundary: { right: { temperature: 100 } },
      probes: { far: [0.002] },
      until: 120,
      times: [120],
    }),
  );
  expect(extremes["far"].maxTime).toBe(120);
  expect(extremes["far"].max).toBeCloseTo(probes["far"][0], 9);
});

test.each([0.5, 1, 2])(
  "beside a hotter body a region's hottest is the face at once, resolution %d",
  (resolution) => {
    // Carslaw & Jaeger, section 2.8: weighed by their effusivities
    const [e1, e2] = [resin, steel].map((m) =>
      Math.sqrt(m.conductivity * m.density * m.specificHeat),
    );
    const face = (e1 * 25 + e2 * 175) / (e1 + e2) + 273.15;
    const { extremes } = simulate(
      readSolveProblem({
        frame: "slab",
        materials: { resin, steel },
        layers: [
          { name: "wall", material: "resin", thickness: 0.014, initial: 25 },
          { name: "sheet", material: "steel", thickness: 0.0006, initial: 175 },
        ],
        boundary: { left: { temperature: 20 }, right: { h: 10, ambient: 22 } },
        probes: { hottest: { hottest: "wall" }, coldest: { coldest: "sheet" } },
        until: 5,
        resolution,
      }),
    );
    // the face stays within two thousandths of the span; read from cells of unlike sizes, it is 10 K off
    expect(Math.abs(extremes["hottest"].max - face)).toBeLessThan(0.3);
    expect(extremes["hottest"].maxTime).toBeLessThan(0.01);
  },
);

const kick = { h: 2, ambient: 3, emissivity: 0.9 };

/** A small bar of resin that starts a little warmer in a block of little heat capacity, cooled hard from two sides. */
const coolingBlock = {
  frame: "section",
  materials: {
    wall: { conductivity: 1, density: 500, specificHeat: 400 },
    resin: {
      conductivity: 1,
      density: 1500,
      specificHeat: 1660,
      cure: { law: "nth-order", A: 2e5, E: 60_000, n: 1.5, heat: 130_000, initial: 0 },
    },
  },
  block: { width: 0.05, height: 0.05, material: "wall", initial: 41 },
  shapes: [
    {
      name: "bar",
      rectangle: [0.009185, 0.008911],
      center: [0.029245, 0.012902],
      material: "resin",
      initial: 45,
    },
  ],
  boundary: { left: kick, right: { temperature: 26 }, top: { temperature: 2 } },
  probes: { middle: [0.025, 0.025] },
  until: 600,
  times: [150, 300, 600],
};

test("a place that only cools is coldest at the end, however long the steps are and stiff the cells", () => {
  const { probes, extremes } = simulate({
    ...readSolveProblem(coolingBlock),
    tolerance: 1e-3,
    resolution: 0.7,
  });
  // the tolerance is a share of the span from 2 to 45
  expect(extremes["middle"].min).toBeGreaterThan(probes["middle"][2] - 1e-3 * 43);
});

test.each([0.7, 1, 2])(
  "a place before a front does not cool before it warms, resolution %d",
  (resolution) => {
    const { extremes } = simulate({
      ...readSolveProblem({
        frame: "section",
        materials: { resin, steel },
        block: { width: 0.05, height: 0.05, material: "resin", initial: 28 },
        shapes: [
          {
            name: "pin",
            rectangle: [0.02, 0.02],
            center: [0.02, 0.02],
            material: "steel",
            initial: 78,
          },
        ],
        boundary: {},
        probes: { beside: [0.0322, 0.02], corner: [0.0312, 0.0309] },
        until: 60,
      }),
      resolution,
    });
    for (const name of ["beside", "corner"])
      expect(28 + 273.15 - extremes[name].min, name).toBeLessThan(0.01);
  },
);

test.each([0, 0.4, 1.1, 2, 2.9, 4.4, 5.5])(
  "a place beside a curved outline begins at the temperature of its own body, at %d rad",
  (angle) => {
    const at = (share: number) => [
      0.02 + 0.008 * share * Math.cos(angle),
      0.015 + 0.005 * share * Math.sin(angle),
    ];
    const { probes, extremes } = simulate(
      readSolveProblem({
        frame: "section",
        materials: { resin, steel },
        block: { width: 0.04, height: 0.03, material: "resin", initial: 25 },
        shapes: [
          {
            name: "core",
            ellipse: [0.016, 0.01],
            center: [0.02, 0.015],
            material: "steel",
            initial: 175,
          },
        ],
        boundary: {},
        // in cells that the outline cuts, 0.05 to 0.08 mm beside it
        probes: { inside: at(0.99), outside: at(1.01) },
        until: 1,
        times: [0],
      }),
    );
    expect(probes["inside"][0]).toBeCloseTo(175 + 273.15, 9);
    expect(extremes["inside"].max).toBeCloseTo(175 + 273.15, 9);
    expect(probes["outside"][0]).toBeCloseTo(25 + 273.15, 9);
    expect(extremes["outside"].min).toBeCloseTo(25 + 273.15, 9);
  },
);

test("a region's hottest is a face that is held, though its hottest cell lies at its other end", () => {
  // the cells beside the hotter body get warmer than those beside the face, but not as warm as the face
  const { probes, extremes } = simulate(
    readSolveProblem({
      frame: "slab",
      materials: { resin, light: { conductivity: 0.6, density: 1250, specificHeat: 914 } },
      layers: [
        { name: "thick", material: "resin", thickness: 0.04, initial: 5, contact: 50 },
        { name: "hot", material: "light", thickness: 0.006, initial: 165 },
      ],
      boundary: { left: { temperature: 49 } },
      probes: {
        hottest: { hottest: "thick" },
        beside: [0.04, "left"],
        coldest: { coldest: "thick" },
      },
      until: 10,
      times: [1, 5, 10],
    }),
  );
  for (const T of probes["hottest"]!) expect(T - 273.15).toBeCloseTo(49, 9);
  expect(extremes["hottest"]!.max - 273.15).toBeCloseTo(49, 9);
  // and the face with the other body is between
  expect(probes["beside"]![1]! - 273.15).toBeGreaterThan(5);
  expect(probes["beside"]![1]! - 273.15).toBeLessThan(49);
  expect(extremes["coldest"]!.min - 273.15).toBeCloseTo(5, 6);
});

test.each([1e-2, 1e-3, 1e-4])(
  "a peak that passes between the ends of long steps is found to a fifth of the tolerance and what the answer says, tolerance %f",
  (tolerance) => {
    // a hot layer of half-width a in a cold body without an end: Carslaw & Jaeger, 2nd ed. 1959, section 2.2 (iii)
    const [a, x, start, far] = [0.002, 0.006, 150, 20];
    const diffusivity = resin.conductivity / (resin.density * resin.specificHeat);
    const peakTime = (x * a) / (diffusivity * Math.log((x + a) / (x - a)));
    const u = (d: number) => d / (2 * Math.sqrt(diffusivity * peakTime));
    const peak = far + ((start - far) / 2) * (erf(u(x + a)) - erf(u(x - a)));
    const { extremes, effort } = simulate(
      readSolveProblem({
        frame: "slab",
        materials: { resin },
        layers: [
          { name: "hot", material: "resin", thickness: a, initial: start },
          { name: "cold", material: "resin", thickness: 0.04, initial: far },
        ],
        probes: { there: [x] },
        until: 120,
        tolerance,
      }),
    );
    const off = Math.abs(extremes["there"]!.max - 273.15 - peak);
    const { gridError, timeError } = effort;
    expect(off).toBeLessThan(gridError + timeError + 0.2 * tolerance * (start - far));
    expect(Math.abs(extremes["there"]!.maxTime - peakTime)).toBeLessThan(
      0.02 * peakTime + 0.3 * Math.sqrt(tolerance) * peakTime,
    );
  },
);
