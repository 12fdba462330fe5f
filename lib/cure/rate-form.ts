/**
 * The inputs of a rate law, checked and brought to one form.
 *
 * Symbols: A 1/s, E J/mol, T K; cure 0 to 1.
 */

import { Checks } from "../units/check.ts";
import { GAS_CONSTANT } from "../units/constants.ts";

/**
 * Slows the reaction where the resin turns to glass: rate times 1 / (1 + exp[C (cure - cureAtGlass(T))]).
 *
 * `linear`: cureAtGlass = intercept + slope T. `glass`: the cure at which the glass transition (DiBenedetto) lies
 * `offset` above the temperature of the resin.
 */
export type VitrificationCap =
  | {
      readonly kind: "linear";
      readonly C: number;
      readonly intercept: number;
      readonly slope: number; // 1/K
    }
  | {
      readonly kind: "glass";
      readonly C: number;
      readonly uncured: number; // K
      readonly cured: number; // K
      readonly lambda: number;
      readonly offset: number; // K
    };

/** A rate law as data. `A` in 1/s and `E` in J/mol, except where noted. */
export type RateSpec =
  /** k (1-a)^n */
  | {
      readonly law: "nth-order";
      readonly A: number;
      readonly E: number;
      readonly n: number;
      readonly cap?: VitrificationCap;
    }
  /** (k1 + k2 a^m)(1-a)^n; with `final` r: (k1 + k2 a^m)(1-a)^(n/2)(r-a)^(n/2) */
  | {
      readonly law: "autocatalytic";
      readonly A1: number;
      readonly E1: number;
      readonly A2: number;
      readonly E2: number;
      readonly m: number;
      readonly n: number;
      readonly final?: number;
      readonly cap?: VitrificationCap;
    }
  /** (k1 + k2 a)(1-a)(B-a) up to `switchAt`, k3 (1-a) above; A2 may be negative */
  | {
      readonly law: "piecewise";
      readonly A1: number;
      readonly E1: number;
      readonly A2: number;
      readonly E2: number;
      readonly B: number;
      readonly A3: number;
      readonly E3: number;
      readonly switchAt: number;
      readonly cap?: VitrificationCap;
    }
  /** A exp(-E/RT) c (1-a)(ratio-a): A in m3/(mol s), c the scarcer group in mol/m3, ratio of the other to it */
  | {
      readonly law: "second-order";
      readonly A: number;
      readonly E: number;
      readonly concentration: number;
      readonly ratio: number;
      readonly cap?: VitrificationCap;
    };

/** (k1 + k2 a^m)(1-a)^p (r-a)^q: every law above is one or two of these. */
export interface RateForm {
  readonly A1: number;
  readonly E1: number;
  readonly A2: number;
  readonly E2: number;
  readonly m: number;
  readonly p: number;
  readonly r: number;
  readonly q: number;
}

interface RateForms {
  readonly first: RateForm;
  /** Valid above `switchAt`. */
  readonly second: RateForm;
  readonly switchAt: number;
  readonly cap: VitrificationCap | null;
}

/** Hottest temperature at which a rate constant must still make sense, K. */
const HOTTEST = 700;
/** Faster than molecules vibrate: a typing error, not a reaction. 1/s. */
const FASTEST = 1e15;
const E_MOST = 500e3;

/**
 * Checks a rate law and brings it to the one form that is evaluated.
 *
 * @throws InputError listing every constant that is negative, not finite, or lets the rate overflow (`rate_overflow`)
 */
export function rateForms(spec: RateSpec): RateForms {
  const checks = new Checks();
  const constant = (a: string, A: number, e: string, E: number, signed = false): void => {
    const fineA = checks.number(a, A, signed ? {} : { least: 0 });
    const fineE = checks.number(e, E, { least: 0, most: E_MOST });
    if (fineA && fineE && Math.abs(A) * Math.exp(-E / (GAS_CONSTANT * HOTTEST)) > FASTEST)
      checks.add({ code: "rate_overflow", path: a, given: A, most: String(FASTEST) });
  };
  let first: RateForm;
  let second: RateForm | null = null;
  let switchAt = Number.POSITIVE_INFINITY;
  switch (spec.law) {
    case "nth-order":
      constant("A", spec.A, "E", spec.E);
      checks.number("n", spec.n, { above: 0, most: 10 });
      first = { A1: spec.A, E1: spec.E, A2: 0, E2: 0, m: 1, p: spec.n, r: 1, q: 0 };
      break;
    case "autocatalytic": {
      constant("A1", spec.A1, "E1", spec.E1);
      constant("A2", spec.A2, "E2", spec.E2);
      checks.number("m", spec.m, { least: 0, most: 10 });
      checks.number("n", spec.n, { above: 0, most: 10 });
      if (spec.final !== undefined) checks.number("final", spec.final, { above: 0, most: 1.2 });
      const { A1, E1, A2, E2, m, n } = spec;
      first =
        spec.final === undefined
          ? { A1, E1, A2, E2, m, p: n, r: 1, q: 0 }
          : { A1, E1, A2, E2, m, p: n / 2, r: spec.final, q: n / 2 };
      break;
    }
    case "piecewise":
      constant("A1", spec.A1, "E1", spec.E1);
      constant("A2", spec.A2, "E2", spec.E2, true);
      constant("A3", spec.A3, "E3", spec.E3);
      checks.number("B", spec.B, { above: 0, most: 1.2 });
      checks.number("switchAt", spec.switchAt, { above: 0, below: 1 });
      if (spec.switchAt > spec.B)
        checks.add({ code: "too_big", path: "switchAt", given: spec.switchAt, most: "B" });
      first = { ...spec, m: 1, p: 1, r: spec.B, q: 1 };
      second = { A1: spec.A3, E1: spec.E3, A2: 0, E2: 0, m: 1, p: 1, r: 1, q: 0 };
      switchAt = spec.switchAt;
      break;
    case "second-order":
      checks.number("concentration", spec.concentration, { above: 0, most: 1e5 });
      checks.number("ratio", spec.ratio, { least: 1, most: 1.2 });
      constant("A", spec.A * spec.concentration, "E", spec.E);
      first = {
        A1: spec.A * spec.concentration,
        E1: spec.E,
        A2: 0,
        E2: 0,
        m: 1,
        p: 1,
        r: spec.ratio,
        q: 1,
      };
      break;
    default:
      checks.add({
        code: "unknown_word",
        path: "law",
        given: String((spec as { law?: unknown }).law),
        possible: ["nth-order", "autocatalytic", "piecewise", "second-order"],
      });
      checks.done();
      throw new Error("unreachable");
  }
  if (spec.cap) checkCap(spec.cap, checks);
  checks.done();
  return { first, second: second ?? first, switchAt, cap: spec.cap ?? null };
}

function checkCap(cap: VitrificationCap, checks: Checks): void {
  checks.number("cap.C", cap.C, { above: 0, most: 1000 });
  if (cap.kind === "linear") {
    checks.number("cap.intercept", cap.intercept);
    checks.number("cap.slope", cap.slope, { least: 0 });
  } else {
    checks.number("cap.uncured", cap.uncured, { above: 0 });
    checks.number("cap.cured", cap.cured, { above: cap.uncured });
    checks.number("cap.lambda", cap.lambda, { above: 0, most: 1 });
    checks.number("cap.offset", cap.offset, { least: -100, most: 200 });
  }
}
