/** The words of the notebook, as data. No behavior here. */
import type { Problem } from "../../../lib/units/problem.ts";
import type { Output } from "../outputs/output.ts";

/** Something wrong with a page's text, at a line of it. The sentence is written in `src/messages`. */
export interface PageProblem {
  /** Kind of mistake, for example `dial.value.missing`. */
  readonly code: string;
  /** Line of the page, from 1. */
  readonly line: number;
  /** The dial or key meant. */
  readonly name?: string;
  readonly given?: string;
  readonly possible?: readonly string[];
  readonly least?: string;
  readonly most?: string;
  readonly suggestion?: string;
}

interface Lines {
  /** First and last line of the passage in the page, from 1, fences included. */
  readonly from: number;
  readonly to: number;
  /** The passage as it stands in the page, fences included. All passages' texts joined are the page. */
  readonly text: string;
}

export interface Prose extends Lines {
  readonly kind: "prose";
}

export interface DialsPassage extends Lines {
  readonly kind: "dials";
  readonly body: string;
  readonly bodyLine: number;
  readonly dials: readonly Dial[];
}

export interface Working extends Lines {
  readonly kind: "working";
  /** From 0, counted over the workings of the page. */
  readonly number: number;
  /** From the fence: ```ts Shot by shot */
  readonly name: string;
  readonly body: string;
  /** Line of the page on which the body starts. */
  readonly bodyLine: number;
}

export interface Formula extends Lines {
  readonly kind: "formula";
  /** What the reader taps on: ```formula How long until it is set */
  readonly name: string;
  readonly latex: string;
  /** Where it is from, and where it stops holding: plain text, one line each. */
  readonly source: string;
}

export type Passage = Prose | DialsPassage | Working | Formula;

export interface Page {
  readonly title: string;
  readonly text: string;
  readonly passages: readonly Passage[];
  /** All dials of the page, in order. */
  readonly dials: readonly Dial[];
  readonly workings: readonly Working[];
  readonly problems: readonly PageProblem[];
}

interface DialBase {
  /** The name a working uses. */
  readonly name: string;
  readonly label: string;
  readonly help?: string;
  /** Line of the page on which it stands. */
  readonly line: number;
  /** Path in the job that it stands for: `bait.thickness`. */
  readonly job?: string;
}

/** A quantity or a plain number: `value`, `min`, `max`, `step` are texts as typed, `16 mm`. */
export interface QuantityDial extends DialBase {
  readonly kind: "quantity" | "number";
  /** `length`, `temperature`, `time` ...; "number" for a plain number. */
  readonly quantity: string;
  /** Left out: the job's value. */
  readonly value?: string;
  readonly min?: string;
  readonly max?: string;
  readonly step?: string;
}

export interface ChoiceDial extends DialBase {
  readonly kind: "choice";
  readonly value?: string;
  readonly choices: readonly string[];
}

export interface FlagDial extends DialBase {
  readonly kind: "flag";
  readonly value?: boolean;
}

export type Dial = QuantityDial | ChoiceDial | FlagDial;

/** A dial's value as a working gets it: SI number, choice or flag. */
export type DialValue = number | string | boolean;

/** A dial as it stands now: where its value comes from, and what it means. */
export interface DialReading {
  readonly dial: Dial;
  /** As typed, by the page or the job. */
  readonly text: string;
  /** Absent while the text can't be read. */
  readonly value?: DialValue;
  readonly from: "page" | "job" | "default";
}

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
