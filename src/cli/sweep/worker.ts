/** A thread of a sweep: works out the members that it is handed. */
import workerpool from "workerpool";
import { linesOf } from "./members.ts";

workerpool.worker({ linesOf });
