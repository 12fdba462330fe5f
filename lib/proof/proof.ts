/** The proof: every reference case is solved again, and the answer laid beside the published one. */

import { solve } from "../solve/solve.ts";
import { type FormulaCheck, formulaChecks } from "./formulas.ts";
import { referenceCases } from "./ledger.ts";
import { checkCase, type ProofRow, rowOf } from "./reference-run.ts";

/** One case summed up. */
interface ProofCase {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly checks: number;
  readonly failed: number;
  /** Largest deviation of the case as a share of what is allowed; null when a value is missing. */
  readonly worst: number | null;
}

/** Every reference case with what the library computes for it. */
export interface ProofAnswer {
  readonly question: "proof";
  readonly answer: {
    readonly rows: readonly ProofRow[];
    readonly cases: readonly ProofCase[];
    readonly passed: number;
    readonly failed: number;
    /** Cases not run because `shouldStop` ended it. */
    readonly left: number;
  };
}

/** Which cases are computed, and how one follows them. */
export interface ProofOptions {
  /** Only cases whose id holds one of these texts. */
  readonly only?: readonly string[];
  /** Told before each case. */
  readonly progress?: (done: number, all: number, id: string) => void;
  /** Asked before each case; true ends the run. */
  readonly shouldStop?: () => boolean;
}

/**
 * Id and title of every case, in the order of the ledger.
 *
 * @example proofCases()[0].id.length > 0 // true
 */
export function proofCases(): readonly { readonly id: string; readonly title: string }[] {
  return entries().map(({ id, title }) => ({ id, title }));
}

/**
 * Solves the reference cases and compares: one row for each value of someone else's.
 *
 * @param options which cases, and whom to tell how far it is
 * @returns rows in the units of their sources (temperatures in degC), and a summary for each case
 * @example proof({ only: ["boiling-egg"] }).answer.failed // 0
 */
export function proof(options: ProofOptions = {}): ProofAnswer {
  const { only, progress, shouldStop } = options;
  const wanted = entries().filter((e) => !only || only.some((text) => e.id.includes(text)));
  const rows: ProofRow[] = [];
  const cases: ProofCase[] = [];
  for (const [k, entry] of wanted.entries()) {
    if (shouldStop?.()) break;
    progress?.(k, wanted.length, entry.id);
    const made = entry.run();
    rows.push(...made);
    cases.push(summary(entry, made));
  }
  const failed = rows.filter((row) => !row.passed).length;
  return {
    question: "proof",
    answer: {
      rows,
      cases,
      passed: rows.length - failed,
      failed,
      left: wanted.length - cases.length,
    },
  };
}

interface Entry {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly run: () => ProofRow[];
}

function entries(): Entry[] {
  return [
    ...formulaChecks.map((f) => ({
      id: f.case,
      title: f.title,
      source: f.source,
      run: () => formulaRows(f),
    })),
    ...referenceCases.map((c) => ({
      id: c.id,
      title: c.title,
      source: c.source,
      run: () => checkCase(c, solve),
    })),
  ];
}

function summary(entry: Entry, rows: readonly ProofRow[]): ProofCase {
  const shares = rows.map((r) =>
    r.deviation === null ? null : Math.abs(r.deviation) / r.tolerance,
  );
  return {
    id: entry.id,
    title: entry.title,
    source: entry.source,
    checks: rows.length,
    failed: rows.filter((r) => !r.passed).length,
    worst: shares.includes(null) ? null : Math.max(...shares.map((s) => s!)),
  };
}

function formulaRows({ values, tolerance: usual, ...about }: FormulaCheck): ProofRow[] {
  return values.map(([quantity, unit, expected, compute, own]) => {
    const tolerance = (own ?? usual) * Math.abs(expected);
    return rowOf({ ...about, quantity, unit, expected, tolerance }, compute);
  });
}
