import { expect, test } from "vitest";
import { lengthsOf } from "../../../src/cli/table.ts";

const INCH = 0.0254;

test("lengths of a table are all fractions of an inch or all decimals", () => {
  const written = (inches: readonly number[]) => {
    const lengths = inches.map((x) => x * INCH);
    return lengths.map(lengthsOf(lengths, "shop-us"));
  };
  expect(written([1 / 16, 3 / 8, 1.5625])).toEqual(["1/16 in", "3/8 in", "1 9/16 in"]);
  // a sheet of a millimeter is none of them
  expect(written([0.03937, 3 / 8, 1.5625])).toEqual(["0.039 in", "0.375 in", "1.56 in"]);
  expect([0.001, 0.0095].map(lengthsOf([0.001, 0.0095], "metric"))).toEqual(["1 mm", "9.5 mm"]);
});
