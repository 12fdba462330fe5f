import { describe, expect, test } from "vitest";
import { glassTransition } from "../../../../lib/cure/glass-transition.ts";
import { publishedLaw } from "../../../../lib/cure/published.ts";
import { makeRateLaw } from "../../../../lib/cure/rate-laws.ts";
import { glassMargin } from "../../../../lib/models/pour/glass-margin.ts";
import { cureAfterProgram, postCureRamp } from "../../../../lib/questions/pour/cold.ts";
import { InputError } from "../../../../lib/units/problem.ts";

const glass = { uncured: 251.15, cured: 403.15, lambda: 0.4 };
const cap = { kind: "glass", C: 30, ...glass, offset: 12 } as const;
const law = makeRateLaw({ ...publishedLaw("epoxy-amine").spec, cap });
const H = 3600;

describe("a post-cure ramp", () => {
  test("stays below the glass transition all the way, and a ramp 20 % faster does not", () => {
    const start = { cure: 0.66, from: 293.15 };
    const { ramp, duration, steps } = postCureRamp(law, glass, start, 363.15);
    expect(duration).toBeGreaterThan(0);
    for (const { T, glass: Tg } of steps) expect(Tg - T).toBeGreaterThan(4.9);
    const program = (seconds: number) => [{ temperature: 363.15, hold: 60, ramp: seconds }];
    const at = { cure: start.cure, T: start.from };
    expect(cureAfterProgram(law, glass, at, program(70 / ramp)).outruns).toBeLessThan(-4.5);
    expect(cureAfterProgram(law, glass, at, program(70 / ramp / 1.2)).outruns).toBeGreaterThan(-5);
  });
  test("less cured is slower; hotter ovens give more", () => {
    const slow = postCureRamp(law, glass, { cure: 0.62, from: 293.15 }, 353.15);
    const quick = postCureRamp(law, glass, { cure: 0.75, from: 293.15 }, 353.15);
    expect(slow.ramp).toBeLessThan(quick.ramp);
    const hold = (T: number) =>
      cureAfterProgram(law, glass, { cure: 0.65, T: 293.15 }, [
        { temperature: T, hold: 4 * H, ramp: 2 * H },
      ]);
    expect(hold(363.15).glass).toBeGreaterThan(hold(333.15).glass);
  });
  test("a mix that is liquid at the start can't be ramped", () => {
    const none = postCureRamp(law, glass, { cure: 0.1, from: 293.15 }, 353.15);
    expect(none.duration).toBe(Number.POSITIVE_INFINITY);
    expect(none.ramp).toBe(0);
  });
  test("put straight into a hot oven it outruns its glass transition", () => {
    const { outruns } = cureAfterProgram(law, glass, { cure: 0.65, T: 293.15 }, [
      { temperature: 353.15, hold: H, ramp: 0 },
    ]);
    expect(outruns).toBeCloseTo(353.15 - glassTransition(glass, 0.65), 6);
  });
  test("bad numbers are refused together", () => {
    const run = () => postCureRamp(law, glass, { cure: 2, from: Number.NaN }, 353.15, -1);
    expect(run).toThrow(InputError);
    try {
      run();
    } catch (error) {
      expect((error as InputError).problems.length).toBeGreaterThanOrEqual(3);
    }
  });
});

test("a room-cured mold is soft from the second shot on: 52 degC against a face of 61", () => {
  // face of the second shot: our own earlier calculation; 52 degC: reached after room cure, from memory
  const { margin, holds } = glassMargin(325.15, 334.15);
  expect(margin).toBeCloseTo(-9, 9);
  expect(holds).toBe(false);
});
