/** How does the bait lie in the water, and does it sink or rise? SI. */

import type { Answer, Cause, CautionCode, Quantified } from "../../answers/answer.ts";
import { spread } from "../../confidence/spread.ts";
import type { Uncertain } from "../../confidence/uncertain.ts";
import { freshWater, seaWater, waterViscosity } from "../../formulas/water.ts";
import type { Job } from "../../job/types.ts";
import { baitBody, baitMeasures, volumeByStations } from "../../models/bait/body.ts";
import { LEAST_PLAIN } from "../../models/plastic-mix.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { causeOf, quantified } from "../../models/ranged.ts";
import { drawnAsRatio } from "../../numerics/deviates.ts";
import { findRoot } from "../../numerics/roots.ts";
import { InputError } from "../../units/problem.ts";
import {
  balanceOf,
  filledPlastic,
  type PartInWater,
  partsInWater,
  type SwimCase,
} from "./balance.ts";
import { type HookFits, hookFits } from "./hooks.ts";
import { silhouetteOf, steadyFall } from "./sink.ts";

/** The bait with another share of salt or of hollow spheres. */
export interface FilledRow {
  readonly share: number;
  readonly density: number; // kg/m3, of the plastic
  readonly netMass: number; // kg
  readonly speed: number; // m/s
}

/** How a bait lies in the water and how fast it sinks or rises. SI; angles in rad. */
export interface SwimContent {
  /** Bait, hook and weights, kg. */
  readonly mass: Quantified;
  readonly volume: Quantified;
  /** What a scale would show under water, kg; negative: it floats. */
  readonly netMass: Quantified;
  readonly sinks: "sinks" | "floats" | "either";
  /** Down, m/s; negative: it rises. */
  readonly speed: Quantified;
  /** Nose down, rad; negative: nose up. */
  readonly pitch: { readonly value: number; readonly low: number; readonly high: number };
  /** False: it turns its back down. */
  readonly upright: boolean;
  readonly parts: readonly (PartInWater & { readonly netMass: number })[];
  readonly water: number; // kg/m3
  readonly bySalt: readonly FilledRow[];
  readonly byHollow: readonly FilledRow[];
  /** Share of salt (of a bait that floats) or of hollow spheres (of one that sinks) at which it hovers; null: none does. */
  readonly hovers: { readonly salt: number | null; readonly hollow: number | null };
  readonly hooks: HookFits;
  readonly cause: Cause | null;
}

/** The answer to `swim`. */
export type SwimAnswer = Answer<"swim", SwimContent>;

const SALTS = [0, 0.05, 0.1, 0.2, 0.3, 0.4];
const HOLLOWS = [0, 0.01, 0.02, 0.03, 0.05, 0.08];

/** Formulas of drag hold to this share for a bait: its fins, its tail and its softness. A guess. */
const DRAG_SHARE = 0.35;

/**
 * Weight in water, attitude, and the speed of sinking or rising of a bait with its hook and weights, on a slack line.
 *
 * @param job from `readJob`: `bait`, `shot.material` and `swim`
 * @throws InputError `too_much_stirred_in` when salt and spheres leave too little plastic
 * @returns masses kg, speeds m/s, angles rad
 * @example swim(readJob("bait: { thickness: 16 mm }").job).answer.sinks // "sinks"
 */
