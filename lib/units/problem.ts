/**
 * What is wrong with an input, as data. The sentence a person reads is written from it in one other place,
 * so that wording, language and unit system can change without touching the code that checks.
 */
export interface Problem {
  /** What kind of mistake: the key of the sentence. */
  code: string;
  /** Where, in the words of the file: `bait.stations[2].width`. Empty when the whole input is meant. */
  path: string;
  /** What was given, as the person typed it where that is known. */
  given?: string | number | boolean | null;
  /** The lowest and highest possible value, written in the unit that fits `given`. */
  least?: string;
  most?: string;
  /** Words or names that would have been possible here. */
  possible?: readonly string[];
  /** What the person most likely meant, ready to type: `350 degF`. */
  suggestion?: string;
}

/** Thrown for bad input, with every problem at once. Nothing has been computed or written. */
export class InputError extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problems.map((p) => `${p.path || "input"}: ${p.code}`).join("; "));
    this.name = "InputError";
    this.problems = problems;
  }
}

/**
 * What a read gives; nothing where the input is at fault: its problems join those of the other reads.
 *
 * @param problems gains those of this read
 * @example tried([], () => 1) // 1
 */
export function tried<A>(problems: Problem[], read: () => A): A | undefined {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    problems.push(...error.problems);
    return undefined;
  }
}

/** Thrown when an iteration failed: says where, when, after how many tries, and how far off it still was. */
export class NoConvergence extends Error {
  readonly where: string;
  readonly time: number;
  readonly iterations: number;
  readonly residual: number;
  constructor(where: string, time: number, iterations: number, residual: number) {
    super(
      `${where} did not converge at t = ${time} s after ${iterations} tries, residual ${residual}`,
    );
    this.name = "NoConvergence";
    this.where = where;
    this.time = time;
    this.iterations = iterations;
    this.residual = residual;
  }
}
