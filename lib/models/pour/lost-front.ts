/** What a front of reaction that is narrower than the cells leaves open in the peak of a pour. K. */
import type { History } from "../../heat/problem.ts";
import type { PouredResin } from "./resin.ts";

/**
 * A pour's fronts warm the resin before them, and are soft against those of bodies that are heated at a face. Measured on 20
 * unlucky boxes and 12 layers with rises of 168 to 175 K against cells five times finer: where the cells leave open more
 * than the first share of the rise, deep ones were up to 0.14 of it too cool; where they leave open less, up to 0.01.
 */
const LEFT_OPEN = 0.35;
const MOST_OFF = 0.16;

/**
 * A look far from the walls knows no corner, where two fronts meet. Measured on 60 unlucky boxes against the cut across
 * them: below the first share of the rise it is no cooler than the cut, from the second on up to 0.33 of the rise, until
 * nothing of the resin is left as it was (of 25 without filler 5 were further off, all above 600 degC).
 */
const BEGINS = 0.65;
const FULL = 0.9;
const MOST_OFF_FAR_FROM_WALLS = 0.36;

/** How much hotter than far from the walls it may get in the box, K: 0 where it stays well below all its heat. */
export function frontInTheBox(
  peak: number,
  stock: number,
  { heat, specificHeat }: PouredResin,
): number {
  const rise = heat / specificHeat;
  const share = ((peak - stock) / rise - BEGINS) / (FULL - BEGINS);
  return Math.min(1, Math.max(0, share)) * MOST_OFF_FAR_FROM_WALLS * rise;
}

/** So much hotter than with nothing lost a peak is no matter of rounding, K. */
const FRONT_ADDS = 2;
/** What cells that follow a front still get wrong of a peak above all its heat: 12 K of 154, 13 of 196 (measured on cells 2.5 and 3.5 times finer). */
const FOLLOWED = 0.08;

/**
 * A peak above what all heat alone would make of it is that of a front, which warms the resin before it. How far off it may
 * be, to either side, K: 0 where it is no more than that.
 */
export function openOfFront(
  peak: number,
  stock: number,
  frontError: number,
  { heat, specificHeat }: PouredResin,
): number {
  const rise = heat / specificHeat;
  return peak > stock + rise + FRONT_ADDS ? Math.max(frontError, FOLLOWED * rise) : 0;
}

/** How much hotter than this run shows it may get, K: 0 where the cells follow every front. */
export function lostFront(
  { effort }: Pick<History, "effort">,
  { heat, specificHeat }: PouredResin,
): number {
  const rise = heat / specificHeat;
  return effort.frontError > LEFT_OPEN * rise ? MOST_OFF * rise : 0;
}
