/** What a logged temperature says about plastic, mold or resin. SI and K. */

import type { Answer, Quantified } from "../../answers/answer.ts";
import { type CurveFit, fitCurve } from "../../confidence/fit-curve.ts";
import { atFitted, beforeLogs } from "../../job/fitted.ts";
import type { FittedInput, JobInputName } from "../../job/input-names.ts";
import type { Job } from "../../job/types.ts";
import { loggedCautions } from "../../models/cautions.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { EffortSum } from "../../models/ranged.ts";
import { atStart } from "../../models/start.ts";
import { NINE_OF_TEN } from "../../numerics/deviates.ts";
import type { Kind } from "../../units/kinds.ts";
import { demold } from "../demold/demold.ts";
import { correlationOf, deviationsOf, type OpeningLearned } from "./learned.ts";
import { checkLog, type ShopLog, type TemperatureLog } from "./log.ts";
import { type FitModel, fitCup, fitPour, type Untold } from "./models.ts";
import { fitProbe } from "./probe.ts";
import { fitShop } from "./shop.ts";
import { type Ends, endsOf, type Weighed } from "./weighed.ts";

/** An input or property, before the log and after it. */
export interface FittedParameter {
  /** Path of the input or property. */
  readonly name: string;
  /** Eight of ten lie between low and high; of a resin's parameters about 95 of 100. */
  readonly fitted: Quantified;
  readonly before: Quantified;
  /** false: the log says nothing about it. */
  readonly told: boolean;
}

/** What a log has taught, and what it can't tell. */
export interface FitContent {
  readonly of: "bait" | "pour" | "cup" | "shop";
  /** Readings of the probe, or lines that tell of the time. */
  readonly readings: number;
  /** What may stand in the job from now on, as its `fitted`; null: nothing, for the log doesn't fit, or is of a resin. */
  readonly fitted: readonly FittedInput[] | null;
  /** Lines of a shop's log, from 1, that don't go with the others. */
  readonly odd: readonly number[];
  readonly parameters: readonly FittedParameter[];
  /** Root mean square of reading less model, K. */
  readonly residual: number;
  readonly cannotTell: readonly { code: Untold; name?: string; other?: string }[];
  /** What it means for the job: opening time of this bait, or gel time at 25 degC and peak of the pour. */
  readonly means: readonly {
    readonly name: "demold" | "gelAt25" | "peak";
    readonly value: Quantified;
    /** Without the log; left out for a resin. */
    readonly before?: Quantified;
  }[];
  /** Readings and model, for the figure. */
  readonly curve: {
    readonly time: readonly number[];
    readonly read: readonly number[];
    readonly model: readonly number[];
  };
}

/** The answer to `fit`. */
export type FitAnswer = Answer<"fit", FitContent>;

/** More are thinned out: neighbors say the same. */
const MOST = 80;
/** Standard deviation of a reading, K: probe in a body. */
const NOISE = 1;
const TIED = 0.95;
/** The same among all inputs of a bait, of which any pair is but a part. */
const TIED_INPUTS = 0.6;
const TOLD = 0.75;

/**
 * Fits a log of one probe, or a shop's log of shots: everything that moves a bait's cooling time; speed and heat of the
 * resin from a pour or a cup.
 *
 * Everything starts from the job's own values and their spreads; a parameter about which the log says nothing keeps its
 * spread and is named.
 *
 * @param given the job of what was logged; what an earlier log has taught it is put aside
 * @param log at least 4 readings that span at least 3 K, with times that rise
 * @throws InputError with every problem of the log at once
 * @example fit(readJob("bait: { thickness: 16 mm }").job, { time: [30, 90, 150, 210, 270], temperature: [440, 420,
 * 390, 365, 350] }).answer.readings // 5
 */
