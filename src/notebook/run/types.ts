/** The run of a page as data. No behavior here. */
import type { Problem } from "../../../lib/units/problem.ts";
import type { Output } from "../outputs/output.ts";

/** Why a run ended without finishing. */
export interface RunProblem {
  /** `error` (the program threw), `syntax`, `time`, `memory`, `output` (it showed something impossible), `flood`, `fault` (ours). */
  readonly code: "error" | "syntax" | "time" | "memory" | "output" | "flood" | "fault";
  /** Number of the working, when known. */
  readonly working?: number;
  /** Line of the page, when known. */
  readonly line?: number;
  /** The program's own words, or the checker's: data from outside, to be shown as text only. */
  readonly detail: string;
  /** The problems of an input that the library refused, for sentences. */
  readonly problems?: readonly Problem[];
}

export type RunPhase = "idle" | "running" | "done" | "failed" | "stopped";

/** What a page shows at a moment. A new object at every change; outputs of unchanged workings keep their identity. */
export interface RunState {
  readonly phase: RunPhase;
  /** Counts up with every run that was asked for. */
  readonly run: number;
  /** Outputs by working; those of the last finished run until newer ones are there. */
  readonly outputs: readonly (readonly Output[])[];
  /** Workings from this number on show old numbers; absent when nothing is stale. */
  readonly staleFrom?: number;
  /** The working being run. */
  readonly working?: number;
  /** Milliseconds that the finished run took in the worker. */
  readonly milliseconds?: number;
  readonly problem?: RunProblem;
}
