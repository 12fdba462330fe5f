import fc from "fast-check";
import { expect, test } from "vitest";
import {
  type DisplayUnitName,
  displayUnits,
  fromUnit,
  toUnit,
} from "../../../lib/units/display.ts";
import {
  boundText,
  clockTime,
  formatDuration,
  formatQuantity,
  formatRange,
  inchFraction,
  rangeInWords,
  spanInWords,
  stepOf,
  timeStep,
  timeText,
  windowInWords,
  windowTexts,
} from "../../../lib/units/format.ts";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";

import { isProblem, parseQuantity, readQuantity } from "../../../lib/units/quantity.ts";

const names = Object.keys(displayUnits) as DisplayUnitName[];

test.each(names.filter((name) => name !== "1"))("the factor of %s is that of mathjs", (name) => {
  const { kind } = displayUnits[name];
  const typed = name.replace(" difference", "");
  for (const x of [0, 1, 37.5]) {
    expect(fromUnit(x, name)).toBeCloseTo(parseQuantity(`${x} ${typed}`, kind), 9);
  }
});

test("every kind is shown in a unit of its own kind", () => {
  for (const kind of Object.keys(kinds) as Kind[]) {
    for (const system of ["metric", "shop-us"] as const) {
      expect(formatQuantity(300, kind, { system })).not.toMatch(/NaN|undefined/);
    }
  }
});

test("to a unit and back", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...names),
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      (name, x) => {
        expect(Math.abs(toUnit(fromUnit(x, name), name) - x)).toBeLessThan(
          1e-12 * (Math.abs(x) + 1e3),
        );
      },
    ),
  );
});

test("durations in words", () => {
  expect(formatDuration(12)).toBe("12 s");
  expect(formatDuration(89)).toBe("89 s");
  expect(formatDuration(90)).toBe("1 min 30 s");
  expect(formatDuration(320)).toBe("5 min 20 s");
  expect(formatDuration(300)).toBe("5 min");
  expect(formatDuration(323, 10)).toBe("5 min 20 s");
  expect(formatDuration(13200)).toBe("3 h 40 min");
  expect(formatDuration(90000)).toBe("1 day 1 h");
  expect(formatDuration(172800)).toBe("2 days");
  // beyond a day to whole hours, rounded to the side that is asked for
  expect(formatDuration(86400 + 540)).toBe("1 day");
  expect(formatDuration(86400 + 1980)).toBe("1 day 1 h");
  expect(timeText(86400 + 540, "up", 60)).toBe("1 day 1 h");
  expect(timeText(86400 + 3540, "down", 60)).toBe("1 day");
  expect(formatDuration(3601, 1)).toBe("1 h 1 s");
});

test("durations as a clock", () => {
  expect(clockTime(290)).toBe("4:50");
  expect(clockTime(59.6)).toBe("1:00");
  expect(clockTime(3890)).toBe("1:04:50");
});

test("both systems", () => {
  expect(formatQuantity(443.15, "temperature")).toBe("170 °C");
  expect(formatQuantity(443.15, "temperature", { system: "shop-us" })).toBe("338 °F");
  expect(formatQuantity(10, "temperatureDifference", { system: "shop-us" })).toBe("18 °F");
  expect(formatQuantity(0.016, "length")).toBe("16 mm");
  expect(formatQuantity(0.016, "length", { system: "shop-us" })).toBe("0.63 in");
  expect(formatQuantity(0.0318, "length", { system: "shop-us", fractions: true })).toBe("1 1/4 in");
  // no mark of the rule is near: a fraction would move it by a sixth
  expect(formatQuantity(0.004, "length", { system: "shop-us", fractions: true })).toBe("0.16 in");
  expect(formatQuantity(0.077, "mass", { system: "shop-us" })).toBe("2.72 oz");
  expect(formatQuantity(4, "mass")).toBe("4 kg");
  expect(formatQuantity(0.086, "ratio")).toBe("8.6 %");
});

test("sixteenths are reduced", () => {
  expect([0, 0.0625, 0.125, 0.5, 1, 1.25, 1.99].map(inchFraction)).toEqual([
    "0",
    "1/16",
    "1/8",
    "1/2",
    "1",
    "1 1/4",
    "2",
  ]);
});

