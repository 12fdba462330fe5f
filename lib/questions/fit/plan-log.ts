/** Before a log is made: how far it would narrow the time to opening, by where the probe sits and how long it runs. SI and K. */

import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { Answer, Quantified } from "../../answers/answer.ts";
import type { Surface } from "../../confidence/surface.ts";
import { simulate } from "../../heat/simulate.ts";
import { beforeLogs } from "../../job/fitted.ts";
import type { Job } from "../../job/types.ts";
import type { BaitModel } from "../../models/bait/bar.ts";
import { loggedCautions } from "../../models/cautions.ts";
import { cool, DRAFTING, LONGEST_COOLING } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { EffortSum } from "../../models/ranged.ts";
import { atStart } from "../../models/start.ts";
import { uncertainInputs } from "../../models/uncertain-inputs.ts";
import { slopesAt } from "../../numerics/slopes.ts";
import { demold } from "../demold/demold.ts";
import { type BeforeVerdicts, leftByVerdicts, WARMS } from "./invented-shops.ts";
import { layOut, TIMES_OFF } from "./learned.ts";
import { CLOCK, CURVE_OFF, heldOf, NOISE, OFF } from "./probe.ts";
import { type SlowestBar, slowestBar } from "./slowest-bar.ts";

/** A log that could be made, and what it is expected to leave of the range. */
export interface LogWorth {
  /** A probe in the middle of the slowest station, a probe on the mold's face there, or verdicts of shots. */
  readonly of: "middle" | "face" | "shots";
  /** From the shot on, s; null for shots. */
  readonly lasts: number | null;
  /** Lines that say good or soft, opened at about the time that is likely by then; null for a probe. */
  readonly shots: number | null;
  /** Width of the range then, over that of now: 0 to 1. */
  readonly left: number;
  /** The time to opening as it is expected to be known then. */
  readonly time: Quantified;
}

/** Logs that could be made, and what each would leave of the range. */
export interface LogPlan {
  readonly station: string;
  /** The time to opening by the quick look, as it is known now. */
  readonly now: Quantified;
  /** Probes by place, from short to long, then shots from few to many. */
  readonly logs: readonly LogWorth[];
}

/** The answer to `planLog`. */
export type LogPlanAnswer = Answer<"fit", LogPlan>;

/** Ends of a log, as shares of the time to opening. */
const LASTS = [0.15, 0.3, 0.5, 0.75, 1, 1.25];
const SHOTS = [3, 6, 12, 24];
/** Times at which the curve is known, evenly spaced. */
const GRID = 60;
const STEP = 0.25;

/**
 * What logs of one bait, or of an evening's shots, are expected to teach about the time to opening.
 *
 * Every log is weighed as `fit` weighs it: a probe's with the model straightened around the job as it stands, verdicts by
 * shops that are invented. What is left of the width is known before a reading is taken. A log that turns out odd teaches
 * less.
 *
 * @param given the job of what is to be logged; what an earlier log has taught it is put aside
 * @example planLog(readJob("bait: { thickness: 16 mm }").job).answer.logs.length // 16
 */
export function planLog(given: Job, options: QuestionOptions = {}): LogPlanAnswer {
  const job = atStart(beforeLogs(given));
  const { station, modelOf } = slowestBar(job, options);
  const effort = new EffortSum();
  const limit = job.limits.demold;
  const opens = Math.exp(logTimeOf(modelOf(job), limit));
  const until = opens * LASTS[LASTS.length - 1];
  const times = Array.from({ length: GRID }, (_, k) => (until * (k + 1)) / GRID);
  const laid = layOut(job, 0, (moved) => {
    const model = modelOf(moved);
    const history = simulate({ ...model.problem, ...DRAFTING, stages: [{ until }], times });
    effort.add(history);
    return [
      logTimeOf(model, limit),
      logTimeOf(modelOf(inWarmMold(moved)), limit),
      ...Array.from(history.probes["hottest"]),
      ...Array.from(history.probes["wall"]),
    ];
  });
  const n = laid.inputs.length;
  const [logTime, logWarmTime, ...curves] = laid.surfaces;
  // of the logarithm of time by every deviate: the inputs, instrument, clock, and that all times are off
  const ofInputs = slopesOf(logTime, n);
  const ofTime = [...ofInputs, 0, 0, TIMES_OFF];
  const places = {
    middle: curves.slice(0, GRID),
    face: curves.slice(GRID),
  };
  const { time: now } = demold(job, { ...options, quick: true }).answer;
  const answered: Answered = {
    now,
    before: Math.hypot(...ofInputs),
    air: ofAir(job, modelOf),
    missed: logTime.error,
    hand: job.uncertainty.time,
  };
  const probes = (["middle", "face"] as const).flatMap((of) =>
    LASTS.map((share): LogWorth => {
      const deviation = leftByProbe(places[of], times, share * opens, ofTime);
      return { of, lasts: share * opens, shots: null, ...worthOf(answered, deviation) };
    }),
  );
  const left = leftByVerdicts(SHOTS, beforeVerdicts(logTime, logWarmTime, n));
  const shots = SHOTS.map(
    (count, i): LogWorth => ({
      of: "shots",
      lasts: null,
      shots: count,
      ...worthOf(answered, left[i]),
    }),
  );
  return {
    question: "fit",
    answer: { station, now, logs: [...probes, ...shots] },
    cautions: loggedCautions(job),
    ignored: ["one_dimension", "thermometer_error"],
    effort: effort.done(),
  };
}

