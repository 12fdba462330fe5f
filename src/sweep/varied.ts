/** What a sweep varies, and the value of each member. */
import { checkJob, withSetting } from "../../lib/job/job.ts";
import { readNumber } from "../../lib/units/number.ts";
import { InputError, type Problem } from "../../lib/units/problem.ts";

export interface Varied {
  /** Key of the job: `bait.thickness`. */
  readonly path: string;
  readonly low: number;
  readonly high: number;
  /** As typed; empty: none. */
  readonly unit: string;
}

/** Why two texts are no range. */
export type NoRange = "no number" | "two units" | "wrong way round";

/** Two ends as typed: `8` and `24 mm`; the unit of the far end serves both. */
export function variedBetween(path: string, from: string, to: string): Varied | NoRange {
  const [low, high] = [from, to].map(readNumber);
  if (!low || !high || !("value" in low) || !("value" in high)) return "no number";
  const unit = low.rest === "" ? high.rest : low.rest;
  if (high.rest !== unit) return "two units";
  if (!(low.value < high.value)) return "wrong way round";
  return { path, low: low.value, high: high.value, unit };
}

/** The value at a share of the way, to as many digits as a file keeps of it: what is computed is what is written. */
export function valueAt({ low, high }: Varied, share: number): number {
  return Number((low + share * (high - low)).toPrecision(8));
}

/** As it would stand in the job's file. */
export function settingAt({ unit }: Varied, value: number): string {
  return `${value} ${unit}`.trim();
}

/** What is wrong at either end of each range by itself: said before all members are refused for it. */
export function problemsAtEnds(
  raw: Readonly<Record<string, unknown>>,
  varied: readonly Varied[],
): Problem[] {
  return varied.flatMap((one) =>
    [one.low, one.high].flatMap((value) => {
      try {
        checkJob(withSetting(raw, one.path, settingAt(one, value)));
        return [];
      } catch (error) {
        if (error instanceof InputError) return error.problems;
        throw error;
      }
    }),
  );
}
