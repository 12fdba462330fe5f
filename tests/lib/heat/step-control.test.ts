import { expect, test } from "vitest";
import { makeBreakpoints, stepToward } from "../../../lib/heat/breakpoints.ts";
import { makeStepControl } from "../../../lib/heat/step-control.ts";
import { NoConvergence } from "../../../lib/units/problem.ts";

test("a step that takes its whole share is repeated a little shorter, by the order of the method", () => {
  const control = makeStepControl(4, 1);
  control.accept(1, 1);
  expect(control.next()).toBeCloseTo(0.88, 12);
  // 16 times less error than allowed: for order 4 twice the length, the error trend of the last step included
  const fresh = makeStepControl(4, 1);
  fresh.accept(1, 1 / 16);
  expect(fresh.next()).toBeCloseTo(2 * 0.88, 12);
});

test("no step is more than six times the last, and after a refusal more than one and a half", () => {
  const control = makeStepControl(2, 1);
  control.accept(1, 1e-12);
  expect(control.next()).toBe(6);
  control.reject(0, 6, 50);
  control.accept(1, 1e-12);
  expect(control.next()).toBe(1.5);
});

test("errors that grow from step to step shorten the next one beforehand", () => {
  const steady = makeStepControl(4, 1);
  steady.accept(1, 0.5);
  steady.accept(1, 0.5);
  const growing = makeStepControl(4, 1);
  growing.accept(1, 0.1);
  growing.accept(1, 0.5);
  expect(growing.next()).toBeLessThan(steady.next());
});

test("after a jump steps begin anew, as short as told, and as if none had been before", () => {
  const control = makeStepControl(4, 1);
  control.accept(1, 0.1);
  control.accept(1, 0.9);
  control.restart(0.01);
  expect(control.next()).toBe(0.01);
  control.accept(0.01, 1 / 16);
  const fresh = makeStepControl(4, 0.01);
  fresh.accept(0.01, 1 / 16);
  expect(control.next()).toBe(fresh.next());
});

test("NaN and infinite errors are refused like any other", () => {
  const control = makeStepControl(4, 1);
  expect(control.reject(0, 1, Number.NaN)).toBe(0.25);
  expect(control.reject(0, 1, Number.POSITIVE_INFINITY)).toBe(0.25);
});

test("steps that shrink without end are given up, with the time", () => {
  const control = makeStepControl(4, 1);
  let step = 1;
  expect(() => {
    for (let k = 0; k < 200; k++) step = control.reject(7, step, 1e9);
  }).toThrow(NoConvergence);
});

test("steps end at every breakpoint, two equal ones before it rather than a long and a tiny one", () => {
  const breakpoints = makeBreakpoints([30, 10, 10, 0, 99], 0, 60);
  const ends: number[] = [];
  let t = 0;
  while (t < 60) {
    const target = breakpoints.after(t);
    t += stepToward(target - t, 8, t);
    ends.push(t);
  }
  expect(ends).toEqual([5, 10, 18, 24, 30, 38, 46, 53, 60]);
});
