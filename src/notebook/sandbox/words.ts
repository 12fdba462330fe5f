/** The sentences for what answers carry as codes, within reach of a working: `words.reason(...)`. */
import type { CautionCode, IgnoredCode, LeverCode, Reason } from "../../../lib/answers/answer.ts";
import { cautionLines } from "../../messages/cautions.ts";
import { ignoredLine } from "../../messages/ignored.ts";
import { leverLine } from "../../messages/levers.ts";
import { reasonPhrase } from "../../messages/reasons.ts";

export const words = {
  /** What decides: `the station belly is the slowest`. */
  reason: (reason: Reason): string => reasonPhrase(reason),
  /** Three lines at most: the first ones of what is named, then the one that defers to the data sheet. */
  cautions(codes: readonly CautionCode[]): string {
    const each = [...new Set(codes)].map(cautionLines);
    const [only] = each;
    if (only === undefined) return "";
    if (each.length === 1) return only.slice(0, 3).join(" ");
    const firsts = each.flatMap((lines) => lines.slice(0, 1)).slice(0, 2);
    return [...firsts, only.at(-1)].join(" ");
  },
  ignored: (codes: readonly IgnoredCode[]): string => codes.map(ignoredLine).join(" "),
  lever: (code: LeverCode): string => leverLine(code),
};
