/** What a log of shots says has happened, and what of it cannot have. Times s. */
import type { Problem } from "../../units/problem.ts";
import type { Happened } from "./timeline.ts";

/** A shot of a log with its place there, as a problem names it. */
export interface LoggedShot extends Happened {
  readonly path: string;
}

/**
 * Molds that are not there, times that run backwards, molds that were filled while they were closed. A log may be in any
 * order; a mold is filled, opened, filled.
 *
 * @param molds in rotation; null: not known, and not judged
 */
export function happenedProblems(log: readonly LoggedShot[], molds: number | null): Problem[] {
  const problems: Problem[] = [];
  for (const { mold, injected, opened, path } of log) {
    if (molds !== null && (!Number.isInteger(mold) || mold < 1 || mold > molds))
      problems.push({
        code: "no_such_mold",
        path: `${path}, mold`,
        given: String(mold),
        most: String(molds),
      });
    if (opened !== null && opened < injected)
      problems.push({ code: "opened_before_filled", path: `${path}, opened` });
  }
  const until = new Map<number, number>();
  for (const { mold, injected, opened, path } of [...log].sort((a, b) => a.injected - b.injected)) {
    if (injected < (until.get(mold) ?? Number.NEGATIVE_INFINITY))
      problems.push({ code: "mold_still_closed", path: `${path}, injected`, given: String(mold) });
    until.set(mold, Math.max(injected, opened ?? injected));
  }
  return problems;
}
