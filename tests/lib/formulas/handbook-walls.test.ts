import { expect, test } from "vitest";
import {
  type LumpedShots,
  lumpedAfterShot,
  lumpedLimit,
} from "../../../lib/formulas/lumped-shots.ts";
import { periodicWall } from "../../../lib/formulas/periodic-wall.ts";
import {
  contactAsThickness,
  criticalRadius,
  pinHeat,
  sleeveTemperature,
} from "../../../lib/formulas/resistances.ts";
import { moldBesideSlab, slabCoolingTime, slabInMold } from "../../../lib/formulas/slab-in-mold.ts";
import { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const near = (x: number, expected: number, relative = 1e-8) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);
const within = (x: number, expected: number, absolute: number) =>
  expect(Math.abs(x - expected)).toBeLessThanOrEqual(absolute);

test("hot slab between thick mold halves: middle, face and depths", () => {
  // Carslaw & Jaeger 12.8, image series to 25 digits elsewhere, checked there by finite volumes
  const part = { k: 0.15, c: 2e6, T: 175 + C };
  const mold = { k: 0.8, c: 1.9e6, T: 30 + C };
  const rows: [number, number, number[]][] = [
    [5, 174.999998441, [74.6026799128, 30.661102187, 30]],
    [30, 171.300935948, [74.6025299176, 44.2659092343, 30.0030853062]],
    [120, 127.123281274, [73.4648881821, 57.3389494779, 32.0794086748]],
    [400, 74.9099492766, [62.685569846, 57.8428410502, 41.2414375849]],
  ];
  for (const [t, middle, depths] of rows) {
    near(slabInMold(part, mold, 0.005, 0, t) - C, middle);
    near(slabInMold(part, mold, 0.005, 0.005, t) - C, depths[0]);
    [0, 0.005, 0.02].forEach((d, i) => {
      near(moldBesideSlab(part, mold, 0.005, d, t) - C, depths[i]);
    });
  }
  near(slabCoolingTime(part, mold, 0.005, 60 + C), 700.779329167);
  expect(() => slabCoolingTime(part, mold, 0.005, 20 + C)).toThrow(InputError);
  expect(() => slabInMold(part, mold, 0.005, 0.006, 1)).toThrow(InputError);
});

test("a lumped mold that gets 9 kJ every four minutes", () => {
  // geometric series, by hand
  const shots: LumpedShots = { heat: 9000, capacity: 1500, loss: 0.9, period: 240, air: 22 + C };
  const expected = {
    1: 28,
    2: 33.1953264884,
    5: 44.9620069731,
    10: 56.1388156686,
    20: 64.227248749,
  };
  for (const [n, degC] of Object.entries(expected))
    near(lumpedAfterShot(shots, Number(n)) - C, degC);
  const limit = lumpedLimit(shots);
  near(limit.peak - C, 66.7386417957);
  near(limit.valley - C, 60.7386417957);
  near(limit.mean - C, 63.6666666667);
  near(limit.shotsTo95, 20.8036963441);
  expect(() => lumpedAfterShot(shots, 0)).toThrow(InputError);
  expect(() => lumpedLimit({ ...shots, loss: 0 })).toThrow(InputError);
});

test("a day's swing through 20 cm of concrete", () => {
  // EN ISO 13786:2017, transfer matrix evaluated independently
  const wall = periodicWall(
    [{ thickness: 0.2, k: 1.8, density: 2400, specificHeat: 1000 }],
    0.13,
    0.04,
    86400,
  );
  near(wall.steady, 3.55731225296);
  near(wall.transmitted, 1.82707113317);
  near(wall.decrement, 0.513609996323);
  near(wall.delay / 3600, 5.6756893156);
  near(wall.inside, 86167.7093834);
  near(wall.outside, 170874.913857);
});

test("shot after shot through filled resin on aluminum, 300 s", () => {
  const wall = periodicWall(
    [
      { thickness: 0.015, k: 0.8, density: 1800, specificHeat: 1100 },
      { thickness: 0.008, k: 150, density: 2750, specificHeat: 890 },
    ],
    0.005,
    0.07,
    300,
  );
  near(wall.steady, 10.6606019687);
  near(wall.decrement, 0.0443148379062);
  near(wall.transmitted, 0.472422848223);
  near(wall.delay / 3600, 0.0440143313331);
  near(wall.inside, 4940.6698292);
  near(wall.outside, 699.692181901);
  expect(() => periodicWall([], 0.1, 0.1, 300)).toThrow(InputError);
});

test("pins of copper, aluminum and stainless steel", () => {
  // Incropera et al., example 3.9: 8.3, 5.6, 1.6 W (from memory)
  const pins: [number, number, number, number][] = [
    [398, 8.3, 8.30955339747, 7.41864816058],
    [180, 5.6, 5.58820589951, 5.43395566757],
    [14, 1.6, 1.55847616539, 1.55847546475],
  ];
  for (const [k, printed, long, short] of pins) {
    within(pinHeat({ diameter: 0.005, k, h: 100 }, 75), printed, 0.06);
    near(pinHeat({ diameter: 0.005, k, h: 100 }, 75), long);
    near(pinHeat({ diameter: 0.005, k, h: 100, length: 0.1 }, 75), short);
  }
});

test("a covered wire, its critical radius, and a contact as a thickness", () => {
  // Çengel & Ghajar 5e, example 3-9: 105 degC, 12.5 mm, 90.6 degC (from memory); example 3-4: 2.15 cm
  const wire = { inner: 0.0015, outer: 0.0035, length: 5, k: 0.15, h: 12 };
  within(sleeveTemperature(wire, 80, 30 + C) - C, 105, 0.7);
  near(sleeveTemperature(wire, 80, 30 + C) - C, 105.014629738);
  near(sleeveTemperature({ ...wire, outer: 0.0055 }, 80, 30 + C) - C, 90.6403295097);
  near(criticalRadius(0.15, 12), 0.0125);
  within(contactAsThickness(237, 11000), 0.0215, 0.0001);
  expect(() => criticalRadius(0, 12)).toThrow(InputError);
  expect(() => sleeveTemperature({ ...wire, outer: 0.001 }, 80, 300)).toThrow(InputError);
});
