import { expect, test } from "vitest";
import { integrate } from "../../../lib/numerics/runge-kutta.ts";
import { besselJ0, besselJ1, erf, erfc, erfcx } from "../../../lib/numerics/special-functions.ts";
import { NoConvergence } from "../../../lib/units/problem.ts";

const swing = (relative: number) =>
  integrate({
    slope(_t, y, dy) {
      dy[0] = y[1];
      dy[1] = -y[0];
    },
    from: 0,
    until: 20,
    start: [0, 1],
    relative,
    absolute: relative,
  });

test("a swing follows the sine, the better the finer the tolerance", () => {
  const coarse = Math.abs(swing(1e-6).y[0] - Math.sin(20));
  const fine = Math.abs(swing(1e-10).y[0] - Math.sin(20));
  expect(coarse).toBeLessThan(1e-4);
  expect(fine).toBeLessThan(1e-8);
  // order 5: 10^4 finer costs 10^(4/5) = 6.3 times the steps
  expect(swing(1e-10).steps / swing(1e-6).steps).toBeCloseTo(6.3, 0);
});

test("stops where it crosses zero", () => {
  const run = integrate({
    slope(_t, y, dy) {
      dy[0] = -y[0];
    },
    from: 0,
    until: 100,
    start: [1],
    stop: (_t, y) => 0.5 - y[0],
    relative: 1e-12,
  });
  expect(run.stopped).toBe(true);
  expect(Math.abs(run.t - Math.LN2)).toBeLessThan(1e-11);
});

test("a slope that is no number is reported, not returned", () => {
  const broken = () =>
    integrate({
      slope(t, _y, dy) {
        dy[0] = t > 0.5 ? Number.NaN : 1;
      },
      from: 0,
      until: 1,
      start: [0],
    });
  expect(broken).toThrow(NoConvergence);
});

test("error functions and Bessel functions against tables", () => {
  // Abramowitz & Stegun 1964, tables 7.1, 7.3, 9.1
  expect(erf(0.5)).toBeCloseTo(0.5204998778, 10);
  expect(erf(-2)).toBeCloseTo(-0.995322265, 9);
  expect(erfc(3) / 2.209049699858544e-5).toBeCloseTo(1, 12);
  expect(erfcx(10)).toBeCloseTo(0.05614099274382259, 14);
  expect(Math.abs(erfcx(2 + 1e-9) / erfcx(2 - 1e-9) - 1)).toBeLessThan(1e-8);
  expect(besselJ0(1)).toBeCloseTo(0.7651976865579666, 14);
  expect(besselJ1(1)).toBeCloseTo(0.4400505857449335, 14);
  expect(besselJ0(50)).toBeCloseTo(0.05581232766925181, 13);
  expect(Math.abs(besselJ0(2.404825557695773))).toBeLessThan(1e-15);
});
