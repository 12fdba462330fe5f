/** What the bench asks of the library, and what it gets back: plain data that crosses to a worker and back. */
import type { Range } from "../../../lib/confidence/range.ts";
import type { Problem } from "../../../lib/units/problem.ts";

/** Changes to a job before it is asked about: path and text, as `--set` has them. */
export type Settings = Readonly<Record<string, string>>;

export interface Question {
  readonly ask: "opening" | "window" | "card";
  readonly jobText: string;
  readonly settings: Settings;
  /** Shot number, from 1. */
  readonly shot: number;
}

/** Times after the injector is off, s. */
export interface Opening {
  readonly sprueCloses: Range | null;
  /** null: it never gets that cool. */
  readonly open: Range | null;
}

/** Times after the first color is poured, s. */
export interface WindowAtBench {
  readonly open: Range;
  readonly close: Range;
  /** When to start closing the mold, and when the second color should go in: best, and from when until when; null: no moment is safe. */
  readonly startClosing: number | null;
  readonly injectAt: Range | null;
  /** With bad luck, too, it is right then. */
  readonly sure: boolean;
  /** A color after the second that has no moment; null: none. */
  readonly noMomentFor: number | null;
}

export interface CardFacts {
  /** Open time by shot number. */
  readonly byShot: readonly { readonly shot: number; readonly open: Range | null }[];
  /** Open time of the first shot by the mold's temperature, K. */
  readonly byMold: readonly { readonly temperature: number; readonly open: Range | null }[];
  /** Of the first shot, and of one into a mold that has settled; null: it never closes, or such a shot never comes. */
  readonly sprueCloses: Range | null;
  readonly sprueClosesSettled: Range | null;
  readonly window: WindowAtBench | null;
  /** Hottest that the first shot takes the mold's face, K. */
  readonly firstWallPeak: number;
}

export interface Answers {
  readonly opening: Opening;
  readonly window: WindowAtBench | null;
  readonly card: CardFacts;
}

export type Reply<K extends keyof Answers = keyof Answers> =
  | { readonly answer: Answers[K] }
  | { readonly problems: readonly Problem[] }
  | { readonly fault: string };
