/**
 * `lib/numerics/memoized.ts` as the drawn mutants meet it: what was kept while another mutant was on, or none, is forgotten.
 * Else code whose results are kept would run once in the whole process, and none of its mutants could be noticed.
 */
import { memoized as kept } from "../../lib/numerics/memoized.ts";

const turns = new WeakMap<object, number>();

export const memoized: typeof kept = (store, key, most, make) => {
  const { mutantTurn = 0 } = globalThis as { mutantTurn?: number };
  if (turns.get(store) !== mutantTurn) store.clear();
  turns.set(store, mutantTurn);
  return kept(store, key, most, make);
};
