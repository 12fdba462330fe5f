/** Whether a pour hardens at all in its room: cold enough, it turns to glass while it is still liquid. */
import { timeToCure } from "../../cure/isothermal.ts";
import { firmCure, horizonOf, leastCureAt } from "./course.ts";
import type { PourSetting } from "./problem.ts";
import type { PouredResin } from "./resin.ts";
import type { PourRuns } from "./runs.ts";

/** Not firm everywhere within this, s: it counts as never hardening. */
export const LONGEST_TO_HARDEN = 7 * 24 * 3600;
/** A pour that takes this share of it at its coldest surroundings' temperature, without heat of its own, needs no look. */
const SURELY = 0.9;

/** Whether every place of it is firm within a week. */
export function hardens(runs: PourRuns, resin: PouredResin, setting: PourSetting): boolean {
  const { room, stock, bath } = setting;
  const coldest = Math.min(room, stock, bath ?? room);
  const { law, initial } = resin.material.cure!;
  const firm = firmCure(resin);
  const alone = timeToCure(law, coldest, { from: Math.max(1e-6, initial), to: firm });
  if (alone !== null && alone < SURELY * LONGEST_TO_HARDEN) return true;
  const until = Math.min(LONGEST_TO_HARDEN, horizonOf(resin, room, stock));
  return leastCureAt(runs.looked(resin, setting, until), resin) >= firm;
}
