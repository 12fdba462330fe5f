/** Orders of convergence: along the grid and in time, measured against closed solutions. */
import { expect, test } from "vitest";
import { type HeatProblem, readSolveProblem, simulate } from "../../../lib/index.ts";
import {
  makeStepper,
  RODAS4,
  ROS2,
  type StiffSystem,
  type Tableau,
} from "../../../lib/numerics/rosenbrock.ts";

const THICKNESS = 0.02;
const CONDUCTIVITY = 0.2;
const DENSITY = 1000;
const HEAT = 1500;
const h = 20;
const UNTIL = 225; // Fo = 0.3 of the half thickness

/**
 * Plate at 100 degC put into air of 0 degC, Bi = 1: z tan z = Bi, theta = sum 4 sin z / (2 z + sin 2z) cos(z x) exp(-z2 Fo).
 * @source Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 3.11
 */
function plate(x: number, t: number): number {
  const half = THICKNESS / 2;
  const Bi = (h * half) / CONDUCTIVITY;
  const Fo = (CONDUCTIVITY * t) / (DENSITY * HEAT * half * half);
  let sum = 0;
  for (let n = 0; n < 12; n++) {
    let lo = n * Math.PI;
    let hi = lo + Math.PI / 2;
    for (let k = 0; k < 80; k++) {
      const z = (lo + hi) / 2;
      if (z * Math.sin(z) < Bi * Math.cos(z) === (n % 2 === 0)) lo = z;
      else hi = z;
    }
    const z = (lo + hi) / 2;
    const share = (4 * Math.sin(z)) / (2 * z + Math.sin(2 * z));
    sum += share * Math.cos((z * (x - half)) / half) * Math.exp(-z * z * Fo);
  }
  return 100 * sum;
}

const cooled = (more: Partial<HeatProblem>) =>
  simulate({
    ...readSolveProblem({
      frame: "slab",
      materials: {
        m: { conductivity: CONDUCTIVITY, density: DENSITY, specificHeat: HEAT },
      },
      layers: [{ name: "plate", material: "m", thickness: THICKNESS, initial: 100 }],
      boundary: { left: { h, ambient: 0 }, right: { h, ambient: 0 } },
      until: UNTIL,
      probes: { center: [0.01], inside: [0.004], face: [0] },
      times: [UNTIL],
    }),
    estimateGrid: false,
    ...more,
  });

test("along the grid: order 2, in the middle, inside and at the face", () => {
  const grids = [1, 2, 4, 8].map((resolution) => {
    const run = cooled({ resolution, tolerance: 1e-9 });
    return { run, cells: run.effort.cells };
  });
  for (const [name, x] of [
    ["center", 0.01],
    ["inside", 0.004],
    ["face", 0],
  ] as const) {
    const errors = grids.map(({ run }) => run.probes[name][0] - 273.15 - plate(x, UNTIL));
    for (let i = 1; i < grids.length; i++) {
      const order =
        Math.log(errors[i - 1] / errors[i]) / Math.log(grids[i].cells / grids[i - 1].cells);
      expect(order, `${name}, grid ${i}: ${errors}`).toBeGreaterThan(1.9);
      expect(order, `${name}, grid ${i}: ${errors}`).toBeLessThan(2.15);
    }
    // what two grids extrapolate to has no share of order 2 left
    expect(Math.abs((4 * errors[3] - errors[2]) / 3), name).toBeLessThan(1e-4);
  }
});

/** u0' = -u0^2 and u1' = -5 (u1 - sin t) + cos t + u0 - 1/(1 + t): u = 1/(1 + t), sin t. Errors of u and of its slope at 2. */
function fixedSteps(
  tableau: Tableau,
  steps: number,
  jacobian: number,
): { state: number; slope: number } {
  let u0 = 0;
  let g = 0;
  const system: StiffSystem = {
    size: 2,
    moves: true,
    rates(t, u, out) {
      out[0] = -u[0] * u[0];
      out[1] = -5 * (u[1] - Math.sin(t)) + Math.cos(t) + u[0] - 1 / (1 + t);
    },
    timeSlope(t, _h, _u, _rates, out) {
      out[0] = 0;
      out[1] = 5 * Math.cos(t) - Math.sin(t) + 1 / (1 + t) ** 2;
      return true;
    },
    linearize(_t, u) {
      u0 = u[0];
    },
    factor(gammaH) {
      g = 1 / gammaH;
      return true;
    },
    solve(x) {
      x[0] /= g + jacobian * 2 * u0;
      x[1] = (x[1] + jacobian * x[0]) / (g + jacobian * 5);
    },
  };
  const stepper = makeStepper(system, tableau);
  let u = Float64Array.of(1, 0);
  let next = new Float64Array(2);
  const f = new Float64Array(2);
  const error = new Float64Array(2);
  const step = 2 / steps;
  for (let k = 0; k < steps; k++) {
    system.rates(k * step, u, f);
    system.linearize(k * step, u);
    stepper.step(k * step, step, { u, f, next, error });
    [u, next] = [next, u];
  }
  const slope = stepper.endSlope(step);
  return {
    state: Math.hypot(u[0] - 1 / 3, u[1] - Math.sin(2)),
    slope: Math.hypot(slope[0] + 1 / 9, slope[1] - Math.cos(2)),
  };
}

