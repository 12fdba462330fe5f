/** The sentences for what answers carry as codes, within reach of a working: `words.reason(...)`. */
import type { CautionCode, IgnoredCode, Reason } from "../../../lib/answers/answer.ts";
import { fromUnit, toUnit } from "../../../lib/units/display.ts";
import { formatQuantity } from "../../../lib/units/format.ts";
import { cautionTexts } from "../../messages/cautions.ts";
import { ignoredLine } from "../../messages/ignored.ts";
import { reasonPhrase } from "../../messages/reasons.ts";

export const words = {
  /** What decides: `the station belly is the slowest`. */
  reason: (reason: Reason): string => reasonPhrase(reason),
  /** A line for each caution, then the one that defers to the data sheet. */
  cautions: (codes: readonly CautionCode[]): string => cautionTexts(codes).join(" "),
  ignored: (codes: readonly IgnoredCode[]): string => codes.map(ignoredLine).join(" "),
  /** Two figures of a length for running text, which knows no reader's units, in both: `3 mm (0.12 in)`. */
  length: (meters: number): string => {
    const inches = fromUnit(Number(toUnit(meters, "in").toPrecision(2)), "in");
    const metric = formatQuantity(Number(meters.toPrecision(2)), "length");
    return `${metric} (${formatQuantity(inches, "length", { system: "shop-us" })})`;
  },
};
