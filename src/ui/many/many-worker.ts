/** A thread of the sheet of many jobs: says what makes the columns, and works out the members that it is handed. */
import workerpool from "workerpool";
import { InputError, type Problem } from "../../../lib/units/problem.ts";
import { columnsOf, linesOf, type Sweep } from "../../sweep/members.ts";

export type Columns = ReturnType<typeof columnsOf> | { readonly problems: readonly Problem[] };

/** What is wrong with the job comes back as data: an error loses it on the way between threads. */
function columns(sweep: Omit<Sweep, "keys">): Columns {
  try {
    return columnsOf(sweep);
  } catch (error) {
    if (error instanceof InputError) return { problems: error.problems };
    throw error;
  }
}

workerpool.worker({ columns, linesOf });