test("no digit that the range does not bear out", () => {
  const range = { value: 323.4, low: 287, high: 372 };
  expect(stepOf(range, "duration")).toBe(15);
  expect(rangeInWords(range, "duration")).toBe(
    "between 4 min 40 s and 6 min 15 s, most likely 5 min 30 s",
  );
  // 61.75, 67.45 and 73.95 degC: the ends outwards
  expect(formatRange({ value: 340.6, low: 334.9, high: 347.1 }, "temperature")).toEqual({
    value: "67 °C",
    low: "61 °C",
    high: "74 °C",
  });
  expect(rangeInWords({ value: 12, low: 11, high: 14 }, "duration")).toBe(
    "between 11 s and 14 s, most likely 12 s",
  );
  expect(rangeInWords({ value: 5, low: 5, high: 5 }, "duration")).toBe("5 s");
});

test("rounding never moves a value by more than a sixteenth of its range", () => {
  const positive = fc.double({ min: 1e-3, max: 1e5, noNaN: true });
  fc.assert(
    fc.property(positive, fc.double({ min: 0.01, max: 0.9, noNaN: true }), (value, share) => {
      const range = { value, low: value * (1 - share), high: value * (1 + share) };
      const step = stepOf(range, "mass");
      expect(step).toBeLessThanOrEqual(((range.high - range.low) / 8) * (1 + 1e-12));
      expect(step).toBeGreaterThan((range.high - range.low) / 8 / 2.6);
    }),
  );
});

test("what is without end is said so, never NaN", () => {
  expect(formatQuantity(Number.POSITIVE_INFINITY, "duration")).toBe("without end");
  expect(formatQuantity(Number.NaN, "length")).toBe("unknown");
  const never = Number.POSITIVE_INFINITY;
  expect(rangeInWords({ value: 720, low: 600, high: never }, "duration")).toBe(
    "at least 10 min, most likely 12 min, perhaps without end",
  );
  expect(rangeInWords({ value: never, low: 600, high: never }, "duration")).toBe(
    "at least 10 min, most likely without end",
  );
  expect(rangeInWords({ value: 0.02, low: 0.01, high: never }, "length")).toBe(
    "at least 10 mm, most likely 20 mm, perhaps without end",
  );
  expect(rangeInWords({ value: never, low: never, high: never }, "length")).toBe("without end");
});

const times = fc.double({ min: 0.5, max: 1e6, noNaN: true });
/** Seconds of a time in words. */
const secondsOf = (text: string) =>
  [...text.matchAll(/([\d.]+) (s|min|h|days?)/g)].reduce(
    (sum, [, n, unit]) =>
      sum + Number(n) * { s: 1, min: 60, h: 3600, day: 86400, days: 86400 }[unit!]!,
    0,
  );

test("one time reads the same wherever it stands: alone, as the middle of any range, as an end", () => {
  fc.assert(
    fc.property(times, fc.double({ min: 0.01, max: 0.9, noNaN: true }), (t, share) => {
      const around = { value: t, low: t * (1 - share), high: t * (1 + share) };
      expect(formatRange(around, "duration").value).toBe(timeText(t));
      expect(formatRange({ value: t / 2, low: t / 3, high: t }, "duration").high).toBe(
        timeText(t, "up"),
      );
      expect(formatRange({ value: 2 * t, low: t, high: 3 * t }, "duration").low).toBe(
        timeText(t, "down"),
      );
      expect(rangeInWords(around, "duration")).toContain(timeText(t));
    }),
    { seed: 9 },
  );
});

test("a sure end is rounded away from danger, by less than a step; every time carries its unit", () => {
  fc.assert(
    fc.property(times, (t) => {
      const [down, near, up] = (["down", "nearest", "up"] as const).map((to) => timeText(t, to));
      for (const text of [down, near, up]) expect(text).toMatch(/^[\d.]+ (s|min|h|days?)\b/);
      const step = timeStep(t);
      expect(secondsOf(down!)).toBeLessThanOrEqual(t * (1 + 1e-9));
      expect(secondsOf(up!)).toBeGreaterThanOrEqual(t * (1 - 1e-9));
      for (const text of [down, near, up])
        expect(Math.abs(secondsOf(text!) - t)).toBeLessThanOrEqual(step * (1 + 1e-6));
    }),
    { seed: 10 },
  );
  // 18 min 8 s is never read as 18 min where it must be waited for
  expect(timeText(1088, "up")).toBe("18 min 30 s");
  expect(rangeInWords({ value: 3240, low: 1800, high: 7200 }, "duration")).toMatch(/54 min$/);
});

const withinADay = fc.double({ min: 0.5, max: 4e4, noNaN: true });

