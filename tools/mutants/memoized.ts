/**
 * `lib/numerics/memoized.ts` as the drawn mutants meet it: what was kept while another mutant was on, or none, is forgotten.
 * Else code whose results are kept would run once in the whole process, and none of its mutants could be noticed.
 */
const turns = new WeakMap<object, number>();

export function memoized<Key, Value>(
  store: Map<Key, Value>,
  key: Key,
  most: number,
  make: () => Value,
): Value {
  const { mutantTurn = 0 } = globalThis as { mutantTurn?: number };
  if (turns.get(store) !== mutantTurn) store.clear();
  turns.set(store, mutantTurn);
  const known = store.get(key);
  if (known !== undefined) return known;
  const value = make();
  if (store.size >= most) store.clear();
  store.set(key, value);
  return value;
}
