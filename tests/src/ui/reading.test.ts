import { expect, test } from "vitest";
import { type Kind, kinds } from "../../../lib/units/kinds.ts";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import { type Field, jobFields } from "../../../src/ui/job/fields.ts";
import { clockWords, countdownText, spokenTime } from "../../../src/ui/reading/clock.ts";
import { writing } from "../../../src/ui/reading/column.ts";
import {
  answerShown,
  inReaderUnit,
  readerUnit,
  shown,
  shownText,
} from "../../../src/ui/reading/shown.ts";
import { inReaderText } from "../../../src/ui/reading/typed.ts";

test("a time is shown with its units, in the same steps as everywhere", () => {
  const s = shown({ value: 321.4, low: 289, high: 371 }, "s", "metric");
  expect(s.parts).toEqual([
    { figure: "5", unit: "min" },
    { figure: "15", unit: "s" },
  ]);
  expect(s.range).toBe("between 4 min 40 s and 6 min 15 s, most likely 5 min 15 s");
  expect(shownText(321.4, "s", "metric")).toBe("5 min 15 s");
  expect(s.spoken).toBe("5 minutes 15 seconds");
  expect(s.other).toBeUndefined();
});

test("long times are in hours, short ones in seconds", () => {
  expect(
    shown({ value: 20_400, low: 18_000, high: 23_000 }, "s", "metric").parts.map((p) => p.unit),
  ).toEqual(["h", "min"]);
  expect(shown({ value: 42, low: 38, high: 47 }, "s", "metric").parts).toEqual([
    { figure: "42", unit: "s" },
  ]);
  expect(clockWords(89)).toBe("89 s");
  expect(clockWords(90)).toBe("1 min 30 s");
});

test("a temperature is shown in both systems, and a difference gets no offset", () => {
  // 328.15 K = 55 degC = 131 degF, by definition of the scales
  expect(shown({ value: 328.15, low: 325, high: 331 }, "degC", "metric")).toMatchObject({
    other: "131 °F",
  });
  expect(shown({ value: 328.15, low: 325, high: 331 }, "degC", "shop-us")).toMatchObject({
    other: "55 °C",
  });
  expect(inReaderUnit(10, "K", "shop-us")).toBeCloseTo(18, 12);
  expect(readerUnit("K", "shop-us")).toBe("°F");
});

test("numbers without a unit and of unknown units are shown as they are", () => {
  expect(shownText(12, "1", "shop-us")).toBe("12");
  expect(shownText(0.16234, "W/(m K)", "metric")).toBe("0.162 W/(m K)");
  expect(shown({ value: 2.345, low: 2.1, high: 2.6 }, "", "metric").parts).toEqual([
    { figure: "2.35", unit: "" },
  ]);
});

test("the countdown never shows less than is left", () => {
  expect(countdownText(320)).toBe("5:20");
  expect(countdownText(319.2)).toBe("5:20");
  expect(countdownText(0.2)).toBe("0:01");
  expect(countdownText(3725)).toBe("1:02:05");
  expect(spokenTime(61)).toBe("61 seconds");
  expect(spokenTime(3660)).toBe("1 hour 1 minute");
});

test("the other system is no finer than the first, and says so where both are coarse", () => {
  // 100 to 400 degF, most likely 212: 373.15 K = 100 degC by definition; an eighth of the range is 21 K
  expect(shown({ value: 373.15, low: 310.93, high: 477.59 }, "degC", "shop-us").other).toBe(
    "about 100 \u00b0C",
  );
  // 0.9 oz = 25.5 g (28.349523 g per oz), known to 8 g: to the gram
  expect(shown({ value: 0.0255, low: 0.0215, high: 0.0295 }, "g", "shop-us").other).toMatch(
    /^2[56] g$/,
  );
  // a caliper: 12 mm = 0.4724 in
  expect(shown({ value: 0.012, low: 0.012, high: 0.012 }, "mm", "shop-us").parts).toEqual([
    { figure: "0.47", unit: "in" },
  ]);
});

test("numbers of a column have like decimals; inches of a rule are fractions", () => {
  const column = (unit: string, values: readonly number[]) =>
    values.map(writing(values, unit, "shop-us") ?? String);
  // 25.4 mm to the inch
  expect(column("mm", [0.0015, 0.016, 0.03])).toEqual(["0.059", "0.630", "1.181"]);
  expect(column("mm", [0.009525, 0.0254, 0.022225])).toEqual(["3/8", "1", "7/8"]);
  expect(column("%", [0.822, 0.981])).toEqual(["82", "98"]);
  expect(column("%", [0.00305, 0.0187, 0])).toEqual(["0.3", "1.9", "0.0"]);
  // 16 oz to the pound, 28.349523 g to the ounce: all of them in ounces
  expect(column("g", [0.0879, 8.916])).toEqual(["3.1", "314.5"]);
  expect(column("1", [1, 2, 12])).toEqual(["1", "2", "12"]);
});

