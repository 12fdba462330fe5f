/** Results that are asked for again and again, memoized up to a number. */

/**
 * The value memoized under a key, or a new one that is memoized from now on. A full store is emptied first: a dial that is
 * turned for an hour must not fill the memory.
 *
 * @param most entries memoized at once, at least 1
 * @example memoized(new Map([["a", 1]]), "a", 8, () => 2) // 1
 */
export function memoized<Key, Value>(
  store: Map<Key, Value>,
  key: Key,
  most: number,
  make: () => Value,
): Value {
  const known = store.get(key);
  if (known !== undefined) return known;
  const value = make();
  if (store.size >= most) store.clear();
  store.set(key, value);
  return value;
}
