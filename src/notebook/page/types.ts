/** A page as data. No behavior here. */
import type { Dial, PageProblem } from "../dials/types.ts";

interface Lines {
  /** First and last line of the passage in the page, from 1, fences included. */
  readonly from: number;
  readonly to: number;
  /** The passage as it stands in the page, fences included. All passages' texts joined are the page. */
  readonly text: string;
}

interface Prose extends Lines {
  readonly kind: "prose";
}

interface DialsPassage extends Lines {
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
