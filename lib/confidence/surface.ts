/**
 * A result as a surface over its uncertain inputs: a polynomial in standard normal deviates, fitted to a few computed
 * members. From it members cost nothing, and the shares of variance stand in its coefficients.
 *
 *     y(z) = sum c_k H_k(z),   H_k products of normed Hermite polynomials;   variance = sum of c_k2 without the constant
 *
 * Terms are taken in one after the other, the one that explains most first, as long as the error at members left out
 * falls.
 *
 * @source Sudret, Reliab. Eng. Syst. Saf. 93 (2008) 964: shares from coefficients; Blatman & Sudret, J. Comput. Phys. 230
 * (2011) 2345: sparse terms by error at points left out
 */
import { dot } from "../numerics/dot.ts";

/** Degree of each input in a term; inputs that are not in it are left out. */
type Term = readonly (readonly [input: number, degree: number])[];

export interface Surface {
  /** Value at deviates `z`. */
  at(z: ArrayLike<number>): number;
  /** Standard deviation of what the surface misses, found at members left out. */
  readonly error: number;
  /** Of the surface. */
  readonly variance: number;
  readonly terms: number;
  /** Change of the result for one standard deviation of an input, on average. */
  readonly slopes: readonly number[];
  /** Share of `variance` by each input alone, and with all in which it has a part. */
  readonly first: readonly number[];
  readonly total: readonly number[];
}

/** Normed Hermite polynomials of degree 1 to 3. */
function hermite(degree: number, z: number): number {
  if (degree === 1) return z;
  if (degree === 2) return (z * z - 1) / Math.SQRT2;
  return (z * z * z - 3 * z) / Math.sqrt(6);
}

function termAt(term: Term, z: ArrayLike<number>): number {
  let product = 1;
  for (const [input, degree] of term) product *= hermite(degree, z[input]);
  return product;
}

/** All terms up to the second degree, and third powers. */
function candidates(inputs: number): Term[] {
  const terms: Term[] = [];
  for (let i = 0; i < inputs; i++) terms.push([[i, 1]]);
  for (let i = 0; i < inputs; i++) {
    terms.push([[i, 2]], [[i, 3]]);
    for (let j = 0; j < i; j++)
      terms.push([
        [j, 1],
        [i, 1],
      ]);
  }
  return terms;
}

/** The polynomial as plain loops: it is read off some hundred thousand times. */
function evaluator(constant: number, c: readonly number[], terms: readonly Term[]): Surface["at"] {
  const n = terms.length;
  const weight = Float64Array.from(c);
  const input = Int32Array.from(terms, (term) => term[0][0]);
  const degree = Int32Array.from(terms, (term) => term[0][1]);
  // no term has more than two inputs
  const other = Int32Array.from(terms, (term) => term[1]?.[0] ?? -1);
  return (z) => {
    let sum = constant;
    for (let k = 0; k < n; k++) {
      const x = z[input[k]];
      const d = degree[k];
      let y = x;
      if (d === 2) y = (x * x - 1) * Math.SQRT1_2;
      else if (d === 3) y = (x * x * x - 3 * x) * SQRT_SIXTH;
      if (other[k] >= 0) y *= z[other[k]];
      sum += weight[k] * y;
    }
    return sum;
  };
}

const SQRT_SIXTH = 1 / Math.sqrt(6);

/** Members for each term at least. */
const MEMBERS_PER_TERM = 2;
/** Terms that may be taken in without the error falling, before it ends. */
const PATIENCE = 4;

/** Columns of all terms at the members, which several results of one computation share. */
export interface Design {
  readonly terms: readonly Term[];
  readonly columns: readonly Float64Array[];
  readonly inputs: number;
  readonly members: number;
}

/** @param points deviates of each member */
export function designOf(points: readonly ArrayLike<number>[]): Design {
  const inputs = points[0].length;
  const terms = candidates(inputs);
  const columns = terms.map((term) => Float64Array.from(points, (z) => termAt(term, z)));
  return { terms, columns, inputs, members: points.length };
}

/** The design of some of the members. */
export function membersOf({ terms, columns, inputs }: Design, members: readonly number[]): Design {
  const own = columns.map((column) => Float64Array.from(members, (i) => column[i]));
  return { terms, columns: own, inputs, members: members.length };
}

