import { expect, test } from "vitest";
import { makeRateLaw, rate } from "../../../lib/cure/rate-laws.ts";
import {
  criticalLump,
  criticalRunaway,
  leastRunawayRise,
  pourRunawayNumber,
  type RunawayShape,
  runawayNumber,
  zeroOrderRunaway,
} from "../../../lib/cure/runaway.ts";
import { criticalRunawayArrhenius } from "../../../lib/cure/runaway-arrhenius.ts";
import { integrate } from "../../../lib/numerics/runge-kutta.ts";
import { InputError } from "../../../lib/units/problem.ts";

const SHAPES: RunawayShape[] = ["slab", "cylinder", "sphere"];
const near = (x: number, expected: number, relative: number) =>
  expect(Math.abs(x / expected - 1)).toBeLessThan(relative);

test("faces held: 0.878, 2.000, 3.322 as printed", () => {
  // Frank-Kamenetskii; values in every text on thermal explosion. Digits beyond: closed forms, Emden's equation
  const printed = [0.878, 2, 3.322];
  const digits = [0.878457679781, 2, 3.3219921183];
  const center = [1.18684216863, 1.38629436112, 1.6074567751];
  SHAPES.forEach((shape, i) => {
    const { delta, thetaCenter, thetaFace } = criticalRunaway(shape);
    expect(Math.abs(delta - printed[i])).toBeLessThan(0.001);
    near(delta, digits[i], 1e-9);
    near(thetaCenter, center[i], 1e-9);
    expect(thetaFace).toBe(0);
  });
});

test("through a film: delta, center and face", () => {
  // problem of Thomas, Trans. Faraday Soc. 54 (1958) 60; own parametric solution, 11 digits
  const expected: Record<RunawayShape, Record<number, number[]>> = {
    slab: {
      1: [0.27067056647, 1.1050252027, 0.72153545724],
      10: [0.72897611619, 1.1832496334, 0.17393215248],
      100: [0.86118616505, 1.1867991164, 0.019715016541],
    },
    cylinder: {
      1: [0.57579898303, 1.1878027335, 0.7639320225],
      10: [1.6538366564, 1.3776535963, 0.18019609728],
      100: [1.9605933863, 1.3861956992, 0.019800019996],
    },
    sphere: {
      1: [0.90101998863, 1.254314511, 0.79737501724],
      10: [2.7389806797, 1.5922393989, 0.18558317202],
      100: [3.2564289362, 1.6072918131, 0.019866487915],
    },
  };
  for (const shape of SHAPES)
    for (const biot of [1, 10, 100]) {
      const c = criticalRunaway(shape, biot);
      [c.delta, c.thetaCenter, c.thetaFace].forEach((x, i) => {
        near(x, expected[shape][biot][i], 1e-8);
      });
    }
});

test("small Biot number: the lump of Semenov, delta = Bi (j+1)/e", () => {
  SHAPES.forEach((shape, j) => {
    near(criticalRunaway(shape, 1e-4).delta, (1e-4 * (j + 1)) / Math.E, 1e-3);
  });
});

test("with the full Arrhenius exponent", () => {
  // shooting with an 8th-order integrator, 8 digits
  const expected: Record<RunawayShape, [number, number, number][]> = {
    slab: [
      [0.02, 0.89745303, 1.239],
      [0.05, 0.92839998, 1.329],
    ],
    cylinder: [
      [0.02, 2.0450464, 1.45],
      [0.05, 2.1185867, 1.561],
    ],
    sphere: [
      [0.02, 3.3996807, 1.685],
      [0.05, 3.5267609, 1.82],
    ],
  };
  for (const shape of SHAPES)
    for (const [epsilon, delta, center] of expected[shape]) {
      const c = criticalRunawayArrhenius(shape, epsilon);
      near(c.delta, delta, 1e-6);
      expect(Math.abs(c.thetaCenter - center)).toBeLessThan(0.003);
    }
  near(criticalRunawayArrhenius("slab", 0).delta, criticalRunaway("slab").delta, 1e-7);
});

