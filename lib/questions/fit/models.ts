/** The models that a log is held against, with their parameters in prior standard deviations. SI and K. */

import { moved } from "../../cure/calibrate.ts";
import { cureInCup } from "../../cure/cup.ts";
import { timeToCure } from "../../cure/isothermal.ts";
import { makeTabulatedRateLaw } from "../../cure/tabulated.ts";
import type { History } from "../../heat/problem.ts";
import { simulate } from "../../heat/simulate.ts";
import type { Job } from "../../job/types.ts";
import { wallShare } from "../../models/pour/line-depth.ts";
import { highest } from "../../models/pour/moments.ts";
import { pourLine, settingOf } from "../../models/pour/problem.ts";
import {
  isCalibrated,
  LIKELY_RESIN,
  type PouredResin,
  resinTraits,
} from "../../models/pour/resin.ts";
import { pourRuns } from "../../models/pour/runs.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import type { EffortSum } from "../../models/ranged.ts";
import { linearAt } from "../../numerics/linear.ts";
import type { Kind } from "../../units/kinds.ts";

/** What one log can't tell: codes of sentences. */
export const untoldCodes = [
  "one_place", // a single probe: no other place of the body
  "probe_place", // a probe off the center reads as a better conductor
  "conductivity_or_heat", // only the ratio of conductivity to heat capacity
  "prior_kept", // the parameter `name` is as wide as before
  "tied", // the parameters `name` and `other` only move together
  "other_rooms", // one temperature of the room: little on the activation energy
  "model_misses", // the model can't follow the curve
  "only_together", // verdicts tell of the time alone, which all inputs make together
  "no_soft", // nothing was opened too early: how much earlier is not told
  "no_good",
  "other_verdicts", // dent, short, bleed, peel: not of the cooling time
  "lines_disagree", // too many lines against the others
  "verdicts_contradict", // no single time explains them within the scatter that lines have: it was raised
  "another_bait", // the times before and after the log don't touch
] as const;
/** What a log can't tell, as a code of a sentence. */
export type Untold = (typeof untoldCodes)[number];

interface FitParameter {
  readonly name: string;
  readonly kind: Kind;
  /** The quantity at so many prior standard deviations. */
  at(deviations: number): number;
}

export interface FitModel {
  readonly parameters: readonly FitParameter[];
  /** Temperature at each reading, K. */
  values(p: readonly number[]): readonly number[];
  readonly untold: readonly { code: Untold; name?: string }[];
  means(): readonly {
    readonly name: "demold" | "gelAt25" | "peak";
    readonly kind: Kind;
    of(p: readonly number[]): number;
  }[];
}

interface Readings {
  readonly time: readonly number[];
  readonly temperature: readonly number[];
}

/** A quantity that is known to a factor. */
function byFactor(name: string, kind: Kind, value: number, factor: number): FitParameter {
  return { name, kind, at: (p) => value * factor ** p };
}

function byWidth(name: string, kind: Kind, value: number, width: number): FitParameter {
  return { name, kind, at: (p) => value + width * p };
}

/** Speed and heat of a resin, from its likely calibration. */
function resinParameters(job: Job, resin: PouredResin): FitParameter[] {
  const { heatOfReaction: H } = resinTraits(job.pour.material, "pour.material");
  // how much faster or slower than the data sheet says; a word for the hardener says little
  const speed = isCalibrated(job) ? 1.3 : 2.5;
  return [
    { name: "pour.speed", kind: "ratio", at: (p) => speed ** p },
    byFactor("pour.heat", "energyPerMass", resin.heat, Math.max(1.02, H.high / H.value)),
    byWidth("pour.energy", "energyPerMole", resin.energy, 5000),
  ];
}

function resinAt(
  resin: PouredResin,
  parameters: readonly FitParameter[],
  p: readonly number[],
): PouredResin {
  const [speed, heat, energy] = parameters.map(({ at }, i) => at(p[i]));
  const spec = moved(resin.spec, speed, energy);
  return {
    ...resin,
    spec,
    heat,
    energy,
    material: {
      ...resin.material,
      cure: { ...resin.material.cure!, law: makeTabulatedRateLaw(spec), heat },
    },
  };
}

function gelAt25(resin: PouredResin): number {
  const law = resin.material.cure!.law;
  const from = Math.max(1e-6, resin.material.cure!.initial);
  return timeToCure(law, 298.15, { from, to: resin.gel }) ?? Number.POSITIVE_INFINITY;
}

/** The hottest place of a pour: 1-D, with the walls' part carried over. */
export function fitPour(
  job: Job,
  log: Readings,
  effort: EffortSum,
  options: QuestionOptions,
): FitModel {
  const runs = pourRuns(job, options);
  const likely = runs.resin(LIKELY_RESIN);
  const base = settingOf(job);
  const share = wallShare(runs, likely, base, runs.sectionPeak(likely, base).value);
  const parameters = resinParameters(job, likely);
  const setting = { ...base, depth: share * base.depth };
  const historyAt = (p: readonly number[], times: readonly number[], until: number): History => {
    const history = simulate(
      pourLine(job, resinAt(likely, parameters, p), setting, { until, times, estimateGrid: false }),
    );
    effort.add(history);
    return history;
  };
  const end = log.time[log.time.length - 1];
  return {
    parameters,
    values: (p) => Array.from(historyAt(p, log.time, Math.max(end, 1)).probes["hot"]),
    untold: [{ code: "one_place" }, { code: "probe_place" }, { code: "other_rooms" }],
    means: () => [
      { name: "gelAt25", kind: "duration", of: (p) => gelAt25(resinAt(likely, parameters, p)) },
      {
        name: "peak",
        kind: "temperature",
        of: (p) => highest(historyAt(p, [], Math.max(4 * end, 86400)), "hot").value,
      },
    ],
  };
}

/** A cup of mixed resin with a probe in it, as one lump that loses heat. */
export function fitCup(job: Job, log: Readings, cupMass?: number): FitModel {
  const likely = pourRuns(job).resin(LIKELY_RESIN);
  const parameters = resinParameters(job, likely);
  const mass = cupMass ?? job.pour.potLife?.mass ?? 0.1;
  const end = log.time[log.time.length - 1];
  const courseAt = (p: readonly number[], until: number) => {
    const resin = resinAt(likely, parameters, p);
    return cureInCup(
      {
        law: resin.material.cure!.law,
        heat: resin.heat,
        specificHeat: resin.specificHeat,
        density: resin.density,
        mass,
        start: log.temperature[0],
        room: job.room.temperature,
        h: 10,
        initial: Math.max(1e-6, resin.material.cure!.initial),
      },
      resin.gel,
      until,
    );
  };
  return {
    parameters,
    values(p) {
      const { times, T } = courseAt(p, Math.max(end, 1));
      return log.time.map((t) => linearAt(times, T, t));
    },
    untold: [{ code: "other_rooms" }],
    means: () => [
      { name: "gelAt25", kind: "duration", of: (p) => gelAt25(resinAt(likely, parameters, p)) },
      { name: "peak", kind: "temperature", of: (p) => courseAt(p, Math.max(4 * end, 86400)).peak },
    ],
  };
}
