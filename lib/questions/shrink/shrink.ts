/** How much larger must the master be, so that the bait comes out at size? SI. */

import type { Answer, Quantified, Reason } from "../../answers/answer.ts";
import type { Job, ShrinkStep } from "../../job/types.ts";
import { type Shrinking, SILICONE_CONTRACTION, sizeFactor } from "../../materials/shrinkage.ts";
import { InputError, type Problem } from "../../units/problem.ts";

/** One casting on the way from master to bait. */
export interface ShrunkStep {
  readonly name: string;
  readonly material: string;
  /** Linear, share of length; negative: it grows. */
  readonly shrinkage: Quantified;
  /** Size after this step over the size of the first master. */
  readonly size: Quantified;
  /** Length of the casting after this step, back from a bait at its size, m. */
  readonly length: Quantified;
}

/** How much larger the first master must be. Sizes in m, shares of 1. */
export interface ShrinkContent {
  /** Size of the first master over that of the bait: sculpt by this factor larger. */
  readonly scale: Quantified;
  /** Length of the first master for the bait of the job, m. */
  readonly masterLength: Quantified;
  readonly steps: readonly ShrunkStep[];
  /** The step that leaves most open; null: all are the file's own, and only their rounding is open. */
  readonly decidedBy: Reason | null;
}

/** The answer to `shrink`. */
export type ShrinkAnswer = Answer<"shrink", ShrinkContent>;

const asRatio = ({ value, low, high }: Shrinking): Quantified => ({
  value,
  low,
  high,
  kind: "ratio",
});

/** Of one's own the figure as it was written. */
function asGiven({ shrinkage }: ShrinkStep, { value, low, high }: Shrinking): Quantified {
  return asRatio(shrinkage === null ? { value, low, high } : { value, low: value, high: value });
}

/** Room temperature against which a warm-cured silicone is reckoned, K. */
const SILICONE_ROOM = 296.15;

/**
 * Scale of the first master, with its range, along the chain of castings of a job.
 *
 * Each step loses a share of its length: the file's, rounded as it is written, else the catalog's with its spread. A silicone cured warm loses
 * 0.025 to 0.03 % more for each kelvin above 23 degC. A step's own range and those of the others are independent.
 *
 * @param job from `readJob`
 * @returns scale without unit, lengths m
 * @throws InputError (`shrinkage_missing`) for a step whose material has no shrinkage in the catalog and none in the file
 * @example shrink(readJob("bait: { thickness: 16 mm }\nshrink: { steps: [{ material: soft plastisol, shrinkage: 2 % }] }").job).answer.scale.value // 1.0204
 */
export function shrink(job: Job): ShrinkAnswer {
  const problems: Problem[] = [];
  const shrinkings = job.shrink.steps.map((step, i) => shrinkingOf(step, i, problems));
  if (problems.length > 0) throw new InputError(problems);
  const steps = job.shrink.steps.map(
    (step, i): ShrunkStep => ({
      name: step.name,
      material: step.material.name,
      shrinkage: asGiven(step, shrinkings[i]),
      size: asRatio(sizeFactor(shrinkings.slice(0, i + 1))),
      length: lengthAfter(shrinkings.slice(i + 1), job.bait.length),
    }),
  );
  const factor = sizeFactor(shrinkings);
  const scale = { value: 1 / factor.value, low: 1 / factor.high, high: 1 / factor.low };
  const width = ({ low, high }: Shrinking) => high - low;
  const widest = shrinkings.reduce(
    (best, s, i) => (width(s) > width(shrinkings[best]) ? i : best),
    0,
  );
  const { length } = job.bait;
  return {
    question: "shrink",
    answer: {
      scale: asRatio(scale),
      masterLength: {
        value: length * scale.value,
        low: length * scale.low,
        high: length * scale.high,
        kind: "length",
      },
      steps,
      decidedBy: job.shrink.steps.every(({ shrinkage }) => shrinkage !== null)
        ? null
        : { code: "shrinkage", name: steps[widest].name },
    },
    cautions: [],
    ignored: [
      "humidity",
      "clamp_gap",
      ...(job.shrink.steps.some((step) => step.curedAt !== null && !isWarmthCounted(step))
        ? (["cure_warmth"] as const)
        : []),
    ],
    effort: { cells: 0, steps: 0, energyImbalance: 0 },
  };
}

/** What still shrinks by these steps to the length of the bait, m. */
function lengthAfter(later: readonly Shrinking[], bait: number): Quantified {
  const { value, low, high } =
    later.length === 0 ? { value: 1, low: 1, high: 1 } : sizeFactor(later);
  return { value: bait / value, low: bait / high, high: bait / low, kind: "length" };
}

/** A shrinkage of one's own is as sure as it is written: a half of its last digit, but no less sure than a tenth of a percent. */
function asWritten(given: number): Shrinking {
  const percent = String(Number((100 * given).toPrecision(12)));
  const decimals = Math.max(1, (percent.split(".")[1] ?? "").length);
  const off = 10 ** -decimals / 200;
  return { value: given, low: given - off, high: given + off };
}

/** A shrinkage that the user measured has the warmth in it already; of other materials nothing is known of it. */
const isWarmthCounted = ({ shrinkage, material }: ShrinkStep): boolean =>
  shrinkage === null && material.family === "silicone";

function shrinkingOf(step: ShrinkStep, i: number, problems: Problem[]): Shrinking {
  const { material } = step;
  const given = step.shrinkage;
  const base = given === null ? material.shrinkage : asWritten(given);
  if (base === undefined) {
    problems.push({
      code: "shrinkage_missing",
      path: `shrink.steps[${i}].shrinkage`,
      given: material.name,
    });
    return { value: 0, low: 0, high: 0 };
  }
  if (step.curedAt === null || !isWarmthCounted(step)) return base;
  const warmer = step.curedAt - SILICONE_ROOM;
  if (warmer <= 0) return base;
  return {
    value: base.value + SILICONE_CONTRACTION.value * warmer,
    low: base.low + SILICONE_CONTRACTION.low * warmer,
    high: base.high + SILICONE_CONTRACTION.high * warmer,
  };
}
