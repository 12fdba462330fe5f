/** How fast the slowest mode of a cross-section dies away, and the round bar that cools alike. Lengths m. */
import { dot } from "../numerics/dot.ts";
import { memoized } from "../numerics/memoized.ts";

/** First zero of the Bessel function J0. */
const FIRST_ZERO = 2.404825557695773;
/** Even polynomials on the ellipse: x^(2i) y^(2j); these make four digits up to a ratio of sides of 4, three at 6. */
const ALONG = 4;
const ACROSS = 2;

/**
 * Eigenvalue of the slowest mode of an ellipse whose edge is held, in 1/m2: its temperature falls as
 * exp(-eigenvalue diffusivity t).
 *
 * Ritz's method: the smallest of int (grad u)^2 / int u^2 over u = (1 - X^2 - Y^2) p(X^2, Y^2).
 *
 * @param width full axis, m, > 0
 * @param height full axis, m, > 0; the ratio of the two up to 6
 * @example ellipseMode(0.002, 0.002) / 1e6 // 5.784
 * @source Courant & Hilbert, Methods of Mathematical Physics I, 1953, IV.2 (Ritz); values against Mathieu functions in the tests
 */
export function ellipseMode(width: number, height: number): number {
  const longer = Math.max(width, height);
  const flatness = Math.min(width, height) / longer;
  return memoized(modes, flatness, 64, () => modeOf(flatness)) / longer ** 2;
}

/** By the flatness alone: bodies of a kind, of whatever size, share theirs. */
const modes = new Map<number, number>();

/** The eigenvalue for a longer axis of 1. */
function modeOf(flatness: number): number {
  const a = 1 / 2;
  const b = flatness / 2;
  const terms: [number, number][] = [];
  for (let i = 0; i < ALONG; i++) for (let j = 0; j < ACROSS; j++) terms.push([2 * i, 2 * j]);
  const n = terms.length;
  const stiff = new Float64Array(n * n);
  const mass = new Float64Array(n * n);
  // u = X^i Y^j - X^(i+2) Y^j - X^i Y^(j+2) and its derivatives, as lists of monomials
  const values = terms.map(([i, j]): Monomial[] => [
    [1, i, j],
    [-1, i + 2, j],
    [-1, i, j + 2],
  ]);
  const alongX = values.map((u) => u.map(([c, i, j]): Monomial => [(c * i) / a, i - 1, j]));
  const alongY = values.map((u) => u.map(([c, i, j]): Monomial => [(c * j) / b, i, j - 1]));
  for (let p = 0; p < n; p++)
    for (let q = 0; q <= p; q++) {
      const k = overDisc(alongX[p], alongX[q]) + overDisc(alongY[p], alongY[q]);
      const m = overDisc(values[p], values[q]);
      stiff[p * n + q] = stiff[q * n + p] = k;
      mass[p * n + q] = mass[q * n + p] = m;
    }
  return smallestEigenvalue(stiff, mass, n);
}

/** Coefficient, power of X, power of Y. */
type Monomial = readonly [number, number, number];

function overDisc(f: readonly Monomial[], g: readonly Monomial[]): number {
  let sum = 0;
  for (const [c, i, j] of f)
    for (const [d, k, l] of g) if (c !== 0 && d !== 0) sum += c * d * moment(i + k, j + l);
  return sum;
}

/** int X^p Y^q over the unit disc; p and q even, else 0. */
function moment(p: number, q: number): number {
  if (p % 2 !== 0 || q % 2 !== 0) return 0;
  // Gamma(p/2 + 1/2) Gamma(q/2 + 1/2) / Gamma(p/2 + q/2 + 2), by its recursion from moment(0, 0) = pi
  let m = Math.PI;
  for (let k = 2; k <= p; k += 2) m *= (k - 1) / (k + 2);
  for (let k = 2; k <= q; k += 2) m *= (k - 1) / (k + p + 2);
  return m;
}

/** Smallest eigenvalue of K v = e M v, both symmetric and positive: inverse iteration. */
function smallestEigenvalue(K: Float64Array, M: Float64Array, n: number): number {
  const L = K.slice();
  for (let j = 0; j < n; j++)
    for (let i = j; i < n; i++) {
      let s = L[i * n + j];
      for (let k = 0; k < j; k++) s -= L[i * n + k] * L[j * n + k];
      L[i * n + j] = i === j ? Math.sqrt(s) : s / L[j * n + j];
    }
  let v = new Float64Array(n);
  v[0] = 1;
  let eigenvalue = 0;
  for (let turn = 0; turn < 60; turn++) {
    const w = new Float64Array(n);
    for (let i = 0; i < n; i++) for (let k = 0; k < n; k++) w[i] += M[i * n + k] * v[k];
    const before = dot(v, w);
    const x = w.slice();
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < i; k++) x[i] -= L[i * n + k] * x[k];
      x[i] /= L[i * n + i];
    }
    for (let i = n - 1; i >= 0; i--) {
      for (let k = i + 1; k < n; k++) x[i] -= L[k * n + i] * x[k];
      x[i] /= L[i * n + i];
    }
    const found = before / dot(x, w);
    const size = Math.sqrt(dot(x, x));
    v = x.map((c) => c / size);
    if (Math.abs(found - eigenvalue) < 1e-12 * found) return found;
    eigenvalue = found;
  }
  return eigenvalue;
}

/**
 * Diameter of the round bar whose slowest mode dies away as fast as that of an ellipse, m.
 *
 * @param width full axis, m, > 0
 * @param height full axis, m, > 0
 * @example equalBar(0.018, 0.015) * 1000 // 16.30
 */
export function equalBar(width: number, height: number): number {
  const long = Math.max(width, height);
  const short = Math.min(width, height);
  // beyond that an ellipse cools as a sheet would, and the polynomials no longer follow it
  const limited = Math.min(long, 6 * short);
  return (2 * FIRST_ZERO) / Math.sqrt(ellipseMode(limited, short));
}
