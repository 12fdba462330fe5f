/** Heat budget of a cup of plastisol: how much of its life is used up, and what is left of it. K, s, J/mol. */

import type {
  Answer,
  Cause,
  CautionCode,
  IgnoredCode,
  Lever,
  Quantified,
  Reason,
} from "../../answers/answer.ts";
import { spread } from "../../confidence/spread.ts";
import type { Uncertain } from "../../confidence/uncertain.ts";
import {
  agingSpeed,
  type Heating,
  lifeLeft,
  thermalDose,
  type Yellowing,
} from "../../cure/dose.ts";
import { spreadLeft } from "../../job/inputs.ts";
import type { Job } from "../../job/types.ts";
import { coolerBy, isTooHot, overheats } from "../../models/cautions.ts";
import { shotsInCup } from "../../models/plastic-mix.ts";
import { plastisolOf } from "../../models/plastisol.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { causeOf } from "../../models/ranged.ts";
import { drawn, drawnAsRatio } from "../../numerics/deviates.ts";
import type { Kind } from "../../units/kinds.ts";

/** Temperatures of the table, K: 150 to 190 degC; never above what the plastic may be held at. */
const BUDGET_TEMPERATURES: readonly number[] = [
  423.15, 433.15, 438.15, 443.15, 448.15, 453.15, 458.15, 463.15,
];

/** How long the rest of a cup's life lasts at one temperature. */
export interface BudgetRow {
  readonly temperature: number; // K
  /** How much faster it ages than at the temperature of the observation. */
  readonly speed: number;
  /** It may still be held there for this long, s. */
  readonly left: Quantified;
}

export interface HeatUsed extends Heating {
  /** Share of the whole life. */
  readonly dose: number;
}

/** How much of a cup's life at heat is used up, and how long the rest lasts. */
export interface BudgetContent {
  /** Share of its life that the heats so far have used; 1 is yellow. */
  readonly used: Quantified;
  /** Left at the temperature of the shot, s. */
  readonly left: Quantified;
  /** Heats like the last one that are left, whole ones; `low` for sure; null without a heat so far. */
  readonly moreHeats: Quantified | null;
  /** Shots that the cup gives, whole ones: all cavities with sprue and gates, and what stays in cup and injector. */
  readonly shotsInCup: number;
  readonly decidedBy: Reason;
  /** What makes most of the range; null when nothing is uncertain. */
  readonly cause: Cause | null;
  readonly heats: readonly HeatUsed[];
  readonly table: readonly BudgetRow[];
  /** The observation that it is measured by, and whether it is the user's. */
  readonly observation: Yellowing;
  readonly calibrated: boolean;
  /** Hottest that it has been, K; null without a heat so far. */
  readonly hottest: number | null;
  /** No hotter than this, K. */
  readonly pourMost: number;
  readonly guesses: readonly string[];
  readonly levers: readonly Lever[];
}

/** The answer to `budget`. */
export type BudgetAnswer = Answer<"budget", BudgetContent>;

interface Case {
  readonly heats: readonly Heating[];
  /** The cup is so much hotter than it is read, at every heat and at the shot, K. */
  readonly warmer: number;
  readonly observed: Yellowing;
}

/** When a person calls it yellow: this share sooner or later. A guess. */
const SEEN = 0.2;

/**
 * How much of its life a cup of plastisol has used, as a share, and for how long it may still be held hot, in s.
 *
 *     used = sum duration_i exp[-E/R (1/T_i - 1/T_seen)] / duration_seen
 *
 * @param job `cup.heats`: what it has been through; `cup.yellowed`: one observation of the user's, else the catalog's,
 *   which is a guess
 * @returns shares and s; holds from about 150 to 220 degC, for heat that is even in the cup
 * @throws InputError when an input is out of range
 * @source activation energy: Krongauz, Lee & Bourassa, J. Therm. Anal. Calorim. 106 (2011) 139 (abstract read)
 * @example budget(readJob("{ bait: { thickness: 16 mm }, cup: { heats: [{ temperature: 180 degC, duration: 15 min }] } }").job).answer.used.value // 0.25
 */