/** Logarithm of the time to opening. */
function logTimeOf(model: BaitModel, limit: number): number {
  return Math.log(Math.min(cool(model, limit, DRAFTING).time, LONGEST_COOLING));
}

/** The range that is answered now, and what of it no log narrows. */
interface Answered {
  readonly now: Quantified;
  /** Deviation of the logarithm of time by the inputs of the job. */
  readonly before: number;
  /** The same by the air, and by what the surface misses through which a log is weighed. */
  readonly air: number;
  readonly missed: number;
  /** What clock and hand blur, s. */
  readonly hand: number;
}

/** What is left of the answered range where a log leaves this deviation of the logarithm of time. */
function worthOf(
  { now, before, air, missed, hand }: Answered,
  after: number,
): Pick<LogWorth, "left" | "time"> {
  const { value, low, high, kind } = now;
  const whole = Math.hypot(before, air);
  // where it never opens, whatever the inputs are, nothing is left to tell
  const left = whole > 0 ? Math.min(1, Math.hypot(after, air, missed) / whole) : 1;
  if (!Number.isFinite(value)) return { left, time: now };
  // each end as much nearer as the deviation is less, but for the hand's part of it
  const end = (of: number) => {
    const byHand = of === value ? 0 : Math.min(1, hand / Math.abs(of - value));
    return value * (of / value) ** Math.hypot(byHand, left * Math.sqrt(1 - byHand ** 2));
  };
  const time = { value, low: end(low), high: end(high), kind };
  const width = (ends: Quantified) => Math.log(ends.high / ends.low);
  return {
    left: width(now) > 0 && Number.isFinite(width(now)) ? width(time) / width(now) : left,
    time,
  };
}

/** Change of the logarithm of time for the deviate of the air. */
function ofAir(job: Job, modelOf: SlowestBar["modelOf"]): number {
  const [air] = uncertainInputs(job).filter(({ name }) => name === "air");
  const [slope] = slopesAt(
    ([z]) => {
      const { airFactor } = air.at({ job, airFactor: 1 }, z);
      return logTimeOf(modelOf(job, airFactor), job.limits.demold);
    },
    [0],
    1,
  );
  return slope;
}

/** The job where its mold has got warm over the first shots. */
function inWarmMold(job: Job): Job {
  const { mold } = job;
  const upperTemperature = mold.upperTemperature + WARMS;
  return { ...job, mold: { ...mold, temperature: mold.temperature + WARMS, upperTemperature } };
}

/** What is known before verdicts of the time in the job's mold and in a warm one: how they go with each other. */
function beforeVerdicts(logTime: Surface, logWarmTime: Surface, n: number): BeforeVerdicts {
  const zero = new Float64Array(n);
  const of = [...slopesOf(logTime, n), TIMES_OFF];
  const warmer = slopesOf(logWarmTime, n).map((slope, i) => slope - of[i]);
  const before = Math.hypot(...of);
  const along = warmer.reduce((sum, slope, i) => sum + slope * of[i], 0) / before ** 2;
  return {
    before,
    along,
    apart: Math.hypot(...warmer.map((slope, i) => slope - along * of[i]), along * TIMES_OFF),
    shift: logWarmTime.at(zero) - logTime.at(zero),
    error: logTime.error,
  };
}

/** Change of a surface for each deviate, around where all stand at their middle. */
const slopesOf = (surface: Surface, n: number) => slopesAt(surface.at, new Float64Array(n), STEP);

/** Standard deviation of the logarithm of time after a probe's log; deviates have 1 before it. */
function leftByProbe(
  curve: readonly Surface[],
  times: readonly number[],
  lasts: number,
  ofTime: readonly number[],
): number {
  const n = ofTime.length - 3;
  const within = times.filter((t) => t <= lasts * (1 + 1e-9)).length;
  const held = heldOf(within);
  const zero = new Float64Array(n);
  const at = curve.map((surface) => surface.at(zero));
  const hottest = Math.max(...held.map((k) => at[k]));
  const precision = Matrix.eye(ofTime.length);
  for (const k of held) {
    const [a, b] = [Math.max(0, k - 1), Math.min(at.length - 1, k + 1)];
    const rate = (at[b] - at[a]) / (times[b] - times[a]);
    const slopes = [...slopesOf(curve[k], n), OFF, rate * CLOCK, -rate * TIMES_OFF * times[k]];
    const scatter = Math.hypot(NOISE, CURVE_OFF * (hottest - at[k]), curve[k].error);
    slopes.forEach((x, i) => {
      slopes.forEach((y, j) => {
        precision.set(i, j, precision.get(i, j) + (x * y) / scatter ** 2);
      });
    });
  }
  const column = Matrix.columnVector([...ofTime]);
  const solved = new CholeskyDecomposition(precision).solve(column);
  return Math.sqrt(column.transpose().mmul(solved).get(0, 0));
}
