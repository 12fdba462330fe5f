/**
 * Points that fill the unit cube evenly: Sobol's low-discrepancy sequence, with a fixed shift so that no point lies on a
 * face of the cube.
 *
 * The direction numbers are those of Joe and Kuo for 40 dimensions: primitive polynomial as bits, then m1, m2, ...
 *
 * @source Joe & Kuo, SIAM J. Sci. Comput. 30 (2008) 2635, set "new-joe-kuo-6.21201"; order of points by Gray code as in
 * Antonov & Saleev 1979
 */
import { Checks } from "../units/check.ts";

const DIRECTIONS: readonly (readonly number[])[] = [
  [3, 1],
  [7, 1, 3],
  [11, 1, 3, 1],
  [13, 1, 1, 1],
  [19, 1, 1, 3, 3],
  [25, 1, 3, 5, 13],
  [37, 1, 1, 5, 5, 17],
  [41, 1, 1, 5, 5, 5],
  [47, 1, 1, 7, 11, 19],
  [55, 1, 1, 5, 1, 1],
  [59, 1, 1, 1, 3, 11],
  [61, 1, 3, 5, 5, 31],
  [67, 1, 3, 3, 9, 7, 49],
  [91, 1, 1, 1, 15, 21, 21],
  [97, 1, 3, 1, 13, 27, 49],
  [103, 1, 1, 1, 15, 7, 5],
  [109, 1, 3, 1, 15, 13, 25],
  [115, 1, 1, 5, 5, 19, 61],
  [131, 1, 3, 7, 11, 23, 15, 103],
  [137, 1, 3, 7, 13, 13, 15, 69],
  [143, 1, 1, 3, 13, 7, 35, 63],
  [145, 1, 3, 5, 9, 1, 25, 53],
  [157, 1, 3, 1, 13, 9, 35, 107],
  [167, 1, 3, 1, 5, 27, 61, 31],
  [171, 1, 1, 5, 11, 19, 41, 61],
  [185, 1, 3, 5, 3, 3, 13, 69],
  [191, 1, 1, 7, 13, 1, 19, 1],
  [193, 1, 3, 7, 5, 13, 19, 59],
  [203, 1, 1, 3, 9, 25, 29, 41],
  [211, 1, 3, 5, 13, 23, 1, 55],
  [213, 1, 3, 7, 3, 13, 59, 17],
  [229, 1, 3, 1, 3, 5, 53, 69],
  [239, 1, 1, 5, 5, 23, 33, 13],
  [241, 1, 1, 7, 7, 1, 61, 123],
  [247, 1, 1, 7, 9, 13, 61, 49],
  [253, 1, 3, 3, 5, 3, 55, 33],
  [285, 1, 3, 1, 15, 31, 13, 49, 245],
  [299, 1, 3, 5, 15, 31, 59, 63, 97],
  [301, 1, 3, 1, 11, 11, 11, 77, 249],
];

/** Inputs that can be drawn at once. */
const MOST_DIMENSIONS = DIRECTIONS.length + 1;

const BITS = 32;

/** Direction integers of one dimension. */
function directionsOf(dimension: number): Uint32Array {
  const v = new Uint32Array(BITS);
  if (dimension === 0) {
    for (let k = 0; k < BITS; k++) v[k] = 2 ** (BITS - 1 - k);
    return v;
  }
  const [polynomial, ...m] = DIRECTIONS[dimension - 1];
  const degree = m.length;
  for (let k = 0; k < BITS; k++) {
    if (k < degree) {
      v[k] = m[k] * 2 ** (BITS - 1 - k);
      continue;
    }
    let next = v[k - degree] ^ (v[k - degree] >>> degree);
    for (let j = 1; j < degree; j++) if ((polynomial >> (degree - j)) & 1) next ^= v[k - j];
    v[k] = next;
  }
  return v;
}

/** Well mixed bits of a whole number. */
function scrambled(n: number): number {
  let h = (n + 0x9e3779b9) | 0;
  h = Math.imul(h ^ (h >>> 16), 0x21f0aaad);
  h = Math.imul(h ^ (h >>> 15), 0x735a2d97);
  return (h ^ (h >>> 15)) >>> 0;
}

/** A sequence of points, each found by its number: the same whoever asks, in whatever order. */
interface Sequence {
  readonly dimensions: number;
  /** Coordinates of point `n`, 0 to 1 without the ends; `out` is filled and returned. */
  point(n: number, out?: Float64Array): Float64Array;
}

/**
 * Sobol's sequence.
 *
 * @param dimensions 1 to 40
 * @param seed of the shift; null: the bare sequence, whose first point is the origin
 * @throws InputError for more dimensions than there are directions
 * @example Array.from(sobolSequence(2, null).point(3)) // [0.25, 0.75]
 */
export function sobolSequence(dimensions: number, seed: number | null = 1): Sequence {
  const checks = new Checks();
  checks.number("dimensions", dimensions, { least: 1, most: MOST_DIMENSIONS });
  checks.done();
  const directions = Array.from({ length: dimensions }, (_, d) => directionsOf(d));
  const shift = directions.map((_, d) => (seed === null ? 0 : scrambled(seed * 1009 + d)));
  // the middle of the smallest cell, so that 0 and 1 are never met
  const offset = seed === null ? 0 : 0.5;
  return {
    dimensions,
    point(n, out = new Float64Array(dimensions)) {
      const gray = n ^ (n >>> 1);
      for (let d = 0; d < dimensions; d++) {
        let x = shift[d];
        const v = directions[d];
        for (let k = 0, bits = gray; bits !== 0; k++, bits >>>= 1) if (bits & 1) x ^= v[k];
        out[d] = ((x >>> 0) + offset) / 2 ** BITS;
      }
      return out;
    },
  };
}
