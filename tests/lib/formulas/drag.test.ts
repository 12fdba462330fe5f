import { expect, test } from "vitest";
import { cylinderDrag, cylinderEnds, ovalDrag, sphereDrag } from "../../../lib/formulas/drag.ts";
import { freshWater, seaWater, waterViscosity } from "../../../lib/formulas/water.ts";

const off = (found: number, known: number) => Math.abs(found / known - 1);

// measured spheres: table "log CD vs log Re" of the course notes CalcDEMma, module drag, Indiana University of
// Pennsylvania (read); up to where the boundary layer turns turbulent
test.each([
  [0.1585, 169.8],
  [0.4786, 58.88],
  [3.02, 10.86],
  [7.015, 5.623],
  [15.49, 3.388],
  [57.54, 1.479],
  [144.5, 0.9204],
  [264.9, 0.7194],
  [512.9, 0.5623],
  [1000, 0.4786],
  [1862, 0.4365],
  [3162, 0.4074],
  [8375, 0.3981],
  [34670, 0.4775],
  [100000, 0.4624],
])("sphere, Re %d: drag %d", (Re, measured) => {
  expect(off(sphereDrag(Re), measured)).toBeLessThan(0.17);
});

test("a slow sphere: Stokes' 24/Re", () => {
  expect(off(sphereDrag(1e-3), 24 / 1e-3)).toBeLessThan(0.01);
});

// Wieselsberger 1921 and Tritton 1959, as in textbooks' figures; from memory
test.each([
  [1, 10.5],
  [10, 2.8],
  [100, 1.4],
  [1000, 1.0],
  [10_000, 1.1],
  [100_000, 1.2],
])("cylinder across the flow, Re %d: drag %d", (Re, measured) => {
  expect(off(cylinderDrag(Re), measured)).toBeLessThan(0.1);
});

test("short cylinders have less of it, an endless one all", () => {
  expect(cylinderEnds(1e3)).toBeCloseTo(1, 6);
  expect(cylinderEnds(5)).toBeCloseTo(0.74 / 1.2, 6);
  expect(cylinderEnds(0.5)).toBeCloseTo(0.64 / 1.2, 6);
  // Hoerner: 2 to 1 along the flow about half, from memory
  expect(ovalDrag(0.5)).toBeCloseTo(0.5, 1);
});

test("water: the table of the ITS-90 densities, and sea water of 35 g/kg", () => {
  // CRC Handbook of Chemistry and Physics, standard density of water; from memory
  for (const [t, rho] of [
    [4, 999.97],
    [15, 999.1],
    [20, 998.2],
    [25, 997.05],
    [30, 995.65],
  ])
    expect(freshWater(273.15 + t!)).toBeCloseTo(rho!, 1);
  // UNESCO 1983: 1025.97 at 15 degC; from memory
  expect(Math.abs(seaWater(288.15) - 1025.97)).toBeLessThan(0.3);
  // ISO/TR 3666: 1.0016 mPa s at 20 degC
  expect(off(waterViscosity(293.15), 1.0016e-3)).toBeLessThan(0.01);
});
