/** How many letters must change to make one word of the other (insert, remove, replace, swap neighbors). */
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

/** Words that tell nothing of a thing. */
const LINKS = new Set(["with", "of", "and", "in", "the", "a", "or", "for"]);

function wordsOf(name: string): string[] {
  const found =
    name
      .toLowerCase()
      .slice(0, 80)
      .match(/[\p{L}\d]+/gu) ?? [];
  return found.filter((word) => !LINKS.has(word));
}

/** One letter in four may be another. */
const alike = (a: string, b: string) =>
  editDistance(a, b) <= Math.floor(Math.min(a.length, b.length) / 4);

/** Share of the words of both that the other has, too: 0 to 1. */
function sharedWords(a: readonly string[], b: readonly string[]): number {
  const left = [...b];
  let shared = 0;
  for (const word of a) {
    const k = left.findIndex((other) => alike(word, other));
    if (k < 0) continue;
    left.splice(k, 1);
    shared++;
  }
  return (2 * shared) / (a.length + b.length);
}

/** Names that share less than this have another meaning. */
const LEAST_SHARED = 0.6;

/**
 * The name of several words that is most like the given one, whatever their order; undefined when none shares most of
 * its words or letters. A name within another is none: aluminum is not nearly an epoxy with aluminum filler.
 *
 * @example nearestName("epoxy with aluminum filler", ["aluminum", "aluminum-filled epoxy"]) // "aluminum-filled epoxy"
 */
export function nearestName(given: string, names: readonly string[]): string | undefined {
  const asked = given.toLowerCase().slice(0, 40);
  const words = wordsOf(given);
  const ranked = names
    .map((name) => {
      const letters = editDistance(asked, name.toLowerCase());
      return { name, letters, shared: words.length === 0 ? 0 : sharedWords(words, wordsOf(name)) };
    })
    .sort((a, b) => b.shared - a.shared || a.letters - b.letters);
  const [best] = ranked;
  if (best !== undefined && best.shared >= LEAST_SHARED) return best.name;
  const most = Math.max(1, Math.floor(asked.length / 3));
  const spelled = ranked.filter(({ letters }) => letters <= most);
  return spelled.sort((a, b) => a.letters - b.letters)[0]?.name;
}
