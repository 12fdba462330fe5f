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

/** How much hotter than this run shows it may get, K: 0 where the cells follow every front. */
export function lostFront(
  { effort }: Pick<History, "effort">,
  { heat, specificHeat }: PouredResin,
): number {
  const rise = heat / specificHeat;
  return effort.frontError > LEFT_OPEN * rise ? MOST_OFF * rise : 0;
}
