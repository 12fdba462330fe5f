/** What a logged temperature says about plastic, mold or resin. SI and K. */

import type { Answer, Quantified } from "../../answers/answer.ts";
import { type CurveFit, fitCurve } from "../../confidence/fit-curve.ts";
import type { Job } from "../../job/types.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { EffortSum } from "../../models/ranged.ts";
import { Checks } from "../../units/check.ts";
import type { Kind } from "../../units/kinds.ts";
import { type FitModel, fitBait, fitCup, fitPour, type Untold } from "./models.ts";

/** Readings of one probe. */
export interface TemperatureLog {
  /** From injection, pouring or mixing, s, rising. */
  readonly time: readonly number[];
  readonly temperature: readonly number[]; // K
  /**
   * Where the probe was: the middle of one bait, the middle of a pour, or a cup of mixed resin. Left out: a bait when it
   * starts hot, else the pour.
   */
  readonly of?: "bait" | "pour" | "cup";
  /** Resin in the cup, kg. Default: the mass of the job's pot life, else 0.1. */
  readonly cupMass?: number;
}

export interface FittedParameter {
  /** Path of the input or property. */
  readonly name: string;
  /** About 95 of 100 lie between low and high. */
  readonly fitted: Quantified;
  readonly before: Quantified;
  /** false: the log says nothing about it. */
  readonly told: boolean;
}

export interface FitContent {
  readonly of: "bait" | "pour" | "cup";
  readonly readings: number;
  readonly parameters: readonly FittedParameter[];
  /** Root mean square of reading less model, K. */
  readonly residual: number;
  readonly cannotTell: readonly { code: Untold; name?: string; other?: string }[];
  /** What it means for the job: opening time of this bait, or gel time at 25 degC and peak of the pour. */
  readonly means: readonly {
    readonly name: "demold" | "gelAt25" | "peak";
    readonly value: Quantified;
  }[];
  /** Readings and model, for the figure. */
  readonly curve: {
    readonly time: readonly number[];
    readonly read: readonly number[];
    readonly model: readonly number[];
  };
}

export type FitAnswer = Answer<"fit", FitContent>;

/** Fewest readings that are worth fitting. */
const FEWEST = 4;
/** More are thinned out: neighbors say the same. */
const MOST = 80;
/** Standard deviation of a reading, K: probe in a body. */
const NOISE = 1;
const TIED = 0.95;
const TOLD = 0.75;

/**
 * Fits a log of one probe: conductivity of the plastic, contact and mold temperature from a bait; speed and heat of the
 * resin from a pour or a cup.
 *
 * Everything starts from the job's own values and their spreads; a parameter about which the log says nothing keeps its
 * spread and is named.
 *
 * @param job what was logged
 * @param log at least 4 readings that span at least 3 K, with times that rise
 * @throws InputError with every problem of the log at once
 * @example fit(readJob("bait: { thickness: 16 mm }").job, { time: [30, 90, 150, 210, 270], temperature: [440, 420,
 * 390, 365, 350] }).answer.readings // 5
 */
export function fit(job: Job, log: TemperatureLog, options: QuestionOptions = {}): FitAnswer {
  check(log);
  const { time, temperature } = thinned(log);
  const hottest = Math.max(...temperature);
  const startsHot = temperature[0] > hottest - 0.25 * (hottest - Math.min(...temperature));
  const of = log.of ?? (startsHot ? "bait" : "pour");
  const effort = new EffortSum();
  const model: FitModel =
    of === "bait"
      ? fitBait(job, { time, temperature }, effort, options)
      : of === "cup"
        ? fitCup(job, { time, temperature }, log.cupMass)
        : fitPour(job, { time, temperature }, effort, options);
  const found = fitCurve(temperature, NOISE, model.parameters.length, model.values);
  return {
    question: "fit",
    answer: {
      of,
      readings: log.time.length,
      parameters: model.parameters.map((parameter, k): FittedParameter => {
        const range = (center: number, width: number) =>
          ordered(
            parameter.at(center),
            parameter.at(center - 2 * width),
            parameter.at(center + 2 * width),
            parameter.kind,
          );
        return {
          name: parameter.name,
          fitted: range(found.p[k], found.deviation[k]),
          before: range(0, 1),
          told: found.deviation[k] < TOLD,
        };
      }),
      residual: found.residual,
      cannotTell: untold(model, found),
      means: model.means().map(({ name, kind, of: evaluate }) => {
        const value = evaluate(found.p);
        const give = 2 * deviationOf(evaluate, found);
        return { name, value: ordered(value, value - give, value + give, kind) };
      }),
      curve: { time, read: temperature, model: model.values(found.p) },
    },
    cautions: [],
    ignored:
      of === "bait" ? ["one_dimension", "thermometer_error"] : ["thermometer_error", "air_drafts"],
    effort: effort.done(),
  };
}

