/** What every question may be told besides its job. */
import type { Surroundings } from "./surroundings.ts";

export interface QuestionOptions {
  /** One dimension instead of two: for what follows a changing dial. */
  readonly quick?: boolean;
  /** What mold and cavity exchange heat with; left out: from the room. */
  readonly around?: Surroundings;
  /**
   * The likely value alone, for many jobs one after the other: nothing uncertain is drawn, so that a range that hangs on it has
   * no width, and `demold`, `shots`, `layer`, `pour` and `walls` leave tables and levers out. A range that costs nothing stays
   * as it is: of sizes and masses (`shape`, `shrink`, `plasticInAll` of `plan`), of a resin as the catalog has it
   * (its pot life, its filler), and the span in which a second color may come. `fit` is about ranges, and draws all the same.
   */
  readonly likelyOnly?: boolean;
  /** Tables go by sixteenths of an inch instead of millimeters. */
  readonly inches?: boolean;
  /** What a person reads in the command is enough: figures' data, and parts of tables that it has no room for, may be empty. */
  readonly brief?: boolean;
  /** Asked now and then; true ends the work. */
  readonly shouldStop?: () => boolean;
  /** Told how many parts of the work are done, by questions that take more than an instant. */
  readonly progress?: (done: number, all: number) => void;
}

/** Called at the end of each part of the work. */
export function progressOf({ progress }: QuestionOptions, all: number): () => void {
  let done = 0;
  return () => progress?.(++done, all);
}
