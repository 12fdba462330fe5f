/** What stands right under a quick look's numbers, whose range does not hold what it leaves out. */
import type { IgnoredCode } from "../../lib/answers/answer.ts";

const ASK = "ask without --quick before you go by it.";

/**
 * A sentence where the quick look is another model than the whole answer: what of it is big, and which way it errs.
 *
 * @param ignored of the answer that was asked for with --quick
 */
export function quickLookLines(ignored: readonly IgnoredCode[]): string[] {
  if (!ignored.includes("one_dimension")) return [];
  const [neighbors, sides] = [
    ignored.includes("neighbor_cavities"),
    ignored.includes("sides_of_block"),
  ];
  if (neighbors && sides)
    return [
      `A quick look that leaves out neighbor cavities, by which the mold gets hotter and opens later, and the block beside a flat bait, by which it opens sooner: this range holds neither; ${ASK}`,
    ];
  if (neighbors)
    return [
      `A quick look that leaves out neighbor cavities: the mold gets hotter and opens later than this says, maybe after more than twice as long; ${ASK}`,
    ];
  if (sides)
    return [
      `A quick look that leaves out the block beside a flat bait: it opens sooner than this says, maybe in half of the time or less; ${ASK}`,
    ];
  return [`A quick look, whose range does not hold what it leaves out: ${ASK}`];
}
