/** A thread of a sweep: works out the members that it is handed. */
import workerpool from "workerpool";
import { linesOf } from "../../sweep/members.ts";

workerpool.worker({ linesOf });