export function swim(job: Job, { likelyOnly }: QuestionOptions = {}): SwimAnswer {
  refuseTooMuch(job);
  const body = baitBody(job.bait);
  const shape = baitMeasures(job.bait);
  const silhouette = silhouetteOf(body, shape.surface);
  const { water: kind, temperature } = job.swim;
  const salty = kind === "salt";
  const density = salty ? seaWater(temperature) : freshWater(temperature);
  const water = { density, viscosity: waterViscosity(temperature) * (salty ? 1.08 : 1) };
  const { value, low, high } = job.shot.material.density;
  const given: SwimCase = { job, water: density, plastic: value, size: 1, drag: 1 };
  const stateOf = (s: SwimCase) => {
    const parts = partsInWater(s, shape);
    const balance = balanceOf(parts, s.water, silhouette.center);
    return { parts, balance, ...steadyFall(balance, silhouette, water, s.drag) };
  };
  const range = volumeByStations(body, job.uncertainty.thickness);
  const uncertain: Uncertain<SwimCase>[] = [
    {
      name: "shot.material.density",
      at: (s, z) => ({ ...s, plastic: drawnAsRatio({ value, low, high }, z) }),
    },
    {
      name: range.mostly,
      at: (s, z) => ({ ...s, size: drawnAsRatio(range, z) / range.value }),
    },
    {
      name: "swim.drag",
      at: (s, z) => ({
        ...s,
        drag: drawnAsRatio({ value: 1, low: 1 / (1 + DRAG_SHARE), high: 1 + DRAG_SHARE }, z),
      }),
    },
  ];
  const [mass, volume, net, speed, pitch] = spread(given, likelyOnly ? [] : uncertain, (s) => {
    const { balance, speed, pitch } = stateOf(s);
    return [balance.mass, balance.volume, balance.netMass, speed, pitch];
  });
  const now = stateOf(given);
  const filled = (change: { salt?: number; hollow?: number }): FilledRow => {
    const other = { ...job, swim: { ...job.swim, ...change } };
    const { balance, speed } = stateOf({ ...given, job: other });
    return {
      share: change.salt ?? change.hollow ?? 0,
      density: filledPlastic(value, other.swim.salt, other.swim.hollow),
      netMass: balance.netMass,
      speed,
    };
  };
  const cautions: CautionCode[] = [];
  if (job.swim.weights.some(({ metal }) => metal === "lead")) cautions.push("lead_weights");
  if (job.swim.salt > 0 || job.swim.hollow > 0) cautions.push("damp_additives");
  const surely = net.range.low > 0 ? "sinks" : net.range.high < 0 ? "floats" : "either";
  return {
    question: "swim",
    answer: {
      mass: quantified(mass.range, "mass"),
      volume: quantified(volume.range, "volume"),
      netMass: quantified(net.range, "mass"),
      sinks: surely,
      speed: quantified(speed.range, "speed"),
      pitch: pitch.range,
      upright: now.balance.below >= -1e-12,
      parts: now.parts.map((part) => ({ ...part, netMass: part.mass - density * part.volume })),
      water: density,
      bySalt: SALTS.map((salt) => filled({ salt })),
      byHollow: HOLLOWS.map((hollow) => filled({ hollow })),
      hovers: {
        salt: hovering((salt) => filled({ salt }).netMass, 0.6),
        hollow: hovering((hollow) => filled({ hollow }).netMass, 0.3),
      },
      hooks: hookFits(job, body),
      cause: causeOf(speed, job),
    },
    cautions,
    ignored: ["line_in_water", "glide", "fins_and_tail"],
    effort: { cells: 0, steps: 0, energyImbalance: 0 },
  };
}

/** Salt and spheres that leave too little plastic to hold them. */
function refuseTooMuch(job: Job): void {
  const { salt, hollow } = job.swim;
  if (salt + hollow > 1 - LEAST_PLAIN)
    throw new InputError([
      {
        code: "too_much_stirred_in",
        path: salt > hollow ? "swim.salt" : "swim.hollow",
        given: `${Math.round((salt + hollow) * 100)} %`,
        most: `${100 - LEAST_PLAIN * 100} %`,
      },
    ]);
}

/** The share at which nothing pulls either way; null when none up to `most` does. */
function hovering(netMass: (share: number) => number, most: number): number | null {
  const [none, all] = [netMass(0), netMass(most)];
  if (none === 0) return 0;
  return none * all < 0 ? findRoot(netMass, 0, most, 1e-6) : null;
}
