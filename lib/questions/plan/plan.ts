/** The evening at the bench: what to mix when, which mold is next, when it opens, what comes of it. SI. */

import type { Answer, CautionCode, Quantified } from "../../answers/answer.ts";
import type { Job } from "../../job/types.ts";
import { ignoredByShots } from "../../models/cooling.ts";
import { type PlasticMix, plasticInAll, plasticMix } from "../../models/plastic-mix.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { quantified } from "../../models/ranged.ts";
import { benchAsUsed } from "../../models/shots/as-used.ts";
import { benchOf } from "../../models/shots/bench.ts";
import { happenedProblems } from "../../models/shots/happened.ts";
import { shotTimes } from "../../models/shots/run-times.ts";
import {
  type Bench,
  type Happened,
  type PlannedShot,
  timelineOf,
} from "../../models/shots/timeline.ts";
import { ignoredByPreheat } from "../../models/start.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { InputError } from "../../units/problem.ts";
import { budget } from "../budget/budget.ts";
import { type Cost, costOf } from "./cost.ts";
import { cupsOf, type PlannedCup } from "./cups.ts";

/** One line of the evening's list. */
interface PlanStep {
  readonly at: number; // s from the start; before it, negative
  readonly does: "heat" | "inject" | "open";
  /** Cup to heat; shot to inject or to open. */
  readonly number: number;
  readonly mold: number | null;
  readonly done: boolean;
}

/** An evening step by step, from the first cup to the last opening. Times in s from the first shot. */
export interface PlanContent {
  readonly start: number | null; // s after midnight
  readonly shots: readonly PlannedShot[];
  readonly cups: readonly PlannedCup[];
  readonly steps: readonly PlanStep[];
  readonly pieces: Quantified;
  /** How long the plastic still bears the heat of the shot, s. */
  readonly left: Quantified;
  /** Plastic no hotter than this, K. */
  readonly pourMost: number;
  /** Shots that `cup.mass` holds; 0: less than one, and a cup is heated for each. */
  readonly shotsInCup: number;
  /** Hottest that the cavity face gets: over the evening, by the first shot alone, and what it bears, K. */
  readonly wallPeak: Quantified;
  readonly firstWallPeak: number;
  readonly wallLimit: number | null;
  /** Plastic of all cups. */
  readonly plastic: PlasticMix;
  /** What it weighs, kg. */
  readonly plasticInAll: Quantified;
  /** From heating the first cup to opening the last shot, s. */
  readonly lasts: number;
  readonly cost: Cost | null;
  /** Of the molds that have settled. */
  readonly settled: Quantified;
  /** Of the shots that have happened: how much later than planned the last one was injected, s. */
  readonly late: number | null;
}

/** The answer to `plan`. */
export type PlanAnswer = Answer<"plan", PlanContent>;

export interface PlanOptions extends QuestionOptions {
  /** What has happened so far, by injection. */
  readonly log?: readonly Happened[];
}

/**
 * The evening's plan: molds in rotation with one pair of hands, each shot's open time with its range, the cups and what is
 * stirred into them, pieces, grams and cost.
 *
 * Open times are those of `shots` for the n-th shot into a mold. With a log, the shots in it stay as they were and the rest
 * is planned anew from there, each mold as warm as its injections and openings have left it.
 *
 * @param job from `readJob`: `run`, `cup`, `plan`, `mix.plastic` and what `shots` reads
 * @returns times s from the start, masses kg
 * @throws InputError when the log names molds that are not there or runs backwards
 * @example plan(readJob("bait: { thickness: 8 mm }\nrun: { session: 20 min }").job, { quick: true }).answer.cups.length // 1
 */
