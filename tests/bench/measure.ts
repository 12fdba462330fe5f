/** Milliseconds of a call: least and median of many, each round after a clean-up. */
export function measure(
  run: () => unknown,
  rounds = 9,
  perRound = 5,
): { least: number; median: number } {
  for (let k = 0; k < 30; k++) run();
  const all: number[] = [];
  for (let r = 0; r < rounds; r++) {
    (globalThis as { gc?: () => void }).gc?.();
    const start = performance.now();
    for (let k = 0; k < perRound; k++) run();
    all.push((performance.now() - start) / perRound);
  }
  all.sort((a, b) => a - b);
  return { least: all[0], median: all[rounds >> 1] };
}

/** A table of text columns. */
export function printTable(
  title: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
): void {
  const width = head.map((h, c) => Math.max(h.length, ...rows.map((r) => (r[c] ?? "").length)));
  const line = (cells: readonly string[]) =>
    cells.map((t, c) => (c === 0 ? t.padEnd(width[c]) : t.padStart(width[c]))).join("  ");
  console.log(`\n${title}\n${line(head)}`);
  for (const row of rows) console.log(line(row));
}

export const percent = (value: number, reference: number) =>
  `${((100 * (value - reference)) / reference).toFixed(3)} %`;

/**
 * How fast the machine is just now: nanoseconds of a multiply-add that waits for the one before. The start is not known
 * before the run and the end is checked against the closed form, so that the loop is neither left out nor folded.
 */
export function machineNow(): string {
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
