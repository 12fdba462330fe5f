/** Before a log is made: how far it would narrow the time to opening, by where the probe sits and how long it runs. SI and K. */

import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { Answer, Quantified } from "../../answers/answer.ts";
import type { Surface } from "../../confidence/surface.ts";
import { simulate } from "../../heat/simulate.ts";
import { beforeLogs } from "../../job/fitted.ts";
import type { Job } from "../../job/types.ts";
import { cool, DRAFTING, LONGEST } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { EffortSum } from "../../models/ranged.ts";
import { atStart } from "../../models/start.ts";
import { NINE_OF_TEN } from "../../numerics/deviates.ts";
import { slopesAt } from "../../numerics/slopes.ts";
import { erfc } from "../../numerics/special-functions.ts";
import { demold } from "../demold/demold.ts";
import { layOut, TIMES_OFF } from "./learned.ts";
import { CLOCK, CURVE_OFF, heldOf, NOISE, OFF } from "./probe.ts";
import { LINE_SCATTER } from "./shop.ts";
import { slowestBar } from "./slowest-bar.ts";

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
 * Every log is weighed as `fit` weighs it, with the model straightened around the job as it stands: what is left of the
 * width is known before a reading is taken. A log that turns out odd teaches less.
 *
 * @param given the job of what is to be logged; what an earlier log has taught it is put aside
 * @example planLog(readJob("bait: { thickness: 16 mm }").job).answer.logs.length // 16
 */
export function planLog(given: Job, options: QuestionOptions = {}): LogPlanAnswer {
  const job = atStart(beforeLogs(given));
  const { station, modelOf } = slowestBar(job, options);
  const effort = new EffortSum();
  const opens = cool(modelOf(job), job.limits.demold, DRAFTING).time;
  const until = Math.min(opens, LONGEST) * LASTS[LASTS.length - 1];
  const times = Array.from({ length: GRID }, (_, k) => (until * (k + 1)) / GRID);
  const laid = layOut(job, 0, (moved) => {
    const model = modelOf(moved);
    const history = simulate({ ...model.problem, ...DRAFTING, stages: [{ until }], times });
    effort.add(history);
    const { time } = cool(model, job.limits.demold, DRAFTING);
    return [
      Math.log(Math.min(time, LONGEST)),
      ...Array.from(history.probes["hottest"]),
      ...Array.from(history.probes["wall"]),
    ];
  });
  const n = laid.inputs.length;
  const [logTime] = laid.surfaces;
  // of the logarithm of time by every deviate: the inputs, instrument, clock, and that all times are off
  const ofTime = [...slopesOf(logTime, n), 0, 0, TIMES_OFF];
  const whole = Math.hypot(...ofTime);
  const places = {
    middle: laid.surfaces.slice(1, 1 + GRID),
    face: laid.surfaces.slice(1 + GRID, 1 + 2 * GRID),
  };
  const { time: now } = demold(job, { ...options, quick: true }).answer;
  // the range that is answered, each end as much nearer as the deviation is less
  const range = (left: number): Quantified => {
    const end = (of: number) =>
      Number.isFinite(now.value) ? now.value * (of / now.value) ** left : of;
    return { value: now.value, low: end(now.low), high: end(now.high), kind: "duration" };
  };
  const probes = (["middle", "face"] as const).flatMap((of) =>
    LASTS.map((share): LogWorth => {
      const left = leftByProbe(places[of], times, share * opens, ofTime) / whole;
      return { of, lasts: share * opens, shots: null, left, time: range(left) };
    }),
  );
  const shots = SHOTS.map((count): LogWorth => {
    const left = leftByShots(count, whole) / whole;
    return { of: "shots", lasts: null, shots: count, left, time: range(left) };
  });
  return {
    question: "fit",
    answer: { station, now, logs: [...probes, ...shots] },
    cautions: ["hot_plastisol"],
    ignored: ["one_dimension", "thermometer_error"],
    effort: effort.done(),
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

/** A shop opens this much earlier or later than what is likely by then, as a share: it gropes. From memory. */
const BESIDE = 0.08;
/** Deviates at which what a verdict tells is averaged over where the truth may lie. */
const AVERAGED = Array.from({ length: 9 }, (_, k) => -2 + k / 2);

/**
 * Standard deviation of the logarithm of time after so many verdicts, each of a bait opened at about the time that is
 * likely by then: the farther the truth may lie from there, the less a verdict tells.
 */
function leftByShots(count: number, before: number): number {
  const weights = AVERAGED.map((u) => Math.exp((-u * u) / 2));
  const whole = weights.reduce((a, b) => a + b, 0);
  let deviation = before;
  for (let shot = 0; shot < count; shot++) {
    const told = AVERAGED.reduce(
      (sum, u, k) =>
        sum + (weights[k] / whole) * ofVerdict((u * Math.hypot(deviation, BESIDE)) / LINE_SCATTER),
      0,
    );
    deviation = 1 / Math.sqrt(1 / deviation ** 2 + told / LINE_SCATTER ** 2);
  }
  return deviation;
}

/** Fisher's information of good or soft about a threshold that lies so many scatters away. */
function ofVerdict(x: number): number {
  const good = erfc(-x / Math.SQRT2) / 2;
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  return density ** 2 / Math.max(1e-12, good * (1 - good));
}
