/** How deep a first color is in its bait, and may be. m. */
import type { Layering } from "./types.ts";

/** Room that a lining leaves for the color within it, as a share of the bait. */
const WITHIN_LINING = 0.05;

/**
 * The deepest first color, m. A lining lies at both faces, so it has half.
 *
 * @param thickness of the bait where it is thickest, m
 */
export function deepestColor(form: Layering["form"] | undefined, thickness: number): number {
  return form === "skin" ? (thickness * (1 - WITHIN_LINING)) / 2 : thickness;
}

/** The depth of a first color where none is given, m: half of the bait; of a lining, which that would fill, a quarter. */
export function usualColor(form: Layering["form"] | undefined, thickness: number): number {
  return thickness / (form === "skin" ? 4 : 2);
}