export function plan(job: Job, options: PlanOptions = {}): PlanAnswer {
  const { log = [], ...asked } = options;
  const lines = log.map((shot, i) => ({ ...shot, path: `line ${i + 2}` }));
  const problems = happenedProblems(lines, job.run.molds);
  if (problems.length > 0) throw new InputError(problems);
  const heat = shotTimes(job, asked);
  const bench = benchOf(job, heat);
  const ahead = log.length === 0 ? null : timelineOf(bench);
  const planned = ahead === null ? timelineOf(bench) : asUsed(bench, heat, ahead, log);
  const { left, pourMost, shotsInCup } = budget(job, asked).answer;
  const cups = cupsOf(job, planned, left);
  const pieces = planned.length * job.mold.cavities;
  const byMold = new Map(planned.map((shot) => [`${shot.mold} ${shot.ofMold}`, shot]));
  const counted = (end: "low" | "high") => {
    const other: Bench = {
      ...bench,
      openAfter: (n, use) => {
        const same = byMold.get(`${use.mold} ${n}`);
        if (!same) {
          const time = bench.openAfter(n, use);
          return { ...time, value: time[end] };
        }
        const { injected, mayOpen: low, surely: high } = same;
        const ends = { low: low - injected, high: high - injected };
        return { ...ends, value: ends[end] };
      },
    };
    return timelineOf(other, log).length * job.mold.cavities;
  };
  const plastic = plasticMix(job, planned.length);
  // from the first cup on, which an evening that began late heated late
  const marks = [...cups.map(({ heated }) => heated), ...planned.map(({ injected }) => injected)];
  // an evening may have more shots than a call may have arguments
  const begins = marks.length === 0 ? 0 : marks.reduce((a, b) => Math.min(a, b));
  const ends = planned.reduce((latest, { opened }) => Math.max(latest, opened), begins);
  const cautions: CautionCode[] = heat.cautions();
  if (cups.some(({ lasts }) => !lasts) && !cautions.includes("plastisol_fumes"))
    cautions.push("plastisol_fumes");
  const { color, hardener, softener, glitter } = job.mix.plastic;
  if (color + hardener + softener + glitter > 0) cautions.push("damp_additives");
  const last = planned.findLast(({ done }) => done);
  const foreseen = ahead?.find(({ mold, ofMold }) => mold === last?.mold && ofMold === last.ofMold);
  return {
    question: "plan",
    answer: {
      start: job.plan.start,
      shots: planned,
      cups,
      steps: stepsOf(planned, cups),
      pieces: {
        value: pieces,
        low: Math.min(pieces, counted("high")),
        high: Math.max(pieces, counted("low")),
        kind: "ratio",
      },
      left,
      pourMost,
      shotsInCup,
      wallPeak: quantified(heat.wallPeak, "temperature"),
      firstWallPeak: heat.rows[0].wallPeak,
      wallLimit: wallLimitOf(job),
      plastic,
      plasticInAll: quantified(plasticInAll(plastic), "mass"),
      lasts: ends - begins,
      cost: costOf(job, {
        pieces,
        shots: planned.length,
        plastic: plastic.mass,
        time: ends - begins,
      }),
      settled: quantified(heat.later, "duration"),
      late: last && foreseen ? last.injected - foreseen.injected : null,
    },
    cautions,
    ignored: [
      ...ignoredByShots(options.quick === true, job, true),
      ...ignoredByPreheat(job),
      "uneven_pace",
      "shots_wanted",
      "one_color",
      ...(job.run.timer === null ? [] : (["fixed_timer"] as const)),
    ],
    effort: heat.effort.done(),
  };
}

/** The evening from what has happened on: each mold is as warm as that left it. */
function asUsed(
  bench: Bench,
  heat: ReturnType<typeof shotTimes>,
  ahead: readonly PlannedShot[],
  log: readonly Happened[],
): PlannedShot[] {
  const logged = (mold: number) => log.filter((shot) => shot.mold === mold).length;
  return timelineOf(benchAsUsed(bench, heat, ahead, logged), log);
}

function stepsOf(planned: readonly PlannedShot[], cups: readonly PlannedCup[]): PlanStep[] {
  const steps: PlanStep[] = [
    ...cups.map(
      ({ heated, number, from }): PlanStep => ({
        at: heated,
        does: "heat",
        number,
        mold: null,
        done: planned.find((shot) => shot.number === from)?.done ?? false,
      }),
    ),
    ...planned.flatMap(({ injected, opened, number, mold, done }): PlanStep[] => [
      { at: injected, does: "inject", number, mold, done },
      { at: opened, does: "open", number, mold, done },
    ]),
  ];
  return steps.sort((a, b) => a.at - b.at);
}
