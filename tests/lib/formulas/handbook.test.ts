import { expect, test } from "vitest";
import {
  BESSEL_ZERO,
  coolingTime,
  type MoldedBody,
  plateBetween,
} from "../../../lib/formulas/cooling-time.ts";
import {
  bodyTheta,
  coolingFourier,
  modes,
  type SimpleBody,
} from "../../../lib/formulas/handbook.ts";
import { InputError } from "../../../lib/units/problem.ts";

const C = 273.15;
const HELD = Number.POSITIVE_INFINITY;
const near = (x: number, expected: number, relative: number) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);
const within = (x: number, expected: number, absolute: number) =>
  expect(Math.abs(x - expected)).toBeLessThanOrEqual(absolute);

// zeta1 and C1 by Biot number; Çengel & Ghajar 5e table 4-2 prints four digits that agree; more by series to 40 digits
const FIRST: Record<SimpleBody, [number, number, number][]> = {
  wall: [
    [0.01, 0.09983363855113, 1.001660844126],
    [0.1, 0.3110528482003, 1.016094216797],
    [1, 0.8603335890194, 1.119132008405],
    [5, 1.313837716493, 1.240249309001],
    [100, 1.555245129256, 1.273087619846],
    [HELD, Math.PI / 2, 1.273239544735],
  ],
  cylinder: [
    [0.01, 0.1412447637298, 1.00249582903],
    [0.1, 0.4416817828748, 1.024579358855],
    [1, 1.255783711795, 1.207092058392],
    [5, 1.98981471472, 1.502869102664],
    [100, 2.380901663491, 1.601523874057],
    [HELD, 2.404825557696, 1.601974696928],
  ],
  sphere: [
    [0.01, 0.1730319871333, 1.002998061806],
    [0.1, 0.5422808854162, 1.029797705226],
    [1, Math.PI / 2, 1.273239544735],
    [5, 2.570431560336, 1.787000862722],
    [100, 3.110186953171, 1.999033473393],
    [HELD, Math.PI, 2.0],
  ],
};
const BODIES: SimpleBody[] = ["wall", "cylinder", "sphere"];

test.each(BODIES)("%s: first eigenvalue and coefficient", (body) => {
  for (const [biot, zeta, c] of FIRST[body]) {
    near(modes(body, biot, 1)[0].zeta, zeta, 1e-9);
    near(modes(body, biot, 1)[0].C, c, 1e-9);
  }
});

test("six eigenvalues at Bi = 1", () => {
  const zetas: Record<SimpleBody, number[]> = {
    wall: [
      0.860333589019, 3.42561845948, 6.43729817917, 9.52933440536, 12.6452872239, 15.7712848748,
    ],
    cylinder: [
      1.25578371179, 4.0794777108, 7.15579917464, 10.2709853619, 13.3983974864, 16.5311589326,
    ],
    sphere: [
      1.5707963268, 4.71238898038, 7.85398163397, 10.9955742876, 14.1371669411, 17.2787595947,
    ],
  };
  for (const body of BODIES)
    modes(body, 1, 6).forEach(({ zeta }, i) => {
      near(zeta, zetas[body][i], 1e-9);
    });
});

// theta at Fo 0.005, 0.05, 0.2, 1: center, half way, surface, mean; full series to 40 digits
const SERIES: [SimpleBody, number, number | "mean", number[]][] = [
  ["wall", 1, 0, [1, 0.999750955058, 0.950641778505, 0.533859401409]],
  ["wall", 1, 1, [0.924957570575, 0.790376763649, 0.643390784477, 0.348176851662]],
  ["wall", 1, "mean", [0.995253973345, 0.957309984127, 0.851595457687, 0.470397248865]],
  ["wall", HELD, 0.5, [0.999999426697, 0.886151600557, 0.55317589185, 0.0763513004751]],
  ["wall", HELD, "mean", [0.92021154392, 0.747686747822, 0.495912179797, 0.0687403215367]],
  ["cylinder", 1, 0.5, [0.999999984979, 0.979087738838, 0.793802902734, 0.225399407304]],
  ["cylinder", 1, "mean", [0.990519817155, 0.915693173729, 0.71851625867, 0.203347045666]],
  ["cylinder", HELD, 0, [1, 0.987099220217, 0.501486860607, 0.00493230473089]],
  ["sphere", 1, 0.5, [0.999999978615, 0.969268643391, 0.698324431106, 0.0972134949412]],
  ["sphere", 1, 1, [0.92021154392, 0.747686747822, 0.495912179797, 0.0687403215367]],
  ["sphere", HELD, "mean", [0.775634631759, 0.393060243321, 0.0845044338923, 3.14439266875e-5]],
];
test.each(SERIES)("%s, Bi %d, at %s: theta over time", (body, biot, where, expected) => {
  [0.005, 0.05, 0.2, 1].forEach((fourier, i) => {
    near(bodyTheta(body, biot, fourier, where), expected[i], 1e-8);
  });
});

