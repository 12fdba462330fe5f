import { InputError, type Problem } from "./problem.ts";

/** What a number may be. `above` and `below` exclude the bound itself. */
interface Allowed {
  readonly least?: number;
  readonly most?: number;
  readonly above?: number;
  readonly below?: number;
}

/**
 * Collects the problems of an input, so that all of them are reported at once.
 *
 * Codes: `missing` (undefined), `not_a_number` (NaN, infinite, no number), `too_small`, `too_big`.
 */
export class Checks {
  readonly problems: Problem[] = [];

  /** Notes a problem when `given` is no finite number within the allowed range. True when it is fine. */
  number(path: string, given: number, allowed: Allowed = {}): boolean {
    if (given === undefined) {
      this.problems.push({ code: "missing", path });
      return false;
    }
    if (typeof given !== "number" || !Number.isFinite(given)) {
      this.problems.push({ code: "not_a_number", path, given: String(given) });
      return false;
    }
    const least = allowed.above ?? allowed.least;
    const most = allowed.below ?? allowed.most;
    const low =
      least !== undefined && (allowed.above === undefined ? given < least : given <= least);
    const high = most !== undefined && (allowed.below === undefined ? given > most : given >= most);
    if (!low && !high) return true;
    this.problems.push({
      code: low ? "too_small" : "too_big",
      path,
      given,
      ...(least === undefined ? {} : { least: String(least) }),
      ...(most === undefined ? {} : { most: String(most) }),
    });
    return false;
  }

  /** Notes a problem with a code of its own. */
  add(problem: Problem): void {
    this.problems.push(problem);
  }

  /** Throws InputError when anything was noted. */
  done(): void {
    if (this.problems.length > 0) throw new InputError(this.problems);
  }
}
