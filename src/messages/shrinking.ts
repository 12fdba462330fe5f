/** To what the figures of a shrinking are rounded: the same in the command and on its sheet. */
import type { UnitSystem } from "../../lib/units/display.ts";

/** Shares are the catalog's or the user's, with the digits that they were written with; what is made of them has these. */
export const SHARE_STEP = 0.001;

/** What a caliper shows without a doubt: 0.1 mm, 0.01 in. */
export const CALIPER_STEPS: Readonly<Record<UnitSystem, number>> = {
  metric: 1e-4,
  "shop-us": 2.54e-4,
};
