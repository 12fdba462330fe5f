/** Lines of a shop's log as evidence: a bait that came out good had cooled by then, a soft one had not. SI and K. */

import type { Job } from "../../job/types.ts";
import { cool, DRAFTING, LONGEST } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { erfc } from "../../numerics/special-functions.ts";
import { layOut, type Opening, openingOf, TIMES_OFF } from "./learned.ts";
import { slowestBar } from "./slowest-bar.ts";
import { endsOf, type Weighed, weigh } from "./weighed.ts";

export type ShopVerdict = "good" | "soft" | "dent" | "short" | "bleed" | "peel";

/** One shot of a shop's log. */
export interface ShopLine {
  /** Mold and plastic as they were read before the shot, K; null: not read. */
  readonly mold: number | null;
  readonly shot: number | null;
  /** From injection to opening, s. */
  readonly opened: number;
  readonly verdict: ShopVerdict;
}

/** One bait is this much slower or faster than the next: handling, filling, who judges it. From memory. */
export const LINE_SCATTER = 0.06;
/** The same where the mold's temperature was not read. */
const UNREAD_SCATTER = 0.15;
/** A reading moves from bait to bait by this, K. */
const MOLD_STEP = 10;
const SHOT_STEP = 8;
/** A line against all others is a slip of the pen this often. */
const SLIP = 0.02;

interface ShopFound extends Opening {
  readonly weighed: Weighed;
  /** Lines that tell of the time. */
  readonly told: number;
  /** Lines, from 1, that don't go with the others. */
  readonly odd: readonly number[];
  /** How much larger the scatter of a line had to be taken, so that a single time explains all of them; 1: none. */
  readonly raised: number;
  readonly members: number;
}

/** How much larger the scatter of a line may be than thought, and how unlikely that is: a share of spread in logarithms. */
const RAISED = [1, 1.4, 2, 2.8, 4, 5.6, 8];
const RAISED_SPREAD = 0.7;
/** Times that are tried, as a share of what is likely: from a fifth to five times. */
const TRIED = Array.from({ length: 81 }, (_, k) => (k / 40 - 1) * Math.log(5));

/** A verdict, and by how much later than likely it was opened, as a logarithm. */
interface Told {
  readonly late: number;
  readonly beside: number;
  readonly scatter: number;
}

/**
 * How much the scatter of lines must be raised. Where one time explains them all as they are, not at all; where shorter
 * ones were good and longer ones soft, by what makes them likeliest with the time that suits them best.
 */
function raisedScatter(lines: readonly Told[]): number {
  // verdicts that one time parts are at odds with the job at most, not with each other
  const besides = (late: number) => lines.filter((line) => line.late === late).map((l) => l.beside);
  if (
    Math.min(...besides(1), Number.POSITIVE_INFINITY) >=
    Math.max(...besides(-1), Number.NEGATIVE_INFINITY)
  )
    return RAISED[0];
  const explained = (raised: number) =>
    Math.max(
      ...TRIED.map((time) =>
        lines.reduce(
          (sum, { late, beside, scatter }) =>
            sum +
            Math.log(SLIP + (1 - 2 * SLIP) * below((late * (beside - time)) / (raised * scatter))),
          0,
        ),
      ),
    );
  const likely = RAISED.map(
    (raised) => explained(raised) - (Math.log(raised) / RAISED_SPREAD) ** 2 / 2,
  );
  return RAISED[likely.indexOf(Math.max(...likely))];
}

/** Normal probability below x, never quite 0. */
const below = (x: number) => erfc(-x / Math.SQRT2) / 2;

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
    return [Math.log(truer * Math.min(time, LONGEST))];
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
  const evidence = lines.flatMap((line, i) => {
    if (line.verdict !== "good" && line.verdict !== "soft") return [];
    return [
      {
        number: i + 1,
        late: line.verdict === "good" ? 1 : -1,
        opened: Math.log(line.opened),
        mold: line.mold === null ? 0 : (line.mold - job.mold.temperature) / MOLD_STEP,
        shot: line.shot === null ? 0 : (line.shot - job.shot.temperature) / SHOT_STEP,
        scatter: Math.hypot(line.mold === null ? UNREAD_SCATTER : LINE_SCATTER, logTime.error),
      },
    ];
  });
  const likely = new Float64Array(n + 1);
  const raised = raisedScatter(
    evidence.map(({ late, opened, mold, shot, scatter }) => ({
      late,
      beside: opened - timeOf(likely, mold, shot),
      scatter,
    })),
  );
  const chance = (member: Float64Array, line: (typeof evidence)[number]) =>
    below(
      (line.late * (line.opened - timeOf(member, line.mold, line.shot))) / (raised * line.scatter),
    );
  const weighed = weigh(inputs, 1, (member) =>
    evidence.reduce((sum, line) => sum + Math.log(SLIP + (1 - 2 * SLIP) * chance(member, line)), 0),
  );
  const atJob = (member: Float64Array) => {
    z.set(member.subarray(0, n));
    z.fill(0, n);
    return logTime.at(z);
  };
  return {
    weighed,
    ...openingOf(weighed, 1, atJob, n),
    told: evidence.length,
    odd: evidence
      .filter((line) => endsOf(weighed, (member) => chance(member, line)).value < 0.05)
      .map(({ number }) => number),
    raised,
    members,
  };
}
