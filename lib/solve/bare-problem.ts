/** A bare heat problem on which an answer rests, ready for `solve`. */
import type { SolveInput } from "./schema.ts";

/** A heat problem that an answer rests on, for a solver of one's own. */
export interface BareProblem {
  /** Short, fit for a file name. */
  readonly name: string;
  readonly problem: SolveInput;
  /** Numbers of the answer, by path, and where the solution has each: `stageEnds[0]`, `extremes.wall.max`. */
  readonly gives: Readonly<Record<string, string>>;
}
