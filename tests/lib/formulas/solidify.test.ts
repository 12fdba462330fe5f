import { expect, test } from "vitest";
import {
  type Freezing,
  neumannRoot,
  schwarzRoot,
  stefanRoot,
} from "../../../lib/formulas/solidify.ts";
import { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const near = (x: number, expected: number, relative = 1e-8) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);

test("one-phase roots by Stefan number", () => {
  // Carslaw & Jaeger ch. 11; St = 1: 0.620063 is the value usually quoted (from memory)
  const rows = [
    [0.01, 0.0705932765604],
    [0.05, 0.156820922335],
    [0.1, 0.220016272743],
    [0.2, 0.306423905361],
    [0.5, 0.464785920646],
    [1, 0.620062633314],
    [2, 0.800601362806],
  ];
  for (const [st, lambda] of rows) near(stefanRoot(st), lambda, 1e-9);
  near(stefanRoot((2e6 * 40) / (900 * 180000)), 0.462276366582);
  expect(() => stefanRoot(0)).toThrow(InputError);
});

const melt: Freezing = {
  kSolid: 0.22,
  cSolid: 1.9e6,
  kLiquid: 0.16,
  cLiquid: 2e6,
  density: 950,
  latentHeat: 120000,
  melting: 80 + C,
  liquid: 150 + C,
};

test("two phases on a cold face, and against a thick mold", () => {
  const lambda = neumannRoot(melt, 30 + C);
  near(lambda, 0.327886960067);
  near(2 * lambda * Math.sqrt((0.22 / 1.9e6) * 30), 0.00122221978094);
  const against = schwarzRoot({ ...melt, liquid: 160 + C }, { k: 0.8, c: 1.9e6, T: 25 + C });
  near(against.lambda, 0.0869787126669);
  near(against.face - C, 71.3476291308);
});

test("without superheat the two-phase root is the one-phase root", () => {
  const stefan = (1.9e6 * 50) / (950 * 120000);
  near(neumannRoot({ ...melt, liquid: 80 + C }, 30 + C), stefanRoot(stefan), 1e-12);
  expect(() => neumannRoot({ ...melt, liquid: 20 + C }, 30 + C)).toThrow(InputError);
});
