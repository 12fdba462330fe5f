/** A job with what is not known for sure: the cases between which an answer's range is found. */

import type { Job } from "../job/types.ts";
import { atStart } from "./start.ts";
import { type Surroundings, surroundingsOf } from "./surroundings.ts";

/** A job with its surroundings: one of the cases that an answer is worked out for. */
export interface Scenario {
  readonly job: Job;
  /** Coefficients of air and water times this. */
  readonly airFactor: number;
  /** Given instead of what the room says. */
  readonly around?: Surroundings;
  /** Its ranges are not asked for. */
  readonly likelyOnly?: boolean;
}

/** The likely case of a job, as its first shot finds it. */
export function scenarioOf(
  job: Job,
  { around, likelyOnly }: Pick<Scenario, "around" | "likelyOnly"> = {},
): Scenario {
  return {
    job: atStart(job),
    airFactor: 1,
    ...(around && { around }),
    ...(likelyOnly && { likelyOnly }),
  };
}

/** The surroundings that hold for a case. */
export function scenarioSurroundings({ job, airFactor, around }: Scenario): Surroundings {
  return around ?? surroundingsOf(job, airFactor);
}
