import fc from "fast-check";
import { expect, test } from "vitest";
import { compileExpression } from "../../../lib/units/expression.ts";
import { InputError } from "../../../lib/units/problem.ts";

test.each([
  ["1500 + 2.5*T", 100, 1750],
  ["2 T", 3, 6],
  ["-T^2", 3, -9],
  ["2^-1", 0, 0.5],
  ["20 + 80*min(T/600, 1)", 900, 100],
  ["T < 10 ? 1 : 2", 5, 1],
  ["T < 10 ? 1 : 2", 15, 2],
  ["exp(log(T))", 7, 7],
  ["max(T, 3, 9)", 4, 9],
  ["2*pi", 0, 2 * Math.PI],
  ["1e-3*T", 1000, 1],
])("%s at %s", (text, x, expected) => {
  expect(compileExpression(text, "T")(x)).toBeCloseTo(expected, 12);
});

test.each([
  "T = 3",
  "x + 1",
  "T; T",
  "[1, 2]",
  "T.constructor",
  "f(T) = T",
  "constructor",
  "toString()",
  "import(1)",
  "createUnit(1)",
  "evaluate(1)",
  "sqrt",
  "sin(1, 2)",
  "{a: 1}",
  '"text"',
  "5 mm",
  "T!",
  "T'",
  "T and T",
  "1:3",
  "cos()",
  "",
  "(((",
  "i",
  "Infinity",
  "__proto__",
  "hasOwnProperty(T)",
  `${"1+".repeat(400)}1`,
  `${"-".repeat(90)}T`,
])("%s is refused", (text) => {
  expect(() => compileExpression(text, "T", "cp")).toThrow(InputError);
});

test("the problem names the word that is not allowed", () => {
  try {
    compileExpression("1500 + speed", "T", "cp");
    expect.unreachable();
  } catch (error) {
    expect((error as InputError).problems[0]).toMatchObject({
      code: "not_in_a_formula",
      path: "cp",
      given: "speed",
    });
  }
});

test("a typed line equals the line", () => {
  const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  fc.assert(
    fc.property(number, number, number, (a, b, x) => {
      const line = compileExpression(`(${a}) + (${b})*t`, "t");
      // plus zero: the sign of a zero is no matter
      expect(line(x) + 0).toBe(a + b * x + 0);
    }),
  );
});
