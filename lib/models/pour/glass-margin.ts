/** Whether the face of a mold stays glass under its shots. Temperatures K. */
import { Checks } from "../../units/check.ts";

/** Whether a cast mold stays glass in use. */
export interface GlassMargin {
  /** Glass transition less the hottest cavity face, K: negative, the face goes soft in use. */
  readonly margin: number;
  readonly holds: boolean;
}

/**
 * What is left between the glass transition of a mold and the hottest that its cavity face gets from the shots.
 *
 * @param glass glass transition reached, K
 * @param wallPeak hottest face, K, from `shots` or `demold`
 * @throws InputError when an input is out of range
 * @example glassMargin(325, 334).margin // -9
 */
export function glassMargin(glass: number, wallPeak: number): GlassMargin {
  const checks = new Checks();
  checks.number("glass", glass, { above: 100, most: 700 });
  checks.number("wallPeak", wallPeak, { above: 200, most: 700 });
  checks.done();
  return { margin: glass - wallPeak, holds: glass > wallPeak };
}
