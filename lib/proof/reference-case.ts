/** A reference case as data: a problem that others have solved, and what they got. */

/** How sure a value is to be someone else's: printed by them, an exact formula, or a converged solution. */
export type ReferenceKind = "published" | "closed form" | "reference";

/**
 * How a quantity is taken from what `solve` gives back: `scale * (reading - minus) ^ power`.
 * Exactly one of the first group of keys says what is read.
 */
export interface Reading {
  /** Temperature of a probe, degC, at the time `at`. */
  readonly probe?: string;
  /** Cure of a probe at the time `at`. */
  readonly cure?: string;
  /** Time at which a probe crosses, s: one of the problem's `crossings`. */
  readonly crossing?: string;
  readonly below?: number;
  readonly above?: number;
  /** Extreme of a probe over the whole run, `of` "max", "min", "time" (of the maximum) or "minTime". */
  readonly extreme?: string;
  /** Of a steady state: power into the body through a side, W. */
  readonly flow?: string;
  /** Highest reported value of a probe `between` two times, rounded off by a parabola; `of` "value" or "time". */
  readonly peak?: string;
  /** Time at which a probe rises fastest, from its reported values `between` two times. */
  readonly steepest?: string;
  /** First time at which the reported values of `probe` or `cure` pass this level, s. */
  readonly passes?: number;
  /** First harmonic of weighted probes over one `period` from `between[0]`; `of` "amplitude", "lag" in degrees behind the cosine, or "mean". */
  readonly harmonic?: Readonly<Record<string, number>>;
  readonly period?: number;
  /** Rate at which a probe's distance from `toward` decays `between` two times, 1/s. */
  readonly decay?: string;
  readonly toward?: number;
  /** Sum of other readings. */
  readonly sum?: readonly Reading[];
  /** The number at a path of the problem where it tips over: found by halving. */
  readonly critical?: Tipping;

  readonly at?: number | readonly number[];
  readonly between?: readonly [number, number];
  readonly of?: string;
  readonly minus?: number;
  readonly power?: number;
  readonly scale?: number;
}

/** Between `low`, where the probe never gets `above`, and `high`, where it does; to a relative `width`. */
export interface Tipping {
  readonly path: string;
  readonly low: number;
  readonly high: number;
  readonly probe: string;
  readonly above: number;
  readonly width: number;
}

export interface Check {
  readonly quantity: string;
  readonly kind: ReferenceKind;
  readonly read: Reading;
  /** One value, or one for each time in `read.at`. */
  readonly expected: number | readonly number[];
  readonly unit: string;
  /** In the unit, or a share of the expected value when `relative`. */
  readonly tolerance: number;
  readonly relative?: boolean;
  readonly why: string;
}

export interface ReferenceCase {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  /** The source, or the number it prints, was recalled and not looked up. */
  readonly fromMemory: boolean;
  readonly method?: string;
  /** What `solve` is asked. */
  readonly problem: Readonly<Record<string, unknown>>;
  /** The problem's stages, written once and repeated. */
  readonly cycles?: {
    readonly count: number;
    readonly period: number;
    readonly stages: readonly (Readonly<Record<string, unknown>> & { readonly until: number })[];
  };
  readonly checks: readonly Check[];
}