/** Standard deviation of what follows from the parameters, which lean on each other: linear around the fit. */
function deviationOf(
  evaluate: (p: readonly number[]) => number,
  { p, deviation, correlation }: CurveFit,
): number {
  const slope = p.map((_, k) => {
    const [up, down] = [1, -1].map((way) =>
      evaluate(p.map((v, i) => (i === k ? v + way * deviation[k] : v))),
    );
    return (up - down) / 2;
  });
  let square = 0;
  slope.forEach((a, i) => {
    slope.forEach((b, j) => {
      square += a * b * correlation[i][j];
    });
  });
  return Math.sqrt(Math.max(0, square));
}

function ordered(value: number, a: number, b: number, kind: Kind): Quantified {
  return { value, low: Math.min(value, a, b), high: Math.max(value, a, b), kind };
}

function check({ time, temperature, cupMass }: TemperatureLog): void {
  const checks = new Checks();
  if (time.length !== temperature.length)
    checks.add({ code: "not_a_pair", path: "log", given: `${time.length}, ${temperature.length}` });
  if (time.length < FEWEST)
    checks.add({
      code: "too_small",
      path: "log.readings",
      given: time.length,
      least: String(FEWEST),
    });
  time.forEach((t, i) => {
    if (
      checks.number(`log.time[${i}]`, t, { least: 0, most: 90 * 86400 }) &&
      i > 0 &&
      !(t > time[i - 1])
    )
      checks.add({ code: "not_rising", path: `log.time[${i}]`, given: t });
  });
  temperature.forEach((T, i) => {
    checks.number(`log.temperature[${i}]`, T, { least: 230, most: 650 });
  });
  // a logger writes more readings than a call may have arguments
  const span =
    temperature.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY) -
    temperature.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  if (temperature.length >= FEWEST && Number.isFinite(span) && span < 3)
    checks.add({ code: "too_small", path: "log.temperature", given: span, least: "3 K" });
  if (cupMass !== undefined) checks.number("log.cupMass", cupMass, { above: 0, most: 100 });
  checks.done();
}

function thinned({ time, temperature }: TemperatureLog): {
  time: readonly number[];
  temperature: readonly number[];
} {
  if (time.length <= MOST) return { time, temperature };
  const keep = Array.from({ length: MOST }, (_, i) =>
    Math.round((i * (time.length - 1)) / (MOST - 1)),
  );
  return { time: keep.map((i) => time[i]), temperature: keep.map((i) => temperature[i]) };
}

function untold(model: FitModel, found: CurveFit): FitContent["cannotTell"] {
  const codes: { code: Untold; name?: string; other?: string }[] = [...model.untold];
  model.parameters.forEach(({ name }, k) => {
    if (found.deviation[k] >= TOLD) codes.push({ code: "prior_kept", name });
    for (let other = 0; other < k; other++)
      if (Math.abs(found.correlation[k][other]) > TIED)
        codes.push({ code: "tied", name, other: model.parameters[other].name });
  });
  if (found.residual > 5 * NOISE) codes.push({ code: "model_misses" });
  return codes;
}