test("boiling an egg", () => {
  // Çengel & Ghajar 5e, example 4-3: Bi 47.8, zeta1 3.0754, C1 1.9958, 865 s (table interpolated)
  const biot = (1200 * 0.025) / 0.627;
  const seconds = (terms?: number) =>
    (coolingFourier("sphere", biot, 25 / 90, 0, terms) * 0.025 ** 2) / 1.51e-7;
  within(modes("sphere", biot, 1)[0].zeta, 3.0754, 0.001);
  within(modes("sphere", biot, 1)[0].C, 1.9958, 0.0005);
  near(seconds(1), 865, 0.005);
  near(seconds(1), 862.649643642, 1e-8);
  near(seconds(), 861.468179048, 1e-8);
});

test("a steel shaft of 20 cm after 45 minutes", () => {
  // Çengel & Ghajar 5e, example 4-5: 364 degC by the series (0.41 rounded)
  const biot = (80 * 0.1) / 14.9;
  const fourier = (3.95e-6 * 2700) / 0.01;
  const T = 200 + 400 * bodyTheta("cylinder", biot, fourier, 0);
  within(T, 364, 1.5);
  near(T, 364.297697694, 1e-8);
  near(200 + 400 * bodyTheta("cylinder", biot, fourier, 1), 327.82142399, 1e-8);
  near(1 - bodyTheta("cylinder", biot, fourier, "mean"), 0.636, 0.008);
});

test("constants of the cooling-time formulas", () => {
  // books print 1.6023 for 1.601975, 0.692 for 0.691660, 23.14 for 23.132744; plate: Stelson 2003
  near(BESSEL_ZERO, 2.4048255577, 1e-10);
  near(4 * BESSEL_ZERO ** 2, 23.1327438518, 1e-10);
  const melt = 1 + C;
  const time = (body: MoldedBody, criterion: "center" | "mean") =>
    coolingTime(body, { melt, wall: C, end: C + 0.01, diffusivity: 1, criterion });
  // t = ln(c Y)/rate, so c = exp(t rate)/Y
  const c = (body: MoldedBody, criterion: "center" | "mean", rate: number) =>
    Math.exp(time(body, criterion) * rate) / 100;
  const pi2 = Math.PI ** 2;
  const plate: MoldedBody = { kind: "plate", thickness: 1 };
  near(c(plate, "center", pi2), 1.27323954474, 1e-9);
  near(c(plate, "mean", pi2), 0.810569469139, 1e-9);
  const round: MoldedBody = { kind: "round", diameter: 1 };
  near(c(round, "center", 23.1327438518), 1.60197469693, 1e-9);
  near(c(round, "mean", 23.1327438518), 0.691660276123, 1e-9);
  const ball: MoldedBody = { kind: "ball", diameter: 1 };
  near(c(ball, "center", 4 * pi2), 2, 1e-9);
  near(c(ball, "mean", 4 * pi2), 0.607927101854, 1e-9);
  const square: MoldedBody = { kind: "bar", width: 1, height: 1 };
  near(c(square, "center", 2 * pi2), 1.62113893828, 1e-9);
  near(c(square, "mean", 2 * pi2), 0.6570228643, 1e-9);
});

