/** What hot plastic shrinks, and what part of it the sprue can still feed. T K, expansion 1/K. */

import type { Shells } from "../../models/sprue/cooling.ts";
import { linearAt } from "../../numerics/linear.ts";
import { Checks } from "../../units/check.ts";

/**
 * Share of its volume that plastic loses from one temperature to another.
 *
 *     share = 1 - exp[-expansion (from - to)]
 *
 * @param expansion of the volume, 1/K, 0 to 0.01
 * @param from K
 * @param to K, lower; a higher one gives a negative share: it grows
 * @returns share of the volume at `from`
 * @throws InputError when an input is out of range
 * @example shrinkShare(7e-4, 443.15, 293.15) // 0.0996755
 */
export function shrinkShare(expansion: number, from: number, to: number): number {
  const checks = new Checks();
  checks.number("expansion", expansion, { least: 0, most: 0.01 });
  checks.number("from", from, { above: 0, most: 1000 });
  checks.number("to", to, { above: 0, most: 1000 });
  checks.done();
  return -Math.expm1(-expansion * (from - to));
}

/** What a cross section that no longer is fed still does. */
export interface Unfed {
  /** Volume share that it shrinks until it is at room temperature. */
  readonly left: number;
  /** Of that: what the part that still flows calls for until it sets. A sprue that stayed open would have fed it. */
  readonly unfed: number;
  /** Share of the volume that still flows. */
  readonly fluid: number;
}

/**
 * Shrinking that is left in a section, by its shells.
 *
 * Plastic that still flows draws more in until it sets: `unfed` = mean of 1 - exp[-expansion (T - set)] over what is
 * hotter than `set`. The rest of `left` is the shrinking of a soft solid, which no sprue feeds and which makes the
 * bait smaller all over.
 */
export function shrinkLeft(
  { share, T }: Shells,
  expansion: number,
  set: number,
  room: number,
): Unfed {
  let left = 0;
  for (let i = 0; i < share.length; i++) left += share[i] * -Math.expm1(-expansion * (T[i] - room));
  return {
    left,
    unfed: unfedShare({ share, T }, expansion, set),
    fluid: fluidShare({ share, T }, set),
  };
}

/** Volume share that the part which still flows calls for until it sets: `Unfed.unfed`. */
export function unfedShare({ share, T }: Shells, expansion: number, set: number): number {
  let unfed = 0;
  for (let i = 0; i < share.length; i++)
    if (T[i] > set) unfed += share[i] * -Math.expm1(-expansion * (T[i] - set));
  return unfed;
}

/**
 * Share of a section that is hotter than `set`: linear between its shells from the coldest on, each of which has half of it
 * colder than its own temperature. Counted whole, a shell that sets would make the skin thicker at one blow.
 */
function fluidShare({ share, T }: Shells, set: number): number {
  const order = Array.from(T, (_, i) => i).sort((a, b) => T[a] - T[b]);
  let colder = 0;
  const middles = order.map((i) => {
    colder += share[i];
    return colder - share[i] / 2;
  });
  const sorted = order.map((i) => T[i]);
  const [first, last] = [0, order.length - 1];
  if (set < sorted[first]) return 1;
  if (set >= sorted[last]) return 0;
  return Math.min(1, Math.max(0, colder - linearAt(sorted, middles, set)));
}

/**
 * Thickness of the skin that no longer flows, as a share of half the thickness: 0 none, 1 set through.
 *
 * @param fluid share of the section that still flows, 0 to 1
 * @param form a bar keeps a round core, a sheet a flat one
 * @throws InputError when an input is out of range
 * @example skinShare(0.25, "round") // 0.5
 * @example skinShare(0.25, "flat") // 0.75
 */
export function skinShare(fluid: number, form: "round" | "flat"): number {
  const checks = new Checks();
  checks.number("fluid", fluid, { least: 0, most: 1 });
  checks.done();
  return 1 - (form === "round" ? Math.sqrt(fluid) : fluid);
}

/** What unfed shrinkage comes to: nothing, a dent of the soft skin, or a hollow inside a stiff one. */
export type Defect = "none" | "dent" | "void";

/**
 * What comes of shrinking that was not fed: little is not seen; a thin skin is drawn in and dents; a stiff thick one
 * stands, and a void opens inside.
 *
 * Both limits are guesses without a source: weigh and cut open a few baits, and move them.
 *
 * @param unfed share of the volume
 * @param skin share of half the thickness
 * @param limits `tolerated` share of the volume that is not seen; `stiffSkin` share of half the thickness
 * @throws InputError when an input is out of range
 * @example defectOf(0.02, 0.1, { tolerated: 0.005, stiffSkin: 0.3 }) // "dent"
 * @example defectOf(0.02, 0.5, { tolerated: 0.005, stiffSkin: 0.3 }) // "void"
 */
export function defectOf(
  unfed: number,
  skin: number,
  limits: { readonly tolerated: number; readonly stiffSkin: number },
): Defect {
  const checks = new Checks();
  checks.number("unfed", unfed, { least: 0, most: 1 });
  checks.number("skin", skin, { least: 0, most: 1 });
  checks.number("tolerated", limits.tolerated, { least: 0, most: 1 });
  checks.number("stiffSkin", limits.stiffSkin, { least: 0, most: 1 });
  checks.done();
  if (unfed <= limits.tolerated) return "none";
  return skin < limits.stiffSkin ? "dent" : "void";
}
