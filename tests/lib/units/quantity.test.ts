import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Kind } from "../../../lib/units/kinds.ts";
import { isProblem, parseQuantity, readQuantity, valueIn } from "../../../lib/units/quantity.ts";

// exact: 1 in = 25.4 mm, 1 lb = 453.59237 g (international yard and pound agreement, 1959);
// 1 fl oz = 29.5735295625 ml (231 in3 per US gallon, 128 fl oz per gallon)
const GOOD: [string, Kind, number][] = [
  ["8.5 in", "length", 0.2159],
  ["1 1/4 in", "length", 0.03175],
  ["1-1/4 in", "length", 0.03175],
  ["1 - 1/4 in", "length", 0.03175],
  ["1‑1/4 in", "length", 0.03175],
  ["-1-1/4 in", "length", -0.03175],
  ["3/8 in", "length", 0.009525],
  ['1 1/4"', "length", 0.03175],
  ["1¼ in", "length", 0.03175],
  ["0,5 mm", "length", 0.0005],
  [",5 mm", "length", 0.0005],
  ["0,125 in", "length", 0.003175],
  ["20 thou", "length", 0.000508],
  ["5 ft 3 in", "length", 1.6002],
  ["50 µm", "length", 5e-5],
  ["1e-3 m", "length", 1e-3],
  ["338 degF", "temperature", 443.15],
  ["338 °F", "temperature", 443.15],
  ["338°F", "temperature", 443.15],
  ["338 F", "temperature", 443.15],
  ["338 deg F", "temperature", 443.15],
  ["20 degC", "temperature", 293.15],
  ["-5 °C", "temperature", 268.15],
  ["−5 ℃", "temperature", 268.15],
  ["300 K", "temperature", 300],
  ["18 degF", "temperatureDifference", 10],
  ["10 °C", "temperatureDifference", 10],
  ["10 K", "temperatureDifference", 10],
  ["5 min", "duration", 300],
  ["1 h 30 min", "duration", 5400],
  ["4:50", "duration", 290],
  ["1:04:50", "duration", 3890],
  ["7 days", "duration", 604800],
  ["1,23 kg", "mass", 1.23],
  ["2 oz", "mass", 0.05669904625],
  ["2 lb", "mass", 0.90718474],
  ["2 lb 3 oz", "mass", 0.992233309375],
  ["3 fl oz", "volume", 8.87205886875e-5],
  ["250 ml", "volume", 2.5e-4],
  ["2 cu in", "volume", 3.2774128e-5],
  ["1,06 g/cm³", "density", 1060],
  ["0.14 W/mK", "conductivity", 0.14],
  ["0.14 W/m/K", "conductivity", 0.14],
  ["0.14 W/(m·K)", "conductivity", 0.14],
  ["1.9 kJ/kgK", "specificHeat", 1900],
  ["1000 W/m2K", "conductance", 1000],
  ["1000 W/m²K", "conductance", 1000],
  ["0.1 W/cm2/K", "conductance", 1000],
  ["30 %", "ratio", 0.3],
  ["450 J/g", "energyPerMass", 450e3],
  ["55 kJ/mol", "energyPerMole", 55e3],
  ["6 1/min", "rate", 0.1],
  ["1 l/min", "flow", 1 / 60000],
  ["2 m/s", "speed", 2],
  ["7 mph", "speed", 3.12928],
  ["700 mPa s", "viscosity", 0.7],
  ["2 cu. in.", "volume", 3.2774128e-5],
  ["2 CU. IN.", "volume", 3.2774128e-5],
  ["3 fl. oz.", "volume", 8.87205886875e-5],
  ["5 sec.", "duration", 5],
  ["5 lb.", "mass", 2.26796185],
  ["16 MM", "length", 0.016],
  ["5/8 IN.", "length", 0.015875],
  ["2 Oz", "mass", 0.05669904625],
  ["5 FL OZ", "volume", 1.478676478125e-4],
  ["2 H 30 MIN", "duration", 9000],
  ["68 degrees F", "temperature", 293.15],
  ["68 Fahrenheit", "temperature", 293.15],
  ["20 degrees Celsius", "temperature", 293.15],
];

test.each(GOOD)("%s as %s", (text, kind, expected) => {
  expect(parseQuantity(text, kind) / expected).toBeCloseTo(1, 12);
});