export function budget(job: Job, { likelyOnly }: QuestionOptions = {}): BudgetAnswer {
  const { cup, shot, uncertainty } = job;
  const traits = plastisolOf(job);
  const heats = cup.heats.map(({ temperature, duration }) => ({ T: temperature, duration }));
  const calibrated = cup.yellowed !== null;
  const observed: Yellowing = {
    T: cup.yellowed?.temperature ?? traits.degradationAt,
    duration: cup.yellowed?.duration ?? traits.degradationTime.value,
    energy: traits.degradationEnergy.value,
  };
  const given: Case = { heats, warmer: 0, observed };
  const held = BUDGET_TEMPERATURES.filter((T) => T <= traits.pourMost);
  const temperatures = [...held, shot.temperature];
  const numbers = (c: Case): number[] => {
    const been = c.heats.map(({ T, duration }) => ({ T: T + c.warmer, duration }));
    return [
      thermalDose(been, c.observed),
      ...temperatures.map((T) => lifeLeft(been, c.observed, T + c.warmer)),
    ];
  };
  const spreadings = spread(given, likelyOnly ? [] : uncertainCup(job, observed), numbers);
  const range = (i: number, kind: Kind): Quantified => {
    const { value, low, high } = spreadings[i].range;
    return { kind, value, low: Math.max(0, low), high };
  };
  const used = range(0, "ratio");
  const left = range(temperatures.length, "duration");
  const doses = heats.map((heat) => ({ ...heat, dose: thermalDose([heat], observed) }));
  const last = doses[doses.length - 1];
  const heaviest = doses.reduce((a, b, i) => (b.dose > (doses[a]?.dose ?? -1) ? i : a), 0);
  const hottest = doses.length === 0 ? null : Math.max(...heats.map(({ T }) => T));
  const temperature = Math.max(hottest ?? 0, shot.temperature);
  const heated = { material: shot.material, temperature };
  const cautions: CautionCode[] = [
    ...(used.high >= 1 || overheats(heated, job) ? (["plastisol_fumes"] as const) : []),
    ...(isTooHot(heated) ? (["plastic_too_hot"] as const) : []),
    "hot_plastisol",
  ];
  return {
    question: "budget",
    answer: {
      used,
      left,
      moreHeats: moreHeats(used, last === undefined ? 0 : last.dose / used.value),
      shotsInCup: shotsInCup(job),
      decidedBy:
        doses.length === 0
          ? { code: "shot_temperature" }
          : { code: "heaviest_heat", name: String(heaviest + 1) },
      cause: causeOf(spreadings[temperatures.length], job),
      heats: doses,
      table: held.map((temperature, i) => ({
        temperature,
        speed: agingSpeed(temperature, observed.T, observed.energy),
        left: range(1 + i, "duration"),
      })),
      observation: observed,
      calibrated,
      hottest,
      pourMost: traits.pourMost,
      guesses: !calibrated && traits.degradationTime.guess ? ["cup.yellowed"] : [],
      levers: leversOf(job, given, calibrated, uncertainty.shotTemperature),
    },
    cautions,
    ignored: ["hot_spots", "stabilizer", "mixing_faults"] satisfies IgnoredCode[],
    // nothing is simulated
    effort: { cells: 0, steps: 0, energyImbalance: 0 },
  };
}

/**
 * Whole heats like the last one that are left, from the range of what is used: the two agree at both ends.
 *
 * @param share of the life used so far that the last heat took
 */
function moreHeats(used: Quantified, share: number): Quantified | null {
  if (!(share > 0)) return null;
  const left = (dose: number) => Math.floor(Math.max(0, 1 - dose) / (share * dose));
  return { kind: "ratio", value: left(used.value), low: left(used.high), high: left(used.low) };
}

function uncertainCup(job: Job, observed: Yellowing): Uncertain<Case>[] {
  const { uncertainty, cup } = job;
  const traits = plastisolOf(job);
  const left = spreadLeft(job);
  const { duration } = observed;
  const seen =
    cup.yellowed === null
      ? { ...traits.degradationTime, left }
      : { value: duration, low: duration * (1 - SEEN), high: duration * (1 + SEEN), left: 1 };
  const warmer = { value: 0, low: -uncertainty.shotTemperature, high: uncertainty.shotTemperature };
  return [
    {
      name: "cup.yellowed",
      at: (c, z) => ({
        ...c,
        observed: { ...c.observed, duration: drawnAsRatio(seen, seen.left * z) },
      }),
    },
    {
      name: "shot.material.degradationEnergy",
      at: (c, z) => ({
        ...c,
        observed: { ...c.observed, energy: drawn(traits.degradationEnergy, left * z) },
      }),
    },
    {
      name: "cup.heats",
      // one thermometer reads them all
      at: (c, z) => ({ ...c, warmer: drawn(warmer, z) }),
    },
  ];
}

/** K. */
const COOLER = 5;

function leversOf(job: Job, { heats, observed }: Case, calibrated: boolean, spreadOfT: number) {
  const levers: Lever[] = [];
  const cooler = coolerBy(job.shot, COOLER);
  // what is used up is not made good: neither cooler nor fresh plastic stirred in gives it any life back
  if (thermalDose(heats, observed) >= 1) levers.push({ code: "discard_cup" });
  else {
    if (cooler !== null)
      levers.push({
        code: "cooler_shot",
        change: { path: "shot.temperature", kind: "temperature", to: cooler },
        gives: { kind: "duration", value: lifeLeft(heats, observed, cooler) },
      });
    // a cup of one shot is as small as it can be
    if (shotsInCup(job) > 1) levers.push({ code: "smaller_cup" });
    levers.push({ code: "fresh_stock" });
  }
  if (!calibrated) levers.push({ code: "measure_yellowing" });
  if (spreadOfT > 3) levers.push({ code: "measure_shot" });
  return levers;
}
