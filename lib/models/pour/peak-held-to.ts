/** The peak of a pour, as closely as what it is held against asks for. K. */
import type { PourSetting } from "./problem.ts";
import type { PouredResin } from "./resin.ts";
import type { PourPeak, PourRuns } from "./runs.ts";

/**
 * The peak in the cut across the box, on the coarse grid. Where its lost front alone would carry it past one of the
 * temperatures that it is held against, the fine grid is asked: a front that only just fits between the coarse cells is
 * followed there.
 *
 * @param heldTo K
 */
export function peakHeldTo(
  runs: PourRuns,
  resin: PouredResin,
  setting: PourSetting,
  heldTo: readonly number[],
): PourPeak {
  const coarse = runs.sectionPeak(resin, setting);
  const { value, lost } = coarse;
  const inDoubt = heldTo.some((most) => value <= most && most < value + lost);
  return inDoubt ? runs.finePeak(resin, setting) : coarse;
}
