/** What the command needs to know of a question, besides the library. */
import type { Answer } from "../../../lib/answers/answer.ts";
import type { KindByKey } from "../../../lib/answers/kinds.ts";
import type { Job } from "../../../lib/job/job.ts";
import type { QuestionOptions } from "../../../lib/models/question-options.ts";
import type { BareProblem } from "../../../lib/solve/bare-problem.ts";
import type { UnitSystem } from "../../../lib/units/display.ts";
import type { Problem } from "../../../lib/units/problem.ts";
import type { Drawing } from "../svg.ts";

/** The parts of a report that belong to the question itself. */
export interface QuestionText {
  readonly headline: readonly string[];
  readonly body: readonly string[];
  readonly levers?: readonly string[];
  /** What the figures of the levers are: "hottest then". */
  readonly leversGive?: string;
}

/** What one shot in its mold hangs on. */
export const OF_ONE_SHOT = ["room", "bait", "mold", "shot", "run.preheat"] as const;

/** How the command tells an answer. */
export interface Telling<A extends Answer<string, unknown>> {
  /** Parts of the job that the answer depends on: only their defaults are listed. */
  readonly reads: readonly string[] | ((job: Job) => readonly string[]);
  /** What the question finds wrong itself in a job that has problems of its own: all are told at once. */
  alsoWrong?(raw: Record<string, unknown>, problems: readonly Problem[]): readonly Problem[];
  text(answer: A, job: Job, system: UnitSystem): QuestionText;
  /** The bare heat problems that the answer rests on, for `--problem`. */
  problems?(answer: A, job: Job): readonly BareProblem[];
  /** Pictures for `--svg`. */
  drawings?(answer: A, job: Job): readonly Drawing[];
  /** What is saved beside them as it is. */
  files?(
    answer: A,
    job: Job,
    system: UnitSystem,
  ): readonly { readonly name: string; readonly text: string }[];
}

/** A question that is asked, and how its answer is told. */
export interface Question<A extends Answer<string, unknown> = Answer<string, unknown>>
  extends Telling<A> {
  readonly name: string;
  /** One line for `--help`. */
  readonly about: string;
  /** What the numbers of the answer are, by key. */
  readonly kinds: KindByKey;
  run(job: Job, options?: QuestionOptions): A;
}
