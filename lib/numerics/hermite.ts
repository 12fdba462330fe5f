/**
 * The cubic through two values and two slopes: the curve between two steps. Used for reading a probe at a given
 * time, for the moment it crosses a value, and for its highest and lowest point.
 */

/** An interval of length h with the values y and the slopes d at its start (0) and end (1). */
export interface Cubic {
  h: number;
  y0: number;
  d0: number;
  y1: number;
  d1: number;
}

/** Value at the share s (0..1) of the interval. */
export function hermite({ h, y0, d0, y1, d1 }: Readonly<Cubic>, s: number): number {
  const r = 1 - s;
  return r * r * ((1 + 2 * s) * y0 + s * h * d0) + s * s * ((1 + 2 * r) * y1 - r * h * d1);
}

/** Slope at the share s (0..1) of the interval. */
export function hermiteSlope({ h, y0, d0, y1, d1 }: Readonly<Cubic>, s: number): number {
  const r = 1 - s;
  return (6 * s * r * (y1 - y0)) / h + r * (1 - 3 * s) * d0 + s * (3 * s - 2) * d1;
}

/**
 * First share s in (0, 1] at which the cubic crosses `level` in the given direction; NaN-free: -1 when it doesn't.
 * `falling`: from at or above to below.
 */
export function hermiteCrossing(cubic: Readonly<Cubic>, level: number, falling: boolean): number {
  const sign = falling ? 1 : -1;
  const start = sign * (cubic.y0 - level);
  if (!(start >= 0)) return -1;
  let high = 1;
  if (!(sign * (cubic.y1 - level) < 0)) {
    // both ends on the same side: only an extreme inside the step can cross
    const s = innerExtreme(cubic, falling ? -1 : 1);
    if (s < 0 || !(sign * (hermite(cubic, s) - level) < 0)) return -1;
    high = s;
  }
  let low = 0;
  for (let k = 0; k < 60 && high - low > 1e-14; k++) {
    const mid = 0.5 * (low + high);
    if (sign * (hermite(cubic, mid) - level) < 0) high = mid;
    else low = mid;
  }
  return high;
}

/** Share s of the inner maximum (want = 1) or minimum (want = -1) of the cubic; -1 when there is none inside. */
export function innerExtreme({ h, y0, d0, y1, d1 }: Readonly<Cubic>, want: 1 | -1): number {
  // derivative over s is A s^2 + B s + C
  const p = h * d0;
  const q = h * d1;
  const A = 6 * (y0 - y1) + 3 * (p + q);
  const B = -6 * (y0 - y1) - 4 * p - 2 * q;
  const C = p;
  const disc = B * B - 4 * A * C;
  if (!(disc >= 0)) return -1;
  const root = Math.sqrt(disc);
  // stable pair of roots
  const t = -0.5 * (B + (B >= 0 ? root : -root));
  let best = -1;
  const s1 = A !== 0 ? t / A : -1;
  const s2 = t !== 0 ? C / t : -1;
  if (s1 > 0 && s1 < 1 && want * (2 * A * s1 + B) < 0) best = s1;
  if (s2 > 0 && s2 < 1 && want * (2 * A * s2 + B) < 0) best = s2;
  return best;
}
