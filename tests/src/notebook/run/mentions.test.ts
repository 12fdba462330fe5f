import { expect, test } from "vitest";
import { mentions } from "../../../../src/notebook/run/program.ts";

test.each([
  ["f(x)", "x", true],
  ["{ ...x }", "x", true],
  ["a.x", "x", false],
  ["a?.x", "x", false],
  ["xs + x1 + $x", "x", false],
])("%s mentions %s: %s", (text, name, told) => {
  expect(mentions(text, name)).toBe(told);
});
