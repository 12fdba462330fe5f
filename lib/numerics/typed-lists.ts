/**
 * Typed lists as the set-up of a problem needs many of: a small grid is solved in the time that a thousand of them take to make.
 * The `from` of typed arrays with a mapping goes through an iterator, and takes twenty times as long as a loop, their `map` as
 * long as that; memory of its own for each list takes ten times as long as a part of one.
 */

/** Empty lists, for what there is nothing of. */
export const NO_DOUBLES = new Float64Array(0);
export const NO_INTEGERS = new Int32Array(0);
export const NO_BYTES = new Uint8Array(0);

/** Lists up to this length cost next to nothing: they need no memory apart. */
const SHORT = 8;

/** So many lists of n zeros that live as long as each other: one memory for all. */
export function vectorsOf(count: number, n: number): Float64Array<ArrayBuffer>[] {
  const vectors: Float64Array<ArrayBuffer>[] = [];
  if (n <= SHORT) {
    for (let k = 0; k < count; k++) vectors.push(new Float64Array(n));
    return vectors;
  }
  const all = new ArrayBuffer(count * n * Float64Array.BYTES_PER_ELEMENT);
  for (let k = 0; k < count; k++)
    vectors.push(new Float64Array(all, k * n * Float64Array.BYTES_PER_ELEMENT, n));
  return vectors;
}

/** A list's parts of n entries, one after the other. */
export function partsOf(all: Float64Array<ArrayBuffer>, n: number): Float64Array<ArrayBuffer>[] {
  const parts: Float64Array<ArrayBuffer>[] = [];
  for (let from = 0; from + n <= all.length; from += n)
    parts.push(new Float64Array(all.buffer, from * Float64Array.BYTES_PER_ELEMENT, n));
  return parts;
}

/** What a function gives for each item. */
export function doublesOf<A>(
  items: ArrayLike<A>,
  numberOf: (item: A, index: number) => number,
): Float64Array<ArrayBuffer> {
  const out = new Float64Array(items.length);
  for (let k = 0; k < out.length; k++) out[k] = numberOf(items[k], k);
  return out;
}

export function integersOf<A>(
  items: ArrayLike<A>,
  numberOf: (item: A, index: number) => number,
): Int32Array<ArrayBuffer> {
  const out = new Int32Array(items.length);
  for (let k = 0; k < out.length; k++) out[k] = numberOf(items[k], k);
  return out;
}

export function bytesOf<A>(
  items: ArrayLike<A>,
  numberOf: (item: A, index: number) => number,
): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(items.length);
  for (let k = 0; k < out.length; k++) out[k] = numberOf(items[k], k);
  return out;
}
