import { expect, test } from "vitest";
import { agingSpeed, doseOfCourse, lifeLeft, thermalDose } from "../../../lib/cure/dose.ts";
import {
  bondByTemperature,
  coldestFirstLayer,
  degreeOfHealing,
  GUESSED_HEALING,
  healingTime,
} from "../../../lib/cure/healing.ts";
import { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const seen = { duration: 3600, T: 180 + C, energy: 150e3 };

test("aging against 180 degC with 150 kJ/mol", () => {
  // worked out by hand from the Arrhenius factor; two digits
  const rows = [
    [150, 0.059],
    [160, 0.16],
    [165, 0.26],
    [170, 0.41],
    [175, 0.64],
    [180, 1],
    [185, 1.5],
    [190, 2.4],
    [200, 5.4],
    [210, 12],
  ];
  for (const [degC, speed] of rows) {
    expect(Math.abs(agingSpeed(degC + C, 180 + C) / speed - 1)).toBeLessThan(0.04);
  }
});

test("doses add up, whatever their order, and the life left follows", () => {
  const heats = [
    { duration: 600, T: 190 + C },
    { duration: 1200, T: 170 + C },
  ];
  const dose = thermalDose(heats, seen);
  expect(dose).toBeCloseTo(thermalDose([...heats].reverse(), seen), 12);
  expect(lifeLeft(heats, seen, 180 + C)).toBeCloseTo(3600 * (1 - dose), 6);
  expect(lifeLeft([{ duration: 3601, T: 180 + C }], seen, 160 + C)).toBe(0);
  // a course that stays at one temperature is that heat
  const course = doseOfCourse([0, 600], [190 + C, 190 + C], seen);
  expect(course).toBeCloseTo(thermalDose([heats[0]], seen), 12);
});

test("a straight rise: the dose is the integral", () => {
  // reference: the plain sum over 200 000 short steps
  let sum = 0;
  const n = 200_000;
  for (let i = 0; i < n; i++) sum += agingSpeed(150 + C + (50 * (i + 0.5)) / n, 180 + C) / n;
  const dose = doseOfCourse([0, 3600], [150 + C, 200 + C], seen);
  expect(Math.abs(dose / sum - 1)).toBeLessThan(1e-6); // Simpson on pieces of 2 K: 2e-7
});

test("healing: fourth root of time, at most whole, none below the gate", () => {
  const T = 150 + C;
  expect(degreeOfHealing([0, 1], [T, T], GUESSED_HEALING)).toBeCloseTo(1, 12);
  // reptation: sixteen times less time, half the strength
  expect(degreeOfHealing([0, 1 / 16], [T, T], GUESSED_HEALING)).toBeCloseTo(0.5, 12);
  expect(degreeOfHealing([0, 100], [T, T], GUESSED_HEALING)).toBe(1);
  expect(degreeOfHealing([0, 100], [T, T], GUESSED_HEALING, T + 1)).toBe(0);
  expect(healingTime(GUESSED_HEALING, T - 20)).toBeGreaterThan(GUESSED_HEALING.duration);
});

test("bond by the interface temperature, and the coldest first layer for it", () => {
  expect(bondByTemperature(131 + C)).toBe("good");
  expect(bondByTemperature(120 + C)).toBe("marginal");
  expect(bondByTemperature(109 + C)).toBe("poor");
  // equal materials meet at the mean: 177 degC on 83 degC gives 130
  expect(coldestFirstLayer(130 + C, 177 + C) - C).toBeCloseTo(83, 9);
  expect(coldestFirstLayer(110 + C, 165 + C) - C).toBeCloseTo(55, 9);
});

test("broken courses are refused with every problem", () => {
  try {
    degreeOfHealing([0, 2, 1], [400, Number.NaN, -3], GUESSED_HEALING);
    expect.unreachable();
  } catch (error) {
    expect((error as InputError).problems.map((p) => p.code)).toEqual([
      "time_runs_back",
      "temperature_impossible",
      "temperature_impossible",
    ]);
  }
  expect(() => thermalDose([{ duration: -1, T: 400 }], seen)).toThrow(InputError);
  expect(() => agingSpeed(Number.NaN, 400)).toThrow(InputError);
});
