/**
 * Error functions and Bessel functions, to about 1e-14, for the closed solutions of heat conduction.
 * Not meant for inner loops.
 */

const SQRT_PI = Math.sqrt(Math.PI);

/**
 * Error function erf(x) = 2/sqrt(pi) int_0^x exp(-s2) ds.
 *
 * @example erf(0.5) // 0.5204998778
 * @source Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 7.1.6 (series), 7.1.14 (fraction)
 */
export function erf(x: number): number {
  if (x < 0) return -erf(-x);
  if (x > 2) return 1 - erfc(x);
  // all terms positive, so nothing cancels: exp(-x2) sum 2^n x^(2n+1) / (1 3 5 ... (2n+1))
  let term = x;
  let sum = x;
  for (let n = 1; term > 1e-17 * sum && n < 200; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / SQRT_PI) * Math.exp(-x * x) * sum;
}

/**
 * Complementary error function 1 - erf(x), accurate also where it is tiny.
 *
 * @example erfc(3) // 2.209049700e-5
 * @source Abramowitz & Stegun 1964, 7.1.14
 */
export function erfc(x: number): number {
  return x > 2 ? Math.exp(-x * x) * erfcx(x) : 1 - erf(x);
}

/**
 * Scaled complementary error function exp(x2) erfc(x): stays finite where the two factors would not.
 *
 * @example erfcx(10) // 0.05614099274
 * @source Abramowitz & Stegun 1964, 7.1.14
 */
export function erfcx(x: number): number {
  if (x <= 2) return Math.exp(x * x) * (1 - erf(x));
  // continued fraction, from the inside out; 150 levels give 1e-15 from x = 2 on
  let f = 0;
  for (let n = 150; n > 0; n--) f = n / 2 / (x + f);
  return 1 / (SQRT_PI * (x + f));
}

/** Bessel function J_n(x) for whole n >= 0: mean of cos(n s - x sin s) over a turn; the trapezoid rule is exact to rounding. */
function bessel(n: number, x: number): number {
  const points = 2 * Math.ceil(Math.abs(x)) + 60;
  let sum = 0;
  for (let i = 0; i < points; i++) {
    const s = (2 * Math.PI * i) / points;
    sum += Math.cos(n * s - x * Math.sin(s));
  }
  return sum / points;
}

/**
 * Bessel function of the first kind, order 0.
 *
 * @example besselJ0(1) // 0.7651976866
 * @source Abramowitz & Stegun 1964, 9.1.21
 */
export const besselJ0 = (x: number): number => bessel(0, x);

/**
 * Bessel function of the first kind, order 1.
 *
 * @example besselJ1(1) // 0.4400505857
 * @source Abramowitz & Stegun 1964, 9.1.21
 */
export const besselJ1 = (x: number): number => bessel(1, x);

const LOWER = [
  -3.969683028665376e1, 2.209460984245205e2, -2.759285104469687e2, 1.38357751867269e2,
  -3.066479806614716e1, 2.506628277459239,
];
const BELOW = [
  -5.447609879822406e1, 1.615858368580409e2, -1.556989798598866e2, 6.680131188771972e1,
  -1.328068155288572e1,
];
const TAIL = [
  -7.784894002430293e-3, -3.223964580411365e-1, -2.400758277161838, -2.549732539343734,
  4.374664141464968, 2.938163982698783,
];
const TAIL_BELOW = [
  7.784695709041462e-3, 3.224671290700398e-1, 2.445134137142996, 3.754408661907416,
];

const polynomial = (c: readonly number[], x: number) => c.reduce((sum, a) => sum * x + a, 0);

/**
 * Standard normal deviate below which the share `p` lies.
 *
 * @param p 0 to 1, without the ends
 * @returns the quantile, to 1.2e-9 of its size
 * @example normalQuantile(0.9) // 1.2815516
 * @source P. J. Acklam, An algorithm for computing the inverse normal cumulative distribution function, 2003
 */
export function normalQuantile(p: number): number {
  if (p > 0.5) return -normalQuantile(1 - p);
  if (p < 0.02425) {
    const q = Math.sqrt(-2 * Math.log(p));
    return polynomial(TAIL, q) / (polynomial(TAIL_BELOW, q) * q + 1);
  }
  const q = p - 0.5;
  const r = q * q;
  return (polynomial(LOWER, r) * q) / (polynomial(BELOW, r) * r + 1);
}