test("a window is rounded into itself, its best moment lies in it, and its ends never pass each other", () => {
  fc.assert(
    fc.property(withinADay, fc.double({ min: 1e-4, max: 0.9, noNaN: true }), (t, share) => {
      const window = { value: t, low: t * (1 - share), high: t * (1 + share) };
      const { value, low, high } = windowTexts(window);
      // two ends are not told more closely than a time like them is known anywhere
      const isMoment = window.high - window.low < timeStep(t);
      if (isMoment) {
        expect(low).toBe(high);
        expect(value).toBe(low);
        return;
      }
      // nothing is shown finer than a second above a minute and a half, than a tenth below
      if (low === high) {
        expect(window.high - window.low).toBeLessThan(window.high < 90 ? 0.3 : 3);
        return;
      }
      const [from, best, to] = [low, value, high].map(secondsOf) as [number, number, number];
      expect(from).toBeGreaterThanOrEqual(window.low * (1 - 1e-9));
      expect(to).toBeLessThanOrEqual(window.high * (1 + 1e-9));
      expect(from).toBeLessThan(to);
      expect(best).toBeGreaterThanOrEqual(from);
      expect(best).toBeLessThanOrEqual(to);
    }),
    { seed: 11, numRuns: 2000 },
  );
  // steps of 15 s would say from 6 min to 6 min; whole tens do lie in it
  const short = { value: 363.5, low: 354, high: 373 };
  expect(windowTexts(short)).toEqual({ value: "6 min", low: "6 min", high: "6 min 10 s" });
  // 2 s wide where the opening is known to half a minute
  expect(windowInWords({ value: 746.5, low: 745.5, high: 747.5 })).toBe("no room for bad luck");
  expect(windowInWords({ value: 600, low: 599.9, high: 600.1 })).toBe("no room for bad luck");
  // a long one reads as its ends do anywhere
  expect(windowInWords({ value: 690, low: 601, high: 779 })).toBe(
    "from 10 min 30 s to 12 min 30 s",
  );
});

test("a bound is rounded to its own side in either system, by less than a sixteenth of an inch", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.002, max: 0.3, noNaN: true }), (depth) => {
      for (const system of ["metric", "shop-us"] as const)
        for (const towards of ["down", "up"] as const) {
          const read = readQuantity(boundText(depth, "length", towards, system), "length");
          if (isProblem(read)) throw new Error(JSON.stringify(read));
          const over = read.value - depth;
          expect(towards === "down" ? -over : over).toBeGreaterThan(-1e-11);
          expect(Math.abs(over)).toBeLessThan(0.00159);
        }
    }),
    { numRuns: 500 },
  );
});

test("a temperature that stays within its limit reads so in either system, and one beyond it reads beyond", () => {
  const kelvin = fc.double({ min: 290, max: 480, noNaN: true });
  const number = (text: string) => Number(text.split(" ")[0]);
  fc.assert(
    fc.property(kelvin, kelvin, (peak, limit) => {
      for (const system of ["metric", "shop-us"] as const)
        for (const [towards, sign] of [
          ["up", 1],
          ["down", -1],
        ] as const) {
          const read = number(boundText(peak, "temperature", towards, system, limit));
          const held = number(formatQuantity(limit, "temperature", { system }));
          if (sign * (limit - peak) >= 0) expect(sign * (held - read)).toBeGreaterThanOrEqual(0);
          else
            expect(boundText(peak, "temperature", towards, system, limit)).toBe(
              boundText(peak, "temperature", towards, system),
            );
        }
    }),
    { numRuns: 500 },
  );
});

test("no figure is finer than calipers and scales show it", () => {
  const us = { system: "shop-us" } as const;
  expect(formatQuantity(0.001, "length", us)).toBe("0.039 in");
  expect(formatQuantity(0.0045, "length", us)).toBe("0.177 in");
  expect(formatQuantity(0.000028, "mass", us)).toBe("0.001 oz");
  expect(formatQuantity(0.00252, "mass", us)).toBe("0.089 oz");
  expect(formatQuantity(0.0002345, "length")).toBe("0.23 mm");
  expect(formatQuantity(0.01234, "length")).toBe("12.3 mm");
  // what is less than that is no nothing
  expect(formatQuantity(0.0000024, "length")).toBe("0.002 mm");
  expect(formatQuantity(0, "length")).toBe("0 mm");
  expect(spanInWords({ value: 20, low: 0, high: 120 }, "duration")).toBe("0 s to 2 min");
});
