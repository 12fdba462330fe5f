/** To what the figures of a shrinking are rounded: the same in the command and on its sheet. */
import type { UnitSystem } from "../../lib/units/display.ts";
import { formatQuantity, formatRange, rangeInWords, type Shown } from "../../lib/units/format.ts";

/** Shares are the catalog's or the user's, with the digits that they were written with; what is made of them has these. */
export const SHARE_STEP = 0.001;

/** What a caliper shows without a doubt: 0.1 mm, 0.01 in. */
export const CALIPER_STEPS: Readonly<Record<UnitSystem, number>> = {
  metric: 1e-4,
  "shop-us": 2.54e-4,
};

/** How much larger than the bait its first master is, or smaller where its castings grow. @param scale of the master */
export function sculptedText(scale: Shown): string {
  const off = (x: Shown, from: 1 | -1): Shown => ({
    value: from * (x.value - 1),
    low: from * ((from === 1 ? x.low : x.high) - 1),
    high: from * ((from === 1 ? x.high : x.low) - 1),
  });
  const step = { step: SHARE_STEP };
  if (scale.low >= 1) return `${rangeInWords(off(scale, 1), "ratio", step)} larger`;
  if (scale.high <= 1) return `${rangeInWords(off(scale, -1), "ratio", step)} smaller`;
  const { low } = formatRange({ value: 0, low: scale.low - 1, high: 0 }, "ratio", step);
  const { high } = formatRange({ value: 0, low: 0, high: scale.high - 1 }, "ratio", step);
  const likely = formatQuantity(Math.abs(scale.value - 1), "ratio", step);
  const most =
    Math.abs(scale.value - 1) < SHARE_STEP / 2
      ? "of the same size"
      : `${likely} ${scale.value < 1 ? "smaller" : "larger"}`;
  return `between ${low.replace("-", "")} smaller and ${high} larger, most likely ${most}`;
}