export function fit(
  given: Job,
  log: TemperatureLog | ShopLog,
  options: QuestionOptions = {},
): FitAnswer {
  checkLog(log);
  // what an earlier log has taught is put aside: this one speaks for itself
  const unlearned = beforeLogs(given);
  const job = atStart(unlearned);
  if ("lines" in log) return shopAnswer(unlearned, log, options);
  const { time, temperature } = thinned(log);
  const hottest = Math.max(...temperature);
  const startsHot = temperature[0] > hottest - 0.25 * (hottest - Math.min(...temperature));
  const of = log.of ?? (startsHot ? "bait" : "pour");
  const effort = new EffortSum();
  if (of === "bait") return baitAnswer(unlearned, log.time.length, { time, temperature }, options);
  const model: FitModel =
    of === "cup"
      ? fitCup(job, { time, temperature }, log.cupMass)
      : fitPour(job, { time, temperature }, effort, options);
  const found = fitCurve(temperature, NOISE, model.parameters.length, model.values);
  return {
    question: "fit",
    answer: {
      of,
      readings: log.time.length,
      fitted: null,
      odd: [],
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
    ignored: ["thermometer_error", "air_drafts"],
    effort: effort.done(),
  };
}

/** More lines against the others than this share, and the log is of more than one shop. */
const MOST_ODD = 0.25;

function shopAnswer(unlearned: Job, { lines }: ShopLog, options: QuestionOptions): FitAnswer {
  const job = atStart(unlearned);
  const telling = lines.filter(({ verdict }) => verdict === "good" || verdict === "soft");
  const now = openingOfJob(unlearned, options);
  const found = fitShop(job, lines, now.truer, options);
  const misses = found.odd.length > MOST_ODD * found.told;
  // most of them are at one with each other, and with another job
  const agree = found.atOdds.length <= MOST_ODD * found.told;
  const another = isOfAnother(found) || (misses && agree);
  const { fitted, means } = misses
    ? { fitted: null, means: meansDemold(unlearned, now.time, null, options) }
    : lessonOf(unlearned, now.time, found, options);
  const cannotTell: { code: Untold; name?: string; other?: string }[] = [
    { code: "only_together" },
    ...(telling.every(({ verdict }) => verdict === "good") ? [{ code: "no_soft" as const }] : []),
    ...(telling.every(({ verdict }) => verdict === "soft") ? [{ code: "no_good" as const }] : []),
    ...(lines.length > telling.length ? [{ code: "other_verdicts" as const }] : []),
    ...(misses && !agree ? [{ code: "lines_disagree" as const }] : []),
    ...(found.raised > 1 ? [{ code: "verdicts_contradict" as const }] : []),
    ...(another ? [{ code: "another_bait" as const }] : []),
  ];
  return {
    question: "fit",
    answer: {
      of: "shop",
      readings: found.told,
      fitted,
      odd: misses && agree ? found.atOdds : found.odd,
      parameters: keptOf(parametersOf(job, found.weighed), fitted),
      residual: 0,
      cannotTell,
      means: [means],
      curve: { time: [], read: [], model: [] },
    },
    cautions: loggedCautions(job, {
      plastic: lines.flatMap(({ shot }) => shot ?? []),
      mold: lines.flatMap(({ mold }) => mold ?? []),
    }),
    ignored: ["one_dimension", "thermometer_error"],
    effort: { cells: 0, steps: 0, energyImbalance: 0 },
  };
}

/** What is kept in the job, and what it means: where the section takes another time than its surface has it, kept anew once. */
function lessonOf(
  unlearned: Job,
  before: Quantified,
  found: OpeningLearned,
  options: QuestionOptions,
) {
  const means = meansDemold(unlearned, before, found.fitted, options);
  const fitted = found.mended(means.value.value);
  return fitted === null
    ? { fitted: found.fitted, means }
    : { fitted, means: meansDemold(unlearned, before, fitted, options) };
}

/** Of a hundred honest logs one or two lie farther from what was known before, in its standard deviations. */
const UNLIKELY = 2.3;
/** A curve that misses its readings by more, K, and asks for another time than the job, is of another bait. */
const STRAYS = 3;

/** The log's range and the one before it don't touch, and by more than a job of its kind may be off. */
function isOfAnother(found: {
  readonly before: Ends;
  readonly after: Ends;
  readonly residual?: number;
}): boolean {
  const { before, after, residual = 0 } = found;
  if (after.low <= before.high && after.high >= before.low) return false;
  const deviation = Math.log(before.high / before.low) / (2 * NINE_OF_TEN);
  const off = Math.abs(Math.log(after.value / before.value)) / Math.max(1e-9, deviation);
  return residual > STRAYS || off > UNLIKELY;
}

/** The curve misses its readings by more of their scatter than this: then it is another body than the job's. */
const MISSES = 4;

function baitAnswer(
  unlearned: Job,
  readings: number,
  { time, temperature }: Pick<TemperatureLog, "time" | "temperature">,
  options: QuestionOptions,
): FitAnswer {
  const effort = new EffortSum();
  const job = atStart(unlearned);
  const now = openingOfJob(unlearned, options);
  const found = fitProbe(job, { time, temperature }, now.truer, effort, options);
  const misses = found.widened > MISSES || isOfAnother(found);
  const fitted = misses ? null : found.fitted;
  const parameters = keptOf(parametersOf(job, found.weighed), fitted);
  return {
    question: "fit",
    answer: {
      of: "bait",
      readings,
      fitted,
      odd: [],
      parameters,
      residual: found.residual,
      cannotTell: [
        { code: "one_place" },
        { code: "probe_place" },
        { code: "conductivity_or_heat" },
        ...parameters
          .filter(({ told }) => !told)
          .map(({ name }) => ({ code: "prior_kept" as const, name })),
        ...tiedInputs(found.weighed),
        ...(found.widened > MISSES ? [{ code: "model_misses" as const }] : []),
        ...(isOfAnother(found) ? [{ code: "another_bait" as const }] : []),
      ],
      means: [meansDemold(unlearned, now.time, fitted, options)],
      curve: { time, read: temperature, model: found.model },
    },
    cautions: loggedCautions(job, { plastic: temperature }),
    ignored: ["one_dimension", "thermometer_error"],
    effort: effort.done(),
  };
}

/** What `demold` answers for a job, and how much longer its section takes than its stand-in. */
function openingOfJob(job: Job, options: QuestionOptions): { time: Quantified; truer: number } {
  // a quick look without its levers is a draft, whose ends are a little off
  const { time, quick } = demold(job, {
    ...options,
    further: options.quick === true,
    likelyOnly: false,
  }).answer;
  const truer = time.value / quick.time;
  return { time, truer: Number.isFinite(truer) && truer > 0 ? truer : 1 };
}

/**
 * What the log means for the time to opening: what `demold` answers once its lesson stands in the job. A log that is refused means
 * nothing: it is as before.
 */
function meansDemold(
  unlearned: Job,
  before: Quantified,
  fitted: readonly FittedInput[] | null,
  options: QuestionOptions,
): FitContent["means"][number] {
  const value =
    fitted === null ? before : openingOfJob(atFitted({ ...unlearned, fitted }), options).time;
  return { name: "demold", value, before };
}

/** Of a log that is refused nothing is told of any input. */
function keptOf(
  parameters: readonly FittedParameter[],
  fitted: readonly FittedInput[] | null,
): readonly FittedParameter[] {
  if (fitted !== null) return parameters;
  return parameters.map(({ name, before }) => ({ name, fitted: before, before, told: false }));
}

/** What each input is now and was before, where it is one that is shown by itself. */
function parametersOf(job: Job, weighed: Weighed): FittedParameter[] {
  const deviations = deviationsOf(weighed);
  return weighed.inputs.map((input, i): FittedParameter => {
    const { kind, of } = SHOWN[input.name];
    const at = (z: number) => of(input.at(job, z));
    const { value, low, high } = endsOf(weighed, (z) => z[i]);
    return {
      name: input.name,
      fitted: ordered(at(value), at(low), at(high), kind),
      before: ordered(at(0), at(-NINE_OF_TEN), at(NINE_OF_TEN), kind),
      told: deviations[i] < TOLD,
    };
  });
}

const SHOWN: Readonly<Record<JobInputName, { kind: Kind; of: (job: Job) => number }>> = {
  "bait.thickness": { kind: "length", of: ({ bait }) => bait.thickness },
  "shot.temperature": { kind: "temperature", of: ({ shot }) => shot.temperature },
  "mold.temperature": { kind: "temperature", of: ({ mold }) => mold.temperature },
  "room.temperature": { kind: "temperature", of: ({ room }) => room.temperature },
  "shot.material.conductivity": {
    kind: "conductivity",
    of: ({ shot }) => shot.material.conductivity.value,
  },
  "shot.material.specificHeat": {
    kind: "specificHeat",
    of: ({ shot }) => shot.material.specificHeat.value,
  },
  "mold.material.conductivity": {
    kind: "conductivity",
    of: ({ mold }) => mold.material.conductivity.value,
  },
  "mold.material.filler": { kind: "density", of: ({ mold }) => mold.material.density.value },
  "mold.contact": { kind: "conductance", of: ({ mold }) => mold.contact },
};

function tiedInputs(weighed: Weighed): FitContent["cannotTell"] {
  const pairs: { code: "tied"; name: string; other: string }[] = [];
  weighed.inputs.forEach(({ name }, i) => {
    for (let j = 0; j < i; j++)
      if (Math.abs(correlationOf(weighed, i, j)) > TIED_INPUTS)
        pairs.push({ code: "tied", name, other: weighed.inputs[j].name });
  });
  return pairs;
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
