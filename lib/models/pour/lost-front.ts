/** What a front of reaction that is narrower than the cells leaves open in the peak of a pour. K. */
import type { History } from "../../heat/problem.ts";
import type { PouredResin } from "./resin.ts";

/**
 * No peak of a pour is further above what cells without its front show than by this share of its adiabatic rise: fronts warm the
 * resin before them, and are soft against those of bodies that are heated at a face. Measured on 17 unlucky boxes with rises
 * of 168 to 175 K, against cells five times finer: deep ones were up to 23 K too cool, those that hardly run away too hot.
 */
const MOST_OFF = 0.2;

/** How much hotter than this run shows it may get, K: 0 where the cells follow every front. */
export function lostFront({ effort }: Pick<History, "effort">, resin: PouredResin): number {
  return Math.min(effort.frontError, (MOST_OFF * resin.heat) / resin.specificHeat);
}
