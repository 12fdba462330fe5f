/** What follows once the next color is in: remelting of the one before, cooling until the mold may be opened. */

import { makeRepeat } from "../../heat/repeat.ts";
import type { RunRecord } from "../../heat/run-record.ts";
import { type Course, courseBetween, LONGEST_COOLING } from "../../models/cooling.ts";
import { closedStages } from "../../models/layer/colors.ts";
import type { OpenColor } from "../../models/layer/open-color.ts";
import type { Stack } from "../../models/layer/stack.ts";
import { wallPeakOf } from "../../models/wall-peak.ts";

export interface Remelted {
  /** Deepest that the earlier color gets hotter than it may to stay set, m. */
  readonly depth: number;
  /** Of its whole depth, 0 to 1. */
  readonly share: number;
  /** Where along the interface it is deepest: 0 in the middle, 1 at the mold. */
  readonly along: number;
}

export interface Closed {
  /** From the second injection until the hottest point of all colors is at the limit, s; Infinity: never. */
  readonly opensAfter: number;
  readonly remelt: Remelted;
  readonly wallPeak: number;
  /** Cavity face as the mold is opened. */
  readonly wallOpened: number;
  /** Middle of the interface and cavity face below, from the injection on. */
  readonly course: Course;
  /** Temperatures of all cells when the last stage ends. */
  readonly state: Float64Array;
  readonly steps: number;
  readonly imbalance: number;
}

/** Hottest that the cavity face gets under the color that lies open, K: that is when the mold is shot into. */
export function openWallPeak({ record: { trace }, names }: OpenColor): number {
  const wall = trace.column(names.indexOf("wall") + 1);
  return wallPeakOf({ times: trace.column(0), probes: { wall } });
}

/** Puts the next color in at time `t` of the one that lies open, and follows both. */
export function closeAt(stack: Stack, openColor: OpenColor, t: number, limit: number): Closed {
  const { k, rules, solving } = openColor;
  const stages = closedStages(stack, k, limit, LONGEST_COOLING);
  const problem = { ...stack.problem, ...solving, estimateGrid: false, stages };
  const [march] = makeRepeat(problem).integrators;
  march.cellT.set(openColor.stateAt(t));
  const found = march.run(false);
  const column = (name: string) => march.reader.names.indexOf(name);
  const peakOf = (name: string) => found.max[column(name)];
  const hottest = Math.max(
    ...stack.colors.slice(0, k + 2).map((_, c) => lastOf(found, column(`hottest ${c}`))),
  );
  const never = found.end >= LONGEST_COOLING * (1 - 1e-9) && hottest > limit + 0.1;
  return {
    opensAfter: never ? Number.POSITIVE_INFINITY : found.end,
    remelt: remeltOf(stack, peakOf, rules.setBelow),
    wallPeak: wallPeakOf({
      times: found.trace.column(0),
      probes: { wall: found.trace.column(column("wall") + 1) },
    }),
    wallOpened: lastOf(found, column("wall")),
    course: courseOfMarch(
      found,
      march.reader.names,
      ["surface", "hottest 0", "hottest 1", "wall"],
      found.end,
    ),
    state: Float64Array.from(march.cellT),
    steps: found.steps,
    imbalance: found.imbalance,
  };
}

function lastOf(found: RunRecord, column: number): number {
  const values = found.trace.column(column + 1);
  return values[values.length - 1];
}

function remeltOf(stack: Stack, peakOf: (name: string) => number, set: number): Remelted {
  let deepest: Remelted = { depth: 0, share: 0, along: 0 };
  const whole = Math.max(...stack.remelt.map((r) => r.depth));
  for (const along of new Set(stack.remelt.map((r) => r.along))) {
    const places = stack.remelt.filter((r) => r.along === along);
    let depth = 0;
    let before = { depth: 0, peak: Number.NaN };
    for (const place of places) {
      const peak = peakOf(place.probe);
      if (peak < set) {
        // between the last place that melted and the first that did not
        if (before.peak >= set)
          depth += ((place.depth - before.depth) * (before.peak - set)) / (before.peak - peak);
        break;
      }
      depth = place.depth;
      before = { depth: place.depth, peak };
    }
    if (depth > deepest.depth) deepest = { depth, share: Math.min(1, depth / whole), along };
  }
  return deepest;
}

/** Some probes of a march at evenly spread times from 0 to `to`. */
export function courseOfMarch(
  { trace }: RunRecord,
  names: readonly string[],
  wanted: readonly string[],
  to: number,
): Course {
  const valuesOf = (name: string) => trace.column(names.indexOf(name) + 1);
  return courseBetween(trace.column(0), valuesOf, wanted, 0, to);
}
