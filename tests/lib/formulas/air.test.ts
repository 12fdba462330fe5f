import { expect, test } from "vitest";
import {
  type AirProperties,
  airProperties,
  fanCoefficient,
  hotFaceDown,
  hotFaceUp,
  levelPipe,
  radiationCoefficient,
  rayleigh,
  stillAirCoefficient,
  verticalAny,
  verticalLaminar,
} from "../../../lib/formulas/air.ts";
import { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const within = (x: number, expected: number, absolute: number) =>
  expect(Math.abs(x - expected)).toBeLessThanOrEqual(absolute);
const near = (x: number, expected: number, relative: number) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);

test("square plate 0.6 m, 90 degC in 30 degC air: upright, facing up, facing down", () => {
  // Çengel & Ghajar, Heat and Mass Transfer 5e, example 9-2
  const air: AirProperties = { k: 0.02808, nu: 1.896e-5, Pr: 0.7202, beta: 1 / 333 };
  const Ra = rayleigh(air, 60, 0.6);
  near(Ra, 7.649e8, 1e-3);
  const upright = verticalAny(Ra, air.Pr);
  within(upright, 113.3, 0.2);
  within((upright * air.k) / 0.6, 5.302, 0.01);
  within(((upright * air.k) / 0.6) * 0.36 * 60, 115, 0.6);
  const level = rayleigh(air, 60, 0.15);
  within(hotFaceUp(level), 31.75, 0.05);
  within((hotFaceUp(level) * air.k) / 0.15, 5.944, 0.01);
  within(hotFaceDown(level), 15.87, 0.03);
  within((hotFaceDown(level) * air.k) / 0.15, 2.971, 0.005);
  // the same formulas, all digits
  near(Ra, 764902757.268, 1e-10);
  near(upright, 113.344693409, 1e-10);
  near((hotFaceUp(level) * air.k) / 0.15, 5.94369023437, 1e-10);
  near((hotFaceDown(level) * air.k) / 0.15, 2.97184511718, 1e-10);
});

test("level pipe 8 cm, 70 degC in 20 degC air", () => {
  // Çengel & Ghajar 5e, example 9-1: Nu 17.39, h 5.867
  const air: AirProperties = { k: 0.02699, nu: 1.75e-5, Pr: 0.7241, beta: 1 / 318 };
  const Ra = rayleigh(air, 50, 0.08);
  near(Ra, 1.867e6, 2e-3);
  within(levelPipe(Ra, air.Pr), 17.39, 0.03);
  within((levelPipe(Ra, air.Pr) * air.k) / 0.08, 5.867, 0.01);
  near(levelPipe(Ra, air.Pr), 17.3940037448, 1e-10);
});

test("a small mold, 70 degC in 20 degC air: side, top, bottom", () => {
  // correlations as above, with air given: nu 1.72e-5, diffusivity 2.44e-5, so that nu2/Pr stands for nu times it
  const nu = 1.72e-5;
  const Ra = (length: number) => (9.81 * 0.00314317146 * 50 * length ** 3) / (nu * 2.44e-5);
  near(Ra(0.12), 6347936.13886, 1e-9);
  near((verticalAny(Ra(0.12), 0.705) * 0.0273) / 0.12, 6.23980960597, 1e-9);
  near((verticalLaminar(Ra(0.12), 0.705) * 0.0273) / 0.12, 6.02236188676, 1e-9);
  near((hotFaceUp(Ra(0.0375)) * 0.0273) / 0.0375, 8.24747091483, 1e-9);
  near((hotFaceDown(Ra(0.0375)) * 0.0273) / 0.0375, 4.12373545741, 1e-9);
});

test("radiation: exact law between 40, 80, 160 degC and a room of 22 degC", () => {
  const rows = [
    [40, 5.74854327166],
    [80, 7.00833004219],
    [160, 10.2111465031],
  ];
  for (const [degC, h] of rows) near(radiationCoefficient(0.9, degC + C, 22 + C), h, 1e-10);
});

test("a 100 mm block in a room of 22 degC: about what a handbook table gives", () => {
  // worked out by hand with tabled air at 40, 60, 80, 100 degC: side 5.0, 6.0, 6.6, 7.0; two figures.
  // Air from another table moves the last figure
  const side = [5.0, 6.0, 6.6, 7.0];
  const up = [7.2, 8.6, 9.5, 10.1];
  const down = [3.6, 4.3, 4.7, 5.1];
  const radiation = [5.9, 6.5, 7.2, 7.9];
  [40, 60, 80, 100].forEach((degC, i) => {
    const of = (facing: "side" | "up" | "down", length: number) =>
      stillAirCoefficient({ facing, length, surface: degC + C, air: 22 + C, emissivity: 0.92 });
    near(of("side", 0.1).convection, side[i], 0.03);
    near(of("up", 0.025).convection, up[i], 0.03);
    near(of("down", 0.025).convection, down[i], 0.03);
    near(of("side", 0.1).radiation, radiation[i], 0.01);
  });
});

test("a desk fan: 12, 18, 22, 25 at 1 to 4 m/s", () => {
  // laminar plate of 0.1 m, worked out by hand with slightly cooler air; whole numbers, so to 4 %
  [12, 18, 22, 25].forEach((h, i) => {
    near(fanCoefficient(i + 1, 0.1, 300), h, 0.04);
  });
  near(fanCoefficient(2, 0.1, 300, 1.5) / fanCoefficient(2, 0.1, 300), 1.5, 1e-12);
});

test("a cold face swaps up and down, and equal temperatures leave radiation", () => {
  const cold = { length: 0.05, surface: 283.15, air: 303.15, emissivity: 0 };
  const hot = { length: 0.05, surface: 303.15, air: 283.15, emissivity: 0 };
  near(
    stillAirCoefficient({ ...cold, facing: "down" }).total,
    stillAirCoefficient({ ...hot, facing: "up" }).total,
    1e-9,
  );
  const still = stillAirCoefficient({
    facing: "up",
    length: 0.05,
    surface: 300,
    air: 300,
    emissivity: 0.9,
  });
  expect(still.convection).toBe(0);
  expect(still.total).toBeGreaterThan(5);
});

test("air is the table at its points and straight between; outside it is refused", () => {
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: the table's Prandtl number, not 1/sqrt(2)
  expect(airProperties(300)).toEqual({ k: 0.0263, nu: 15.89e-6, Pr: 0.707, beta: 1 / 300 });
  near(airProperties(325).k, (0.0263 + 0.03) / 2, 1e-12);
  expect(() => airProperties(240)).toThrow(InputError);
  expect(() => airProperties(Number.NaN)).toThrow(InputError);
  try {
    stillAirCoefficient({ facing: "up", length: 0, surface: Number.NaN, air: 22, emissivity: 1.2 });
    expect.unreachable();
  } catch (error) {
    expect((error as InputError).problems.map((p) => p.path)).toEqual([
      "length",
      "surface",
      "air",
      "emissivity",
    ]);
  }
});
