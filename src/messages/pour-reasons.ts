/** Why a pour is refused, or what it harms. */

import type { PourReason } from "../../lib/questions/pour/verdict.ts";
import type { UnitSystem } from "../../lib/units/display.ts";

const LINES: Readonly<Record<PourReason, string>> = {
  too_hot: "It gets above 100 °C (212 °F): it can foam, crack and smoke.",
  near_cliff:
    "If room, pot life and heat all turn out badly, it is at the edge where a little more depth makes it run away.",
  above_limit: "It gets hotter than your limit for the peak.",
  melts_bed: "The bed under it goes soft.",
  melts_master: "The masters in it go soft.",
  never_hardens: "It does not harden in this room within a week.",
};

/** In the reader's units alone where they are named. */
export function pourReasonLine(code: PourReason, system: UnitSystem): string {
  return LINES[code].replace("100 °C (212 °F)", system === "metric" ? "100 °C" : "212 °F");
}