test("lump with a finite activation energy", () => {
  // Semenov: largest psi = theta exp(-theta/(1 + epsilon theta))
  const rows = [
    [0, 0.367879441171, 1],
    [0.02, 0.375466480417, 1.04211917182],
    [0.05, 0.387799522762, 1.11456180002],
    [0.1, 0.411531945644, 1.27016653793],
  ];
  for (const [epsilon, psi, theta] of rows) {
    near(criticalLump(epsilon).psi, psi, 1e-9);
    near(criticalLump(epsilon).theta, theta, 1e-9);
  }
  expect(() => criticalLump(0.25)).toThrow(InputError);
});

test("lump whose reactant is used up: hottest, when, and the cure there", () => {
  // d theta/d tau = (1-a)^n e^theta - theta/psi, d a/d tau = (1-a)^n e^theta/B; implicit 5th-order integration
  const rows = [
    [0.3, 20, 1, 0.40641129, 1.50056, 0.0977179],
    [0.5, 20, 1, 1.139566, 2.80217, 0.270774],
    [0.5, 8, 1, 0.71600306, 1.70778, 0.300176],
    [0.6, 20, 2, 1.2349839, 2.47567, 0.226284],
  ];
  for (const [psi, B, n, theta, tau, cure] of rows) {
    const speed = (y: Float64Array) => (1 - y[1]) ** n * Math.exp(y[0]);
    const run = integrate({
      slope(_t, y, d) {
        d[0] = speed(y) - y[0] / psi;
        d[1] = speed(y) / B;
      },
      from: 0,
      until: 10,
      start: [0, 0],
      stop: (_t, y) => y[0] / psi - speed(y), // rises through zero at the top
      relative: 1e-11,
    });
    near(run.y[0], theta, 2e-6);
    near(run.t, tau, 2e-5);
    near(run.y[1], cure, 2e-5);
  }
});

test("least rise that can run away", () => {
  // Adler & Enig 1964: (1 + sqrt n)^2
  const rows = [
    [0.5, 2.91421356237],
    [1, 4],
    [1.5, 4.94948974278],
    [2, 5.82842712475],
  ];
  for (const [n, B] of rows) near(leastRunawayRise(n), B, 1e-9);
});

test("quick estimate of the time to runaway", () => {
  const law = makeRateLaw({ law: "nth-order", A: 1.2e6, E: 62000, n: 1 });
  const t = zeroOrderRunaway({ T: 298.15, energy: 62000, rise: 140, rate: rate(law, 0, 298.15) });
  near(t, 5163.36589321, 1e-8);
});

test("the number of a pour is the textbook number at its fastest cure", () => {
  const E = 58000;
  const law = makeRateLaw({ law: "autocatalytic", A1: 0, E1: 0, A2: 2.5e6, E2: E, m: 1, n: 2 });
  const pour = { heat: 3.68e8, half: 0.02, conductivity: 0.22, T: 296.15 };
  const { delta, fastestCure } = pourRunawayNumber(law, pour);
  expect(fastestCure).toBeCloseTo(1 / 3, 3); // a (1-a)^2
  const heatRate = 3.68e8 * rate(law, 1 / 3, 296.15);
  near(
    delta,
    runawayNumber({ energy: E, heatRate, half: 0.02, conductivity: 0.22, T: 296.15 }),
    1e-5,
  );
});

test("what is not positive is refused, all at once", () => {
  try {
    runawayNumber({ energy: -1, heatRate: Number.NaN, half: 0.02, conductivity: 0, T: 300 });
    expect.unreachable();
  } catch (error) {
    expect((error as InputError).problems.map((p) => p.path)).toEqual([
      "energy",
      "heatRate",
      "conductivity",
    ]);
  }
  expect(() => criticalRunaway("slab", 0)).toThrow(InputError);
  expect(() => criticalRunaway("slab", Number.NaN)).toThrow(InputError);
});
