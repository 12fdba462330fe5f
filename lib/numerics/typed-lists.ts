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

/**
 * Longer ones stand one after the other in chunks of so many bytes, for memory of its own costs a list ten times as much, and
 * much again when it is given back. A chunk lives as long as any of its lists; a list of more than a part of one stands alone.
 */
const CHUNK = 1 << 14;
const LARGE = CHUNK >> 3;
let chunk = new ArrayBuffer(0);
let used = 0;

/** Where so many bytes of zeros begin in `chunk`. */
function reserve(bytes: number): number {
  if (used + bytes > chunk.byteLength) {
    chunk = new ArrayBuffer(CHUNK);
    used = 0;
  }
  const at = used;
  // the next list begins where a double may
  used += (bytes + 7) & -8;
  return at;
}

/** n zeros for work inside of a solution; what is handed out to a caller needs memory of its own (`new Float64Array`). */
export function doubles(n: number): Float64Array<ArrayBuffer> {
  if (n <= SHORT || n * 8 > LARGE) return new Float64Array(n);
  const at = reserve(n * 8);
  return new Float64Array(chunk, at, n);
}

export function integers(n: number): Int32Array<ArrayBuffer> {
  if (n <= 2 * SHORT || n * 4 > LARGE) return new Int32Array(n);
  const at = reserve(n * 4);
  return new Int32Array(chunk, at, n);
}

export function bytes(n: number): Uint8Array<ArrayBuffer> {
  if (n <= 8 * SHORT || n > LARGE) return new Uint8Array(n);
  const at = reserve(n);
  return new Uint8Array(chunk, at, n);
}

/** So many lists of n zeros that live as long as each other: one memory for all. */
export function vectorsOf(count: number, n: number): Float64Array<ArrayBuffer>[] {
  if (n > SHORT) return slicesOf(doubles(count * n), n);
  const vectors: Float64Array<ArrayBuffer>[] = [];
  for (let k = 0; k < count; k++) vectors.push(new Float64Array(n));
  return vectors;
}

/** A list's parts of n entries, one after the other. */
export function slicesOf(all: Float64Array<ArrayBuffer>, n: number): Float64Array<ArrayBuffer>[] {
  const parts: Float64Array<ArrayBuffer>[] = [];
  for (let from = 0; from + n <= all.length; from += n)
    parts.push(new Float64Array(all.buffer, all.byteOffset + from * 8, n));
  return parts;
}

/** What a function gives for each item. */
export function doublesOf<A>(
  items: ArrayLike<A>,
  numberOf: (item: A, index: number) => number,
): Float64Array<ArrayBuffer> {
  const out = doubles(items.length);
  for (let k = 0; k < out.length; k++) out[k] = numberOf(items[k], k);
  return out;
}

export function integersOf<A>(
  items: ArrayLike<A>,
  numberOf: (item: A, index: number) => number,
): Int32Array<ArrayBuffer> {
  const out = integers(items.length);
  for (let k = 0; k < out.length; k++) out[k] = numberOf(items[k], k);
  return out;
}

export function bytesOf<A>(
  items: ArrayLike<A>,
  numberOf: (item: A, index: number) => number,
): Uint8Array<ArrayBuffer> {
  const out = bytes(items.length);
  for (let k = 0; k < out.length; k++) out[k] = numberOf(items[k], k);
  return out;
}
