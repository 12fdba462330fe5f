/** Dials as data, and what can be wrong with the text that declares them. No behavior here. */

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

interface DialBase {
  /** The name a working uses. */
  readonly name: string;
  readonly label: string;
  readonly help?: string;
  /** Line of the page on which it stands. */
  readonly line: number;
  /** Path in the job that it stands for: `bait.thickness`. */
  readonly job?: string;
  /** Path in the job at whose value it starts; what is set then stays the page's own. */
  readonly start?: string;
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

interface ChoiceDial extends DialBase {
  readonly kind: "choice";
  readonly value?: string;
  readonly choices: readonly string[];
}

interface FlagDial extends DialBase {
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
