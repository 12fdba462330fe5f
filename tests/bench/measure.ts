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