const BAD: [unknown, Kind, string][] = [
  ["1,234.5 mm", "length", "doubtful_comma"],
  ["1.234,5 mm", "length", "doubtful_comma"],
  ["1,234 g", "mass", "doubtful_comma"],
  ["1.234.567 g", "mass", "doubtful_comma"],
  ["16", "length", "unit_missing"],
  [16, "length", "unit_missing"],
  ["30", "ratio", "unit_missing"],
  ["2 oz", "volume", "weight_not_volume"],
  ["3 fl oz", "mass", "volume_not_weight"],
  ["5 m", "duration", "meters_not_minutes"],
  ["20 degC", "length", "wrong_kind"],
  ["5 kg", "temperature", "wrong_kind"],
  ["20 blobs", "length", "unknown_unit"],
  ["NaN mm", "length", "not_a_number"],
  [Number.NaN, "length", "not_a_number"],
  [Number.POSITIVE_INFINITY, "length", "not_a_number"],
  ["Infinity mm", "length", "not_a_number"],
  ["1/0 in", "length", "not_a_number"],
  ["1e999 mm", "length", "not_a_number"],
  ["", "length", "not_a_quantity"],
  ["mm", "length", "not_a_quantity"],
  ["5-6 mm", "length", "unknown_unit"],
  ["20 degC 30 degC", "temperature", "not_a_quantity"],
  [true, "length", "not_text"],
  [null, "length", "not_text"],
  [["5 mm"], "length", "not_text"],
  ["1".repeat(61), "length", "not_a_quantity"],
  ["5 constructor", "length", "unknown_unit"],
];

test.each(BAD)("%s as %s is refused", (given, kind, code) => {
  const read = readQuantity(given, kind, "bait.thickness");
  expect(read).toMatchObject({ code, path: "bait.thickness" });
});

test("both readings of a doubtful comma are offered, ready to type", () => {
  expect(readQuantity("1,234 g", "mass")).toMatchObject({ possible: ["1.234 g", "1234 g"] });
  expect(readQuantity("1,234.5 g", "mass")).toMatchObject({ possible: ["1234.5 g", "12345 g"] });
});

describe("round trips", () => {
  const UNITS: [Kind, string][] = [
    ["length", "mm"],
    ["length", "in"],
    ["temperature", "degF"],
    ["temperature", "degC"],
    ["temperatureDifference", "degF"],
    ["duration", "min"],
    ["mass", "oz"],
    ["volume", "floz"],
    ["conductivity", "W/(m K)"],
    ["ratio", "%"],
  ];
  test.each(UNITS)("%s in %s", (kind, unit) => {
    fc.assert(
      fc.property(fc.double({ min: -1e4, max: 1e4, noNaN: true }), (x) => {
        const read = readQuantity(`${x} ${unit}`, kind);
        if (isProblem(read)) throw new Error(read.code);
        const back = valueIn(read.value, read.unit, kind);
        // the zero of the Fahrenheit scale lies 460 degrees off: that much may be lost in the last digits
        expect(Math.abs(back - x)).toBeLessThanOrEqual(1e-12 * (Math.abs(x) + 1000));
      }),
    );
  });

  test("a decimal comma means what the point means", () => {
    fc.assert(
      fc.property(fc.integer({ min: -99999, max: 99999 }), (n) => {
        const text = (n / 100).toFixed(2);
        expect(parseQuantity(`${text.replace(".", ",")} mm`, "length")).toBe(
          parseQuantity(`${text} mm`, "length"),
        );
      }),
    );
  });

  test("any text gives a finite number or a problem, never NaN and never an exception", () => {
    const typed = fc.oneof(
      fc.string(),
      fc.stringMatching(/^[-+0-9.,/ eE]{0,12} ?(mm|in|degC|oz|min|"|')?$/),
    );
    fc.assert(
      fc.property(
        typed,
        fc.constantFrom<Kind>("length", "temperature", "duration"),
        (text, kind) => {
          const read = readQuantity(text, kind);
          if (!isProblem(read)) expect(Number.isFinite(read.value)).toBe(true);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

test.each(["3/4 in 2", "10 mm 5", "1 lb 2"])(
  "a number that trails its unit is no part of %s",
  (typed) => {
    const kind = typed.includes("lb") ? "mass" : "length";
    expect(readQuantity(typed, kind, "here")).toMatchObject({
      code: "not_a_quantity",
      given: typed,
    });
  },
);
