/** The sentences for what answers carry as codes, within reach of a working: `words.reason(...)`. */
import type { CautionCode, IgnoredCode, LeverCode, Reason } from "../../../lib/questions/answer.ts";
import { cautionLines } from "../../messages/cautions.ts";
import { ignoredLine } from "../../messages/ignored.ts";
import { leverLine } from "../../messages/levers.ts";
import { reasonPhrase } from "../../messages/reasons.ts";

export const words = {
  /** What decides: `the station belly is the slowest`. */
  reason: (reason: Reason): string => reasonPhrase(reason),
  /** At most three lines of caution in all, each once. */
  cautions: (codes: readonly CautionCode[]): string =>
    [...new Set(codes.flatMap((code) => cautionLines(code)))].slice(0, 3).join(" "),
  ignored: (codes: readonly IgnoredCode[]): string => codes.map(ignoredLine).join(" "),
  lever: (code: LeverCode): string => leverLine(code),
};
