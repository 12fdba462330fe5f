/** Glass transition by cure. Temperatures in K. */
import { Checks } from "../units/check.ts";

/** DiBenedetto's three constants. */
export interface GlassTransition {
  /** Glass transition of the uncured mix, K. */
  readonly uncured: number;
  /** Of the fully cured resin, K; above `uncured`. */
  readonly cured: number;
  /** Curvature, 0 < lambda <= 1. */
  readonly lambda: number;
}

/**
 * Glass transition temperature of a partly cured resin, in K.
 *
 *     Tg = Tg0 + (Tg1 - Tg0) lambda a / (1 - (1 - lambda) a)
 *
 * @param glass constants, K; holds for stoichiometric mixes between 0 and full cure
 * @param cure 0 to 1
 * @throws InputError when a constant or the cure is out of range
 * @example glassTransition({ uncured: 251.15, cured: 403.15, lambda: 0.4 }, 0.6) // 308.15
 * @source DiBenedetto, J. Polym. Sci. B 25 (1987) 1949; form after Pascault & Williams, J. Polym. Sci. B 28 (1990) 85
 */
export function glassTransition(glass: GlassTransition, cure: number): number {
  checkGlass(glass, (checks) => checks.number("cure", cure, { least: 0, most: 1 }));
  return glassAt(glass, cure);
}

/** The same for loops over what was checked before. */
export function glassAt({ uncured, cured, lambda }: GlassTransition, cure: number): number {
  return uncured + ((cured - uncured) * lambda * cure) / (1 - (1 - lambda) * cure);
}

/**
 * Cure at which the glass transition reaches T: the inverse of `glassTransition`.
 *
 * @returns cure; above 1 when no cure makes the resin glassy at T, below 0 when even the fresh mix is a glass at T
 *   (continued in a straight line there)
 * @example glassCure({ uncured: 251.15, cured: 403.15, lambda: 0.4 }, 308.15) // 0.6
 */
export function glassCure(glass: GlassTransition, T: number): number {
  const span = glass.lambda * (glass.cured - glass.uncured);
  const above = T - glass.uncured;
  return above <= 0 ? above / span : above / (span + (1 - glass.lambda) * above);
}

/**
 * Cure at which an isothermal cure at T nearly stops, because the glass transition has risen `offset` above T.
 *
 * @param offset how far the glass transition outruns the cure temperature, K; 10 to 30 K is observed
 * @returns cure, 0 to 1; 1 when the resin never vitrifies at T
 * @throws InputError when a constant is out of range
 * @example vitrificationCure({ uncured: 251.15, cured: 403.15, lambda: 0.4 }, 298.15, 10) // 0.6
 * @source Prime, in Turi (ed.), Thermal Characterization of Polymeric Materials, 1997 (from memory)
 */
export function vitrificationCure(glass: GlassTransition, T: number, offset: number): number {
  checkGlass(glass, (checks) => {
    checks.number("T", T, { above: 0 });
    checks.number("offset", offset);
  });
  return Math.min(Math.max(glassCure(glass, T + offset), 0), 1);
}

function checkGlass(glass: GlassTransition, more: (checks: Checks) => void): void {
  const checks = new Checks();
  checks.number("uncured", glass.uncured, { above: 0 });
  checks.number("cured", glass.cured, { above: glass.uncured });
  checks.number("lambda", glass.lambda, { above: 0, most: 1 });
  more(checks);
  checks.done();
}