/** Takes from `a` what lies along `q`, which has length 1; returns how much that was. */
function takeOut(a: Float64Array, q: Float64Array): number {
  const along = dot(a, q);
  for (let i = 0; i < a.length; i++) a[i] -= along * q[i];
  return along;
}

/** Standard deviation at members left out one by one; `reach` of each member is the share that it has in its own value. */
function errorLeftOut(residual: Float64Array, reach: Float64Array, terms: number): number {
  const n = residual.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const e = residual[i] / Math.max(1e-9, 1 - reach[i]);
    sum += e * e;
  }
  // few members for many terms flatter a fit whose terms were chosen by it
  return Math.sqrt((sum / n) * (n / Math.max(1, n - terms)));
}

/** The best order of terms so far: the first `kept` of them are the surface. */
interface Chosen {
  readonly order: number[];
  /** Columns of the triangle: how each taken column is made of the orthogonal ones. */
  readonly triangle: number[][];
  readonly along: number[];
  kept: number;
  error: number;
}

/** Terms in the order in which they explain most. */
function choose({ columns, members: n }: Design, values: Float64Array): Chosen {
  const reach = new Float64Array(n).fill(1 / n);
  const unit = new Float64Array(n).fill(1 / Math.sqrt(n));
  const residual = values.slice();
  const chosen: Chosen = { order: [], triangle: [], along: [], kept: 0, error: 0 };
  chosen.along.push(takeOut(residual, unit));
  chosen.error = errorLeftOut(residual, reach, 1);
  const free = columns.map((column) => {
    const left = column.slice();
    return { left, made: [takeOut(left, unit)] };
  });
  const open = new Set(columns.keys());
  const most = Math.floor(n / MEMBERS_PER_TERM);
  while (open.size > 0 && chosen.order.length + 1 < most) {
    let best = -1;
    let gain = 0;
    for (const k of open) {
      const { left } = free[k];
      const length = dot(left, left);
      if (length < 1e-9 * n) continue;
      const explained = dot(residual, left) ** 2 / length;
      if (explained > gain) [best, gain] = [k, explained];
    }
    if (best < 0) break;
    open.delete(best);
    const { left: q, made } = free[best];
    const length = Math.sqrt(dot(q, q));
    for (let i = 0; i < n; i++) q[i] /= length;
    chosen.order.push(best);
    chosen.triangle.push([...made, length]);
    chosen.along.push(takeOut(residual, q));
    for (let i = 0; i < n; i++) reach[i] += q[i] * q[i];
    for (const k of open) free[k].made.push(takeOut(free[k].left, q));
    const error = errorLeftOut(residual, reach, chosen.order.length + 1);
    if (error < chosen.error * (1 - 1e-6)) {
      chosen.error = error;
      chosen.kept = chosen.order.length;
    } else if (chosen.order.length - chosen.kept >= PATIENCE) break;
  }
  return chosen;
}

/** Coefficients of the kept columns, the constant first: the triangle solved from below. */
function solved({ triangle, along, kept }: Chosen, n: number): number[] {
  const c = new Array<number>(kept + 1).fill(0);
  for (let k = kept; k >= 0; k--) {
    let sum = along[k];
    for (let j = k + 1; j <= kept; j++) sum -= triangle[j - 1][k] * c[j];
    c[k] = sum / (k === 0 ? Math.sqrt(n) : triangle[k - 1][k]);
  }
  return c;
}

/**
 * Fits the surface of a result.
 *
 * @param design of the members' deviates
 * @param values the result of each member, finite
 */
export function fitSurface(design: Design, values: ArrayLike<number>): Surface {
  const chosen = choose(design, Float64Array.from(values));
  const [constant, ...c] = solved(chosen, design.members);
  const terms = chosen.order.slice(0, chosen.kept).map((k) => design.terms[k]);
  const variance = c.reduce((sum, x) => sum + x * x, 0);
  const first = new Array<number>(design.inputs).fill(0);
  const total = first.slice();
  const slopes = first.slice();
  terms.forEach((term, k) => {
    const share = variance > 0 ? c[k] ** 2 / variance : 0;
    for (const [input, degree] of term) {
      total[input] += share;
      if (term.length === 1) first[input] += share;
      if (term.length === 1 && degree === 1) slopes[input] = c[k];
    }
  });
  return {
    at: evaluator(constant, c, terms),
    error: chosen.error,
    variance,
    terms: terms.length + 1,
    slopes,
    first,
    total,
  };
}
