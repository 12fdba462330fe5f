/** Lines of a shop's log as evidence: a bait that came out good had cooled by then, a soft one had not. SI and K. */

import type { Job } from "../../job/types.ts";
import { cool, DRAFTING, LONGEST_COOLING } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { type Between, layOut, type OpeningLearned, openingLearned, TIMES_OFF } from "./learned.ts";
import type { ShopVerdict } from "./shop-verdicts.ts";
import { slowestBar } from "./slowest-bar.ts";
import {
  againstBest,
  chance,
  LINE_SCATTER,
  logChance,
  partedBy,
  raisedScatter,
  type Told,
} from "./verdicts.ts";
import { warmedBy } from "./warmed.ts";
import { endsOf, type Weighed, weigh } from "./weighed.ts";

/** One shot of a shop's log. */
export interface ShopLine {
  /** Mold and plastic as they were read before the shot, K; null: not read. */
  readonly mold: number | null;
  readonly shot: number | null;
  /** From injection to opening, s. */
  readonly opened: number;
  readonly verdict: ShopVerdict;
  /** Which mold it was, and when it was filled, s from anywhere: what it has behind it warms it. Left out: not told. */
  readonly filled?: { readonly mold: string; readonly at: number };
}

/** The same where the mold's temperature was not read, nor follows from what the mold has behind it. */
const UNREAD_SCATTER = 0.15;
/** How far what a mold has behind it tells how warm it is: of the logarithm of what that adds to its time, a guess. */
const WARMED_SCATTER = 0.25;
/** A reading moves from bait to bait by this, K. */
const MOLD_STEP = 10;
const SHOT_STEP = 8;

interface ShopFound extends OpeningLearned {
  readonly weighed: Weighed;
  /** Lines that tell of the time. */
  readonly told: number;
  /** Lines, from 1, that don't go with the others. */
  readonly odd: readonly number[];
  /** Lines, from 1, that are against the single time that suits all of them best: at odds with each other. */
  readonly atOdds: readonly number[];
  /** How much larger the scatter of a line had to be taken, so that a single time explains all of them; 1: none. */
  readonly raised: number;
  readonly members: number;
}

/** @param truer how much longer the section takes than its stand-in: what is logged goes by the section */
export function fitShop(
  job: Job,
  lines: readonly ShopLine[],
  truer: number,
  options: QuestionOptions,
): ShopFound {
  const { modelOf } = slowestBar(job, options);
  const { inputs, surfaces, members } = layOut(job, 2, (moved, [mold, shot]) => {
    const by = MOLD_STEP * mold;
    const read: Job = {
      ...moved,
      mold: {
        ...moved.mold,
        temperature: moved.mold.temperature + by,
        upperTemperature: moved.mold.upperTemperature + by,
      },
      shot: { ...moved.shot, temperature: moved.shot.temperature + SHOT_STEP * shot },
    };
    const { time } = cool(modelOf(read), job.limits.demold, DRAFTING);
    return [Math.log(truer * Math.min(time, LONGEST_COOLING))];
  });
  const [logTime] = surfaces;
  const n = inputs.length;
  const z = new Float64Array(n + 2);
  /** Logarithm of the time for an ensemble's member, whose last deviate is how far all times are off. */
  const timeOf = (member: Float64Array, mold: number, shot: number) => {
    z.set(member.subarray(0, n));
    z[n] = mold;
    z[n + 1] = shot;
    return logTime.at(z) + TIMES_OFF * member[n];
  };
  const warmed = warmedBy(job, lines, truer, options);
  const scatterOf = ({ mold, filled }: ShopLine, i: number) => {
    if (mold !== null) return LINE_SCATTER;
    if (filled === undefined) return UNREAD_SCATTER;
    return Math.hypot(LINE_SCATTER, WARMED_SCATTER * Math.log(warmed[i]));
  };
  const evidence = lines.flatMap((line, i) => {
    if (line.verdict !== "good" && line.verdict !== "soft") return [];
    return [
      {
        number: i + 1,
        late: line.verdict === "good" ? 1 : -1,
        opened: Math.log(line.opened / warmed[i]),
        mold: line.mold === null ? 0 : (line.mold - job.mold.temperature) / MOLD_STEP,
        shot: line.shot === null ? 0 : (line.shot - job.shot.temperature) / SHOT_STEP,
        scatter: Math.hypot(scatterOf(line, i), logTime.error),
      },
    ];
  });
  const likely = new Float64Array(n + 1);
  const told = evidence.map(({ late, opened, mold, shot, scatter }) => ({
    late,
    beside: opened - timeOf(likely, mold, shot),
    scatter,
  }));
  const raised = raisedScatter(told);
  const besideOf = (member: Float64Array, line: (typeof evidence)[number]) =>
    line.opened - timeOf(member, line.mold, line.shot);
  const weighed = weigh(inputs, 1, (member) =>
    evidence.reduce(
      (sum, line) => sum + logChance(line.late, besideOf(member, line), raised * line.scatter),
      0,
    ),
  );
  const atJob = (member: Float64Array) => {
    z.set(member.subarray(0, n));
    z.fill(0, n);
    return logTime.at(z);
  };
  return {
    weighed,
    ...openingLearned(weighed, 1, atJob, n, likelyBetween(told, atJob(likely))),
    atOdds: againstBest(told).map((i) => evidence[i].number),
    told: evidence.length,
    odd: evidence
      .filter((line) => {
        const here = (member: Float64Array) =>
          chance(line.late, besideOf(member, line), raised * line.scatter);
        return endsOf(weighed, here).value < 0.05;
      })
      .map(({ number }) => number),
    raised,
    members,
  };
}

/** So many soft ones and as many good ones part the times for sure. */
const FEWEST_EACH = 2;

/** Times between which the likely one lies, for all soft ones were shorter and all good ones longer; null: they don't say. */
function likelyBetween(told: readonly Told[], logLikely: number): Between | null {
  const isSaid = [-1, 1].every(
    (late) => told.filter((line) => line.late === late).length >= FEWEST_EACH,
  );
  const parted = isSaid ? partedBy(told) : null;
  if (parted === null) return null;
  // not at the very time of a soft one: there a bait comes out either way
  const inside = Math.min((parted.to - parted.from) / 4, LINE_SCATTER / 2);
  return {
    from: Math.exp(logLikely + parted.from + inside),
    to: Math.exp(logLikely + parted.to - inside),
  };
}
