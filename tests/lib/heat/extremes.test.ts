import { expect, test } from "vitest";
import { readSolveProblem, simulate } from "../../../lib/index.ts";

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
