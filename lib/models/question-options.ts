/** What every question may be told besides its job. */
import type { Surroundings } from "./surroundings.ts";

export interface QuestionOptions {
  /** One dimension instead of two: for what follows a changing dial. */
  readonly quick?: boolean;
  /** What mold and cavity exchange heat with; left out: from the room. */
  readonly around?: Surroundings;
  /** Tables go by sixteenths of an inch instead of millimeters. */
  readonly inches?: boolean;
  /** Asked now and then; true ends the work. */
  readonly shouldStop?: () => boolean;
}
