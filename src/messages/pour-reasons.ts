/** Why a pour is refused, or what it harms. */

import type { PourReason } from "../../lib/questions/pour/verdict.ts";
import { fromUnit, type UnitSystem } from "../../lib/units/display.ts";
import { formatQuantity } from "../../lib/units/format.ts";

const LINES: Readonly<Record<PourReason, string | ((hot: string) => string)>> = {
  too_hot: (hot) => `It gets above ${hot}: it can foam, crack and smoke.`,
  too_hot_with_bad_luck: (hot) =>
    `If room, pot life and heat all turn out badly, it gets above ${hot}: it can foam, crack and smoke.`,
  past_cliff: "It is deeper than the depth from which it most likely runs away.",
  near_cliff:
    "If room, pot life and heat all turn out badly, it is at the edge where a little more depth makes it run away.",
  lost_front:
    "Where it runs away in a front narrower than the cells that are looked at, what they may miss is counted in how hot it gets.",
  above_limit: "It gets hotter than your limit for the peak.",
  no_room_for_bad_luck: "It is deeper than is safe if room, pot life and heat all turn out badly.",
  melts_bed: "The bed under it goes soft.",
  melts_master: "The masters in it go soft.",
  never_hardens: "It does not harden in this room within a week.",
};

export function pourReasonLine(code: PourReason, system: UnitSystem): string {
  const line = LINES[code];
  return typeof line === "string"
    ? line
    : line(formatQuantity(fromUnit(100, "degC"), "temperature", { system }));
}
