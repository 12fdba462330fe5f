/**
 * Colors that are put into a mold one after the other, and the stages of heat of doing so. The same for one dimension and two: a
 * sequence names its regions and probes.
 *
 * Symbols: T K, t s.
 */
import type { HealingTime } from "../../cure/healing.ts";
import type { Boundary, HeatProblem, Stage } from "../../heat/problem.ts";
import type { Material } from "../../materials/material.ts";

/** One color as it is poured: thickness m, temperature K. */
export interface Color {
  readonly name: string;
  readonly depth: number;
  readonly temperature: number;
  readonly material: Material;
}

/** Colors that are put into a mold one after the other. */
export interface ColorSequence {
  readonly poured: readonly Color[];
  readonly problem: Omit<HeatProblem, "stages">;
  /** Regions of each color, in order: one for each cavity. */
  readonly colors: readonly (readonly string[])[];
  /** Regions of the mold half that is put on with the last color. */
  readonly upper: readonly string[];
  /** What an open color looks at. */
  readonly exposed: Boundary;
  /** Probes on the interface between color k and the next, from its middle outwards. */
  readonly interfaces: readonly (readonly string[])[];
}

export interface ColorRules {
  /** No longer flows below this, K. */
  readonly setBelow: number;
  /** Hottest temperature that the interface must reach, K. */
  readonly bondAbove: number;
  /** Degree of healing that it must reach, 0 to 1. */
  readonly leastHealing: number;
  readonly healingTime: HealingTime;
}

export function stageOf(sequence: ColorSequence, k: number): Pick<Stage, "absent" | "exposed"> {
  const later = sequence.colors.slice(k + 1).flat();
  const closed = k === sequence.colors.length - 1;
  return { absent: closed ? later : [...later, ...sequence.upper], exposed: sequence.exposed };
}

export function refillOf(
  sequence: ColorSequence,
  k: number,
  temperature: number,
): NonNullable<Stage["refill"]> {
  return sequence.colors[k].map((name) => ({ name, temperature }));
}

/** The problem of a sequence with some of its probes: each one that is read costs a little at every step. */
export function reading(
  { problem }: ColorSequence,
  names: readonly string[],
): Omit<HeatProblem, "stages"> {
  const probes = Object.fromEntries(names.map((name) => [name, problem.probes[name]]));
  return { ...problem, probes };
}

/** Stages from the moment the color after k comes in until the hottest point of them all is at the limit. */
export function closedStages(
  sequence: ColorSequence,
  k: number,
  limit: number,
  until: number,
): Stage[] {
  const still = stageOf(sequence, k + 1);
  const colors = sequence.colors.slice(0, k + 2).map((_, c) => c);
  // the newest is the hottest, and once it is cool enough the others are asked
  return colors.reverse().map((c, i) => ({
    until: until * (1 + 1e-6 * i),
    ...(i === 0 && { refill: refillOf(sequence, k + 1, sequence.poured[k + 1].temperature) }),
    ...still,
    stop: { probe: `hottest ${c}`, below: limit },
  }));
}

/**
 * Stages of the first two colors: the first lies open for `wait` s, then the second comes in and both cool until the
 * hottest point of them is at the limit.
 */
export function colorStages(
  sequence: ColorSequence,
  wait: number,
  limit: number,
  longest: number,
): Stage[] {
  return [
    {
      until: wait,
      refill: refillOf(sequence, 0, sequence.poured[0].temperature),
      ...stageOf(sequence, 0),
    },
    ...closedStages(sequence, 0, limit, wait + longest),
  ];
}
