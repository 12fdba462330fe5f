/** Masters that nobody measured: the bait's own shape. Lengths m. */
import type { Bait } from "./types.ts";

/**
 * As wide as the bait's widest station, standing out of the bed by half of its tallest: they are bedded to their middle.
 * No higher than half the pour, so that a default never stands out of the resin.
 */
export function mastersOfBait({ stations }: Pick<Bait, "stations">, depth: number) {
  const most = (side: "width" | "height") => Math.max(...stations.map((one) => one[side]));
  return { width: most("width"), height: Math.min(most("height") / 2, depth / 2) };
}
