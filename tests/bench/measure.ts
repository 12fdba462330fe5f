/**
 * Warm means: called for this long, ms, and at least this often. Short calls get faster till then as the compiler goes on.
 * No clean-up is asked for between calls: it throws compiled code away, too.
 */
const WARM_MS = 1500;
const WARM_CALLS = 4;
/** Then called for this long, ms, and at least this often. */
const MEASURED_MS = 1000;
const MEASURED_CALLS = 5;

/** Milliseconds of a call once it is warm: least and median of single calls. `run` gets a number that no call had before. */
export function measure(run: (call: number) => unknown): { least: number; median: number } {
  times(run, WARM_MS, WARM_CALLS);
  const all = times(run, MEASURED_MS, MEASURED_CALLS).sort((a, b) => a - b);
  return { least: all[0], median: all[all.length >> 1] };
}

let calls = 0;

function times(run: (call: number) => unknown, lasting: number, least: number): number[] {
  const all: number[] = [];
  const begin = performance.now();
  for (let now = begin; now - begin < lasting || all.length < least; ) {
    run(calls++);
    const end = performance.now();
    all.push(end - now);
    now = end;
  }
  return all;
}

interface Table {
  readonly title: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}
/** Every table of this run. */
export const recorded: Table[] = [];

/** A table of text columns. */
export function printTable(
  title: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
): void {
  recorded.push({ title, head, rows });
  const width = head.map((h, c) => Math.max(h.length, ...rows.map((r) => (r[c] ?? "").length)));
  const line = (cells: readonly string[]) =>
    cells.map((t, c) => (c === 0 ? t.padEnd(width[c]) : t.padStart(width[c]))).join("  ");
  console.log(`\n${title}\n${line(head)}`);
  for (const row of rows) console.log(line(row));
}

export const percent = (value: number, reference: number) =>
  `${((100 * (value - reference)) / reference).toFixed(3)} %`;

let pace: string | undefined;

/**
 * How fast the machine is as a bench begins: nanoseconds of a multiply-add that waits for the one before. The start is not known
 * before the run and the end is checked against the closed form, so that the loop is neither left out nor folded. Measured once:
 * for a second call the loop is compiled anew, and takes 2.4 times as long.
 */
export function machineNow(): string {
  pace ??= measuredPace();
  return pace;
}

function measuredPace(): string {
  const steps = 5_000_000;
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 9; round++) {
    const start = performance.now();
    const first = 2 + (start % 1);
    let x = first;
    for (let k = 0; k < steps; k++) x = x * 0.9999999 + 0.0000001;
    least = Math.min(least, performance.now() - start);
    const closed = 1 + (first - 1) * 0.9999999 ** steps;
    if (!(Math.abs(x - closed) < 1e-6)) throw new Error("the loop was not run to its end");
  }
  return `This machine now: ${((1e6 * least) / steps).toFixed(2)} ns a dependent multiply-add.`;
}
