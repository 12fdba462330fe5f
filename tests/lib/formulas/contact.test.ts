import { expect, test } from "vitest";
import {
  contactFlux,
  contactHeat,
  contactTemperature,
  effusivity,
  type ThickBody,
  temperatureNearContact,
  thickBodyHeated,
  thickBodyHeld,
  thickBodyInAir,
} from "../../../lib/formulas/contact.ts";
import { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const near = (x: number, expected: number, relative = 1e-8) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);
const within = (x: number, expected: number, absolute: number) =>
  expect(Math.abs(x - expected)).toBeLessThanOrEqual(absolute);
const PERFECT = Number.POSITIVE_INFINITY;
const melt: ThickBody = { k: 0.15, c: 2e6, T: 175 + C };
const mold: ThickBody = { k: 0.8, c: 1.9e6, T: 30 + C };

test("a hand on aluminum and on wood at 15 degC", () => {
  // Çengel & Ghajar 5e, section 4-3: effusivity 1100, 24000, 380; prints 15.9 and 30 degC
  const body = (e: number, degC: number): ThickBody => ({ k: e, c: e, T: degC + C });
  within(contactTemperature(body(1100, 35), body(24000, 15)) - C, 15.9, 0.06);
  within(contactTemperature(body(1100, 35), body(380, 15)) - C, 30, 0.2);
  near(contactTemperature(body(1100, 35), body(24000, 15)) - C, 15.8764940239);
});

test("plastisol of 170 degC on molds of 25, 45, 70 degC", () => {
  // worked out by hand from the effusivities; whole degrees
  const plastisol = (degC: number): ThickBody => ({ k: 513, c: 513, T: degC + C });
  const filled = (k: number): ThickBody => ({ k, c: 1.9e6, T: 0 });
  for (const [degC, k08] of [
    [25, 67],
    [45, 81],
    [70, 99],
  ])
    within(contactTemperature(plastisol(170), { ...filled(0.8), T: degC + C }) - C, k08, 1);
  for (const [degC, mean] of [
    [25, 98],
    [45, 108],
    [70, 120],
  ])
    within(contactTemperature(plastisol(170), plastisol(degC)) - C, mean, 0.6);
});

test("perfect contact: interface, profiles, flux", () => {
  // Carslaw & Jaeger 2.15, evaluated to 25 digits elsewhere
  near(effusivity(melt), 547.722557505);
  near(contactTemperature(melt, mold) - C, 74.6026799128);
  const rows: [number, number[], number[], number][] = [
    [
      1,
      [155.251284667, 174.999975728, 175],
      [56.1303988533, 31.3067824473, 30.0000022641],
      31024.7157616,
    ],
    [
      10,
      [106.419454235, 164.712242952, 174.995526588],
      [68.5010870596, 51.8863514066, 33.7862065574],
      9810.87655659,
    ],
    [
      60,
      [87.8920387672, 124.300851777, 165.403953412],
      [72.1014467427, 64.720060124, 51.4894642325],
      4005.27358218,
    ],
  ];
  for (const [t, inMelt, inMold, q] of rows) {
    near(contactFlux(melt, mold, PERFECT, t), q);
    [0.0005, 0.002, 0.005].forEach((x, i) => {
      near(temperatureNearContact(melt, mold, x, PERFECT, t) - C, inMelt[i]);
      near(temperatureNearContact(mold, melt, x, PERFECT, t) - C, inMold[i]);
    });
  }
});

test("contact conductance 400 W/(m2 K): flux, heat passed, both faces and depths", () => {
  const rows: [number, number, number, number[], number[]][] = [
    [
      1,
      23958.5217011,
      31449.678594,
      [116.07460012, 174.678991131, 175],
      [56.1782958676, 35.5188815165, 30.0001400066],
    ],
    [
      5,
      12867.4180944,
      98177.2438686,
      [96.8760297941, 158.840327499, 174.999843701],
      [64.7074845582, 50.1321017155, 31.3115475581],
    ],
    [
      30,
      5583.00656612,
      292741.300979,
      [84.2667988312, 119.199827811, 170.375241489],
      [70.3092824159, 63.4568305873, 46.149570248],
    ],
  ];
  for (const [t, q, heat, inMelt, inMold] of rows) {
    near(contactFlux(melt, mold, 400, t), q);
    near(contactHeat(melt, mold, 400, t), heat);
    [0, 0.001, 0.004].forEach((x, i) => {
      near(temperatureNearContact(melt, mold, x, 400, t) - C, inMelt[i]);
      near(temperatureNearContact(mold, melt, x, 400, t) - C, inMold[i]);
    });
  }
});

test("steel face held and heated", () => {
  // Holman, Heat Transfer 10e, example 4-2: prints 118.5, 79.3 and 199.4 degC (from memory)
  const steel: ThickBody = { k: 45, c: 45 / 1.4e-5, T: 35 + C };
  within(thickBodyHeld(steel, 250 + C, 0.025, 30) - C, 118.5, 0.3);
  within(thickBodyHeated(steel, 3.2e5, 0.025, 30) - C, 79.3, 0.3);
  within(thickBodyHeated(steel, 3.2e5, 0, 30) - C, 199.4, 0.4);
  near(thickBodyHeld(steel, 250 + C, 0.025, 30) - C, 118.498982069);
  near(thickBodyHeated(steel, 3.2e5, 0.025, 30) - C, 79.3141588007);
});

test("aluminum in air", () => {
  // Holman 10e, example 4-5: about 3000 s by chart; the closed form gives 123.16 degC there and 120 at 3561 s
  const aluminum: ThickBody = { k: 215, c: 215 / 8.4e-5, T: 200 + C };
  const at = (x: number, t: number) => thickBodyInAir(aluminum, 70 + C, 525, x, t) - C;
  near(at(0.04, 3000), 123.161614418);
  near(at(0.04, 1000), 144.44397261);
  near(at(0, 1000), 137.979476282);
  near(at(0.04, 3561.13164703), 120);
});

test("soil that freezes from above: depth of 0 degC after 60 days", () => {
  // Incropera et al., example 5.6: 0.68 m (from memory)
  const soil: ThickBody = { k: 0.52, c: 2050 * 1840, T: 20 + C };
  near(thickBodyHeld(soil, -15 + C, 0.676613228249, 5184000), C, 1e-9);
});

test("what is not positive is refused", () => {
  expect(() => contactFlux(melt, { ...mold, k: 0 }, 400, 1)).toThrow(InputError);
  expect(() => contactFlux(melt, mold, Number.NaN, 1)).toThrow(InputError);
  expect(() => temperatureNearContact(melt, mold, -1e-3, 400, 1)).toThrow(InputError);
});