// orders as their authors give them, at the tableaus
test.each([
  ["RODAS4", RODAS4, 1, 100, 4],
  ["ROS2", ROS2, 1, 400, 2],
  ["ROS2 with half of the Jacobian", ROS2, 0.5, 400, 2],
] as const)("in time, fixed steps: %s", (_name, tableau, jacobian, steps, order) => {
  const coarse = fixedSteps(tableau, steps, jacobian).state;
  const fine = fixedSteps(tableau, 2 * steps, jacobian).state;
  const found = Math.log2(coarse / fine);
  expect(Math.abs(found - order), `order ${found}, errors ${coarse}, ${fine}`).toBeLessThan(0.2);
});

// the continuous extension of RODAS4 is of third order (Hairer & Wanner, section VI.4), so is its slope; that of ROS2 by expansion
test.each([
  ["RODAS4", RODAS4, 50, 3],
  ["ROS2", ROS2, 400, 2],
] as const)("in time, the slope at the end of a step: %s", (_name, tableau, steps, order) => {
  const coarse = fixedSteps(tableau, steps, 1).slope;
  const fine = fixedSteps(tableau, 2 * steps, 1).slope;
  const found = Math.log2(coarse / fine);
  expect(Math.abs(found - order), `order ${found}, errors ${coarse}, ${fine}`).toBeLessThan(0.25);
});

test("in time, steps of its own choice: the error follows the tolerance and steps grow by its fourth root", () => {
  const truth = cooled({ tolerance: 1e-9, resolution: 1 }).probes["center"][0];
  const runs = [1e-3, 1e-5, 1e-7].map((tolerance) => cooled({ tolerance, resolution: 1 }));
  const errors = runs.map((run) => Math.abs(run.probes["center"][0] - truth));
  // tolerance is a share of the span of 100 K
  [1e-3, 1e-5, 1e-7].forEach((tolerance, i) => {
    expect(errors[i], `${errors}`).toBeLessThan(100 * tolerance);
  });
  const growth = runs[2].effort.steps / runs[1].effort.steps;
  expect(growth).toBeGreaterThan(2);
  expect(growth).toBeLessThan(5); // 100^(1/4) = 3.2
});

test.each([1e-6, 1e-7])(
  "a crossing alone steers the grid: its time is as exact as the tolerance of %s over the slope",
  (tolerance) => {
    // a plate between faces that are held: Carslaw & Jaeger, section 3.3; early, while the grid is what decides
    const [L, k, c] = [0.01, 0.9, 1700 * 1100];
    const series = (t: number) => {
      let [T, slope] = [0, 0];
      for (let n = 0; n < 200; n++) {
        const mu = (n + 0.5) * Math.PI;
        const rate = (mu * mu * k) / c / L ** 2;
        const term = ((2 * (-1) ** n) / mu) * Math.exp(-rate * t);
        T += term;
        slope -= rate * term;
      }
      return { T, slope };
    };
    const at = 10;
    const span = 100;
    const { crossings, effort } = simulate({
      frame: "slab",
      materials: { m: { name: "m", conductivity: k, density: 1700, specificHeat: 1100 } },
      layers: [{ name: "plate", material: "m", thickness: 2 * L, initial: 393.15 }],
      boundary: {
        left: { kind: "held", temperature: 293.15 },
        right: { kind: "held", temperature: 293.15 },
      },
      // long enough for everything else to have ended
      stages: [{ until: 3600 }],
      tolerance,
      probes: { c: { kind: "point", x: L } },
      crossings: [{ probe: "c", below: 293.15 + span * series(at).T }],
    });
    const off = Math.abs(crossings[0]!.time! - at) * span * Math.abs(series(at).slope);
    expect(effort.limitedBy).toBeNull();
    expect(off).toBeLessThan(tolerance * span);
  },
);
