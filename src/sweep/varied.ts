/** What a sweep varies, and the value of each member. */
import { checkJob } from "../../lib/job/job.ts";
import { withSetting } from "../../lib/job/with-setting.ts";
import { countingPath } from "../../lib/models/start.ts";
import { type Problem, tried } from "../../lib/units/problem.ts";

export interface Varied {
  /** Key of the job: `bait.thickness`. */
  readonly path: string;
  readonly low: number;
  readonly high: number;
  /** As typed; empty: none. */
  readonly unit: string;
  /** It goes by whole numbers. */
  readonly whole?: true;
}

/** The value at a share of the way, to as many digits as a file keeps of it: what is computed is what is written. */
export function valueAt({ low, high, whole }: Varied, share: number): number {
  if (whole) return Math.min(high, Math.floor(low + share * (high - low + 1)));
  return Number((low + share * (high - low)).toPrecision(8));
}

/** As it would stand in the job's file. */
export function settingAt({ unit }: Varied, value: number): string {
  return `${value} ${unit}`.trim();
}

/** What a job says of a value of this key. */
function problemsWith(
  raw: Readonly<Record<string, unknown>>,
  one: Varied,
  value: number,
): readonly Problem[] {
  const problems: Problem[] = [];
  tried(problems, () => checkJob(withSetting(raw, one.path, settingAt(one, value))));
  return problems;
}

/** The same, but keys that count things by whole numbers: the job refuses a half of one. */
export function byWholeNumbers(
  raw: Readonly<Record<string, unknown>>,
  varied: readonly Varied[],
): Varied[] {
  return varied.map((one) => {
    const refused = problemsWith(raw, one, Math.floor(one.low) + 0.5);
    const whole = refused.some(({ code, path }) => code === "not_whole" && path === one.path);
    return whole ? { ...one, whole } : one;
  });
}

/** Of a key in whose place another counts all members would be answered alike. */
function problemsOfOverridden(raw: Readonly<Record<string, unknown>>, { path }: Varied): Problem[] {
  const counts = tried([], () => countingPath(path, checkJob(raw).job));
  return counts === undefined || counts === path
    ? []
    : [{ code: "overridden", path, possible: [counts] }];
}

/**
 * What is wrong at either end of each range by itself: said before all members are refused for it. What is wrong with the
 * job itself is met at every end, and said once.
 */
export function problemsAtEnds(
  raw: Readonly<Record<string, unknown>>,
  varied: readonly Varied[],
): Problem[] {
  const all = varied.flatMap((one) => [
    ...[one.low, one.high].flatMap((x) => problemsWith(raw, one, x)),
    ...problemsOfOverridden(raw, one),
  ]);
  return [...new Map(all.map((problem) => [JSON.stringify(problem), problem])).values()];
}
