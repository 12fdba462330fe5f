/** What every question may be told besides its job. */
import type { Surroundings } from "./surroundings.ts";

export interface QuestionOptions {
  /** One dimension instead of two: for what follows a changing dial. */
  readonly quick?: boolean;
  /** What mold and cavity exchange heat with; left out: from the room. */
  readonly around?: Surroundings;
  /** The likely value alone: ranges have no width, and `demold`, `shots`, `layer`, `pour` and `walls` leave tables and levers out. For many jobs one after the other. */
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
export function partsOf({ progress }: QuestionOptions, all: number): () => void {
  let done = 0;
  return () => progress?.(++done, all);
}
