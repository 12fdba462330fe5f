import { expect, test } from "vitest";
import { clockWords, countdownText, spokenTime } from "../../../src/ui/reading/clock.ts";
import { inReaderUnit, readerUnit, shown, shownText } from "../../../src/ui/reading/shown.ts";

test("a time is shown as on a clock, no finer than its range", () => {
  const s = shown(321.4, 289, 371, "s", "metric");
  expect(s.parts).toEqual([{ figure: "5:20", unit: "min" }]);
  expect(s.range).toBe("between 4:50 and 6:10, most likely 5:20");
  expect(s.spoken).toBe("5 minutes 20 seconds");
  expect(s.other).toBeUndefined();
});

test("long times are in hours, short ones in seconds", () => {
  expect(shown(20_400, 18_000, 23_000, "s", "metric").parts.map((p) => p.unit)).toEqual([
    "h",
    "min",
  ]);
  expect(shown(42, 38, 47, "s", "metric").parts).toEqual([{ figure: "42", unit: "s" }]);
  expect(clockWords(89)).toBe("89 s");
  expect(clockWords(90)).toBe("1:30");
});

test("a temperature is shown in both systems, and a difference gets no offset", () => {
  // 328.15 K = 55 degC = 131 degF, by definition of the scales
  expect(shown(328.15, 325, 331, "degC", "metric")).toMatchObject({ other: "131 °F" });
  expect(shown(328.15, 325, 331, "degC", "shop-us")).toMatchObject({ other: "55 °C" });
  expect(inReaderUnit(10, "K", "shop-us")).toBeCloseTo(18, 12);
  expect(readerUnit("K", "shop-us")).toBe("°F");
});

test("numbers without a unit and of unknown units are shown as they are", () => {
  expect(shownText(12, "1", "shop-us")).toBe("12");
  expect(shownText(0.16234, "W/(m K)", "metric")).toBe("0.162 W/(m K)");
  expect(shown(2.345, 2.1, 2.6, "", "metric").parts).toEqual([{ figure: "2.35", unit: "" }]);
});

test("the countdown never shows less than is left", () => {
  expect(countdownText(320)).toBe("5:20");
  expect(countdownText(319.2)).toBe("5:20");
  expect(countdownText(0.2)).toBe("0:01");
  expect(countdownText(3725)).toBe("1:02:05");
  expect(spokenTime(61)).toBe("61 seconds");
});