test("cooling times of molded bodies, wall held", () => {
  // first-term formulas, evaluated to 25 digits elsewhere
  const rows: [MoldedBody, number, number][] = [
    [{ kind: "plate", thickness: 0.008 }, 149.856639535, 115.405895658],
    [{ kind: "round", diameter: 0.01 }, 111.581262608, 68.8662856145],
    [{ kind: "ball", diameter: 0.01 }, 71.9950716457, 36.5074020815],
    [{ kind: "bar", width: 0.008, height: 0.02 }, 145.073556474, 85.6757222028],
    [{ kind: "rod", diameter: 0.01, length: 0.06 }, 122.415797242, 57.5038087736],
  ];
  const cooling = { melt: 175 + C, wall: 35 + C, end: 60 + C, diffusivity: 8.5e-8 };
  for (const [body, center, mean] of rows) {
    near(coolingTime(body, { ...cooling, criterion: "center" }), center, 1e-8);
    near(coolingTime(body, { ...cooling, criterion: "mean" }), mean, 1e-8);
  }
  // full series
  const full = (body: SimpleBody, half: number, where: 0 | "mean") =>
    (coolingFourier(body, HELD, 25 / 140, where) * half * half) / 8.5e-8;
  near(full("wall", 0.004, 0), 149.856635729, 1e-8);
  near(full("wall", 0.004, "mean"), 115.40594269, 1e-8);
  near(full("cylinder", 0.005, 0), 111.578368925, 1e-8);
  near(full("cylinder", 0.005, "mean"), 68.895998429, 1e-8);
  near(full("sphere", 0.005, 0), 71.9738074278, 1e-8);
  near(full("sphere", 0.005, "mean"), 36.6923366553, 1e-8);
});

test("the usual table: center from 170 to 60 degC, wall 30 degC", () => {
  // worked out by hand, whole seconds: slabs and round bars of 4, 6, 8, 10, 15, 20 mm
  const slabs = [44, 100, 178, 278, 625, 1111];
  const rounds = [21, 48, 86, 134, 301, 535];
  const c = {
    melt: 170 + C,
    wall: 30 + C,
    end: 60 + C,
    diffusivity: 6.5e-8,
    criterion: "center" as const,
  };
  [4, 6, 8, 10, 15, 20].forEach((mm, i) => {
    within(coolingTime({ kind: "plate", thickness: mm / 1000 }, c), slabs[i], 0.6);
    within(coolingTime({ kind: "round", diameter: mm / 1000 }, c), rounds[i], 0.6);
  });
});

test("cooling time through a film, Bi = 8", () => {
  const seconds = (body: SimpleBody, where: 0 | "mean", terms?: number) =>
    (coolingFourier(body, 8, 25 / 140, where, terms) * 0.004 ** 2) / 8.5e-8;
  near(seconds("wall", 0, 1), 188.003335009, 1e-8);
  near(seconds("wall", 0), 188.003331334, 1e-8);
  near(seconds("wall", "mean"), 154.289864517, 1e-8);
  near(seconds("cylinder", 0, 1), 89.8442259627, 1e-8);
  near(seconds("cylinder", 0), 89.8423484946, 1e-8);
  near(seconds("cylinder", "mean"), 63.5552000201, 1e-8);
});

test("plate between walls of 30 and 50 degC", () => {
  const plate = {
    start: 175 + C,
    first: 30 + C,
    second: 50 + C,
    diffusivity: 9e-8,
    thickness: 0.006,
  };
  const rows: [number, number[], number][] = [
    [20, [110.563081098, 144.262066926, 118.794409701], 106.948144273],
    [60, [62.6726411556, 79.1107043696, 72.638512335], 64.898727222],
    [240, [35.3257917269, 40.4607390783, 45.3257917263], 40.2933156071],
  ];
  for (const [t, T, mean] of rows) {
    [0.25, 0.5, 0.75].forEach((x, i) => {
      near(plateBetween(plate, x * 0.006, t) - C, T[i], 1e-8);
    });
    near(plateBetween(plate, "mean", t) - C, mean, 1e-8);
  }
});

test("impossible inputs are refused", () => {
  expect(() => modes("wall", -1)).toThrow(InputError);
  expect(() => bodyTheta("wall", 1, 0, 0)).toThrow(InputError);
  expect(() => coolingFourier("wall", 1, 1.2, 0)).toThrow(InputError);
  const body: MoldedBody = { kind: "plate", thickness: 0.008 };
  const c = { melt: 400, wall: 300, end: 290, diffusivity: 8e-8, criterion: "center" as const };
  expect(() => coolingTime(body, c)).toThrow(InputError);
  expect(() => coolingTime({ kind: "plate", thickness: Number.NaN }, c)).toThrow(InputError);
});