test("what is possible is said in the unit that is switched on, times and words as they are", () => {
  expect(inReaderText("1 mm", "shop-us")).toBe("0.04 in");
  expect(inReaderText("400 degF", "metric")).toBe("204 degC");
  expect(inReaderText("250 degF", "shop-us")).toBe("250 degF");
  for (const text of ["1 h", "40 %", "as the shot", "3"])
    expect(inReaderText(text, "metric")).toBe(text);
});

test("ends of what is possible are said in the switched-on units, inwards, and may be typed", () => {
  // by definition: 0.3048 m to the foot and 5280 ft to the mile, 28.349523125 g to the ounce, 29.5735295625 ml
  expect(inReaderText("0.2 m/s", "shop-us", "up")).toBe("0.448 mi/h"); // 0.44739
  expect(inReaderText("10 m/s", "shop-us", "down")).toBe("22.3 mi/h"); // 22.369
  expect(inReaderText("40 K", "shop-us", "down")).toBe("72 degF");
  expect(inReaderText("100 g", "shop-us", "down")).toBe("3.52 oz"); // 3.5274
  expect(inReaderText("20 kg", "shop-us", "down")).toBe("44 lb"); // 44.092
  expect(inReaderText("5 l", "shop-us", "down")).toBe("169 floz"); // 169.07
  expect(inReaderText("500 mm", "shop-us", "down")).toBe("19.6 in"); // 19.685
  expect(inReaderText("130 degC", "shop-us", "up")).toBe("266 degF");
  expect(inReaderText("0 K", "shop-us", "up")).toBe("0 degF");
  expect(inReaderText("0 degC", "shop-us", "up")).toBe("32 degF");
});

test("no quantity of the job form has an end in the other system, and every end that is told can be typed", () => {
  const seen: string[] = [];
  const look = (fields: readonly Field[]): void => {
    for (const field of fields) {
      if (field.kind === "group") look(field.fields);
      else if (field.kind === "list") look([field.item(0)]);
      else if (Object.hasOwn(kinds, field.holds)) {
        const kind = field.holds as Kind;
        for (const [end, towards, side] of [
          [field.least, "up", 1],
          [field.most, "down", -1],
        ] as const) {
          if (end === undefined) continue;
          const told = inReaderText(end, "shop-us", towards);
          seen.push(told);
          expect(told).not.toMatch(/\d (mm|cm|degC|K|g|kg|ml|l|m\/s|kg\/m\^3)$/);
          const [from, to] = [end, told].map((text) => readQuantity(text, kind));
          if (isProblem(from!) || isProblem(to!)) throw new Error(`${end}, ${told}: no quantity`);
          expect(side * (to!.value - from!.value)).toBeGreaterThan(-1e-9);
        }
      }
    }
  };
  look(jobFields());
  expect(seen.length).toBeGreaterThan(100);
});

test("a step that is asked for holds for a number and its range, and a bound may have a range", () => {
  const share = { value: 0.007, low: 0, high: 0.02, unit: "%" };
  const catalog = answerShown({ ...share, step: 0.001 }, "metric")!;
  expect(catalog.parts[0]!.figure).toBe("0.7");
  expect(catalog.range).toBe("between 0.0 % and 2.0 %, most likely 0.7 %");
  const long = { value: 0.10488, low: 0.1041, high: 0.1072, unit: "mm" };
  const step = { metric: 1e-4, "shop-us": 2.54e-4 };
  expect(answerShown({ ...long, step }, "metric")!.parts[0]!.figure).toBe("104.9");
  // 104.88 / 25.4 = 4.129
  expect(answerShown({ ...long, step }, "shop-us")!.parts[0]!.figure).toBe("4.13");
  // 3.951 mm of at most 0 to 13.9: never read as more
  const most = { value: 0.003951, low: 0, high: 0.01393, unit: "mm", towards: "down" } as const;
  expect(answerShown(most, "metric")).toMatchObject({
    parts: [{ figure: "3" }],
    range: "between 0 mm and 14 mm, most likely 3 mm",
  });
});
