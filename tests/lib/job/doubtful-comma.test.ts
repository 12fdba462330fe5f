import { expect, test } from "vitest";
import { checkJob } from "../../../lib/job/job.ts";
import { readNumber } from "../../../lib/units/number.ts";
import { readQuantity } from "../../../lib/units/quantity.ts";

test("123,456 may be 123.456 or 123456: it is asked about wherever a number is typed", () => {
  expect(readNumber("123,456")).toEqual({ ambiguous: ["123.456", "123456"] });
  expect(readQuantity("123,456 mm", "length")).toMatchObject({ code: "doubtful_comma" });
  const mixed = (ratio: string) =>
    checkJob({ bait: { thickness: "16 mm" }, mix: { pours: [{ volume: "1 l", ratio }] } }).job;
  for (const ratio of ["123,456:18", "100:1,234"])
    expect(() => mixed(ratio)).toThrow(/doubtful_comma/);
  expect(mixed("100:12,5").mix.pours[0]?.ratio).toMatchObject({ a: 100, b: 12.5 });
});
