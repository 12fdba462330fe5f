/** Runs one reference case and lays what came out beside what is expected. */
import type { Check, ReferenceCase, ReferenceKind, Tipping } from "./reference-case.ts";
import { type ReadableRun, readingOf } from "./reference-reading.ts";

/** One line of the ledger: one value of someone else's beside ours. */
export interface ProofRow {
  readonly case: string;
  readonly title: string;
  readonly source: string;
  readonly fromMemory: boolean;
  readonly kind: ReferenceKind;
  readonly quantity: string;
  readonly unit: string;
  readonly expected: number;
  /** Null when the run failed or does not show the quantity. */
  readonly computed: number | null;
  /** computed - expected, in the unit. */
  readonly deviation: number | null;
  /** The largest deviation allowed, in the unit. */
  readonly tolerance: number;
  /** Why this much. */
  readonly why: string;
  readonly passed: boolean;
  /** What went wrong, when the run failed. */
  readonly failure?: string;
}

type Solver = (problem: unknown) => ReadableRun;

/** The problem as `solve` takes it, the cycles written out. */
function problemOf(reference: ReferenceCase): Record<string, unknown> {
  const { problem, cycles } = reference;
  if (!cycles) return { ...problem };
  const stages: Record<string, unknown>[] = [];
  for (let k = 0; k < cycles.count; k++)
    for (const stage of cycles.stages)
      stages.push({ ...stage, until: k * cycles.period + stage.until });
  return { ...problem, stages, until: cycles.count * cycles.period };
}

/** What each row of the case will be about, without solving it. */
export function rowNames(reference: ReferenceCase): string[] {
  return reference.checks.flatMap((check) => timesOf(check).map(({ label }) => label));
}

/** Every check of the case, in the order written. A run that throws fails them all, and the rows say so. */
export function checkCase(reference: ReferenceCase, solve: Solver): ProofRow[] {
  const problem = problemOf(reference);
  let run: ReadableRun;
  try {
    run = reference.checks.every((check) => check.read.critical) ? NOTHING : solve(problem);
  } catch (error) {
    return reference.checks.flatMap((check) => rowsOf(reference, check, () => null, words(error)));
  }
  const found = new Map<string, number | null>();
  const tip = (tipping: Tipping) => {
    const key = JSON.stringify(tipping);
    if (!found.has(key)) found.set(key, tippingPoint(problem, tipping, solve));
    return found.get(key)!;
  };
  return reference.checks.flatMap((check) =>
    rowsOf(reference, check, (at) => readingOf(check.read, run, at, tip)),
  );
}

const NOTHING: ReadableRun = { times: [], probes: {}, cure: {}, crossings: [], extremes: {} };

/** A row with what `compute` gives; one that throws or gives no finite number fails and says why. */
export function rowOf(
  about: Omit<ProofRow, "computed" | "deviation" | "passed" | "failure">,
  compute: () => number | null,
  known?: string,
): ProofRow {
  let computed: number | null = null;
  let failure = known;
  try {
    const value = compute();
    if (value === null || Number.isFinite(value)) computed = value;
    else failure = `gave ${value}`;
  } catch (error) {
    failure = words(error);
  }
  const deviation = computed === null ? null : computed - about.expected;
  return {
    ...about,
    computed,
    deviation,
    passed: deviation !== null && Math.abs(deviation) <= about.tolerance,
    ...(failure === undefined ? {} : { failure }),
  };
}

function rowsOf(
  reference: ReferenceCase,
  check: Check,
  read: (at: number | undefined) => number | null,
  failure?: string,
): ProofRow[] {
  const { id, title, source, fromMemory } = reference;
  const times = timesOf(check);
  return times.map(({ at, expected, label }) => {
    const { kind, unit, why } = check;
    const tolerance = check.tolerance * (check.relative ? Math.abs(expected) : 1);
    const about = { case: id, title, source, fromMemory, kind, quantity: label, unit, why };
    return rowOf({ ...about, expected, tolerance }, () => read(at), failure);
  });
}

/** A list of expected values goes with the list of times. */
function timesOf(check: Check): { at: number | undefined; expected: number; label: string }[] {
  const { expected, quantity, read } = check;
  if (typeof expected === "number") return [{ at: undefined, expected, label: quantity }];
  const at = read.at as readonly number[];
  return expected.map((value, k) => ({
    at: at[k],
    expected: value,
    label: `${quantity}, at ${at[k]} s`,
  }));
}

/** Halves between "the probe never gets there" and "it does", on a logarithmic scale. */
function tippingPoint(
  problem: Readonly<Record<string, unknown>>,
  tipping: Tipping,
  solve: Solver,
): number | null {
  const tips = (value: number) => {
    const run = solve(withNumber(problem, tipping.path.split("."), value));
    return run.crossings.some((c) => c.probe === tipping.probe && c.time !== null);
  };
  let { low, high } = tipping;
  if (tips(low) || !tips(high)) return null;
  while (high / low - 1 > tipping.width) {
    const middle = Math.sqrt(low * high);
    if (tips(middle)) high = middle;
    else low = middle;
  }
  return Math.sqrt(low * high);
}

function withNumber(
  node: Readonly<Record<string, unknown>>,
  path: readonly string[],
  value: number,
): Record<string, unknown> {
  const [key, ...rest] = path as [string, ...string[]];
  const inner =
    rest.length === 0 ? value : withNumber(node[key] as Record<string, unknown>, rest, value);
  return { ...node, [key]: inner };
}

function words(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
