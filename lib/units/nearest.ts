/**
 * How many letters must change to make one word of the other (insert, remove, replace, swap neighbors).
 *
 */
function editDistance(a: string, b: string): number {
  const rows: number[][] = [Array.from({ length: b.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(rows[i - 1][j] + 1, row[j - 1] + 1, rows[i - 1][j - 1] + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, rows[i - 2][j - 2] + 1);
      row.push(least);
    }
    rows.push(row);
  }
  return rows[a.length][b.length];
}

/**
 * The word most like the given one, or undefined when none is near: at most a third of its letters differ, or one
 * contains the other.
 *
 * @example nearest("temprature", ["temperature", "material"]) // "temperature"
 */
export function nearest(given: string, words: readonly string[]): string | undefined {
  const asked = given.toLowerCase().slice(0, 40);
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const word of words) {
    const other = word.toLowerCase();
    const contains = asked.length > 2 && (other.includes(asked) || asked.includes(other));
    // a word that contains the other is near, a shorter rest is nearer
    const distance = contains
      ? 1 + Math.abs(other.length - asked.length) / 100
      : editDistance(asked, other);
    if (distance < least) {
      least = distance;
      best = word;
    }
  }
  return least <= Math.max(1, Math.ceil(asked.length / 3)) ? best : undefined;
}
