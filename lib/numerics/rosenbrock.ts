/**
 * Rosenbrock time stepping for stiff systems u' = f(t, u): linearly implicit, one linear system per stage and
 * no inner iteration. Knows no physics.
 *
 * Stage i solves  (1/(gamma h) - J) U_i = f(t + alpha_i h, u + sum a_ij U_j) + sum (c_ij / h) U_j + gamma_i h f_t
 * and the step ends at u + sum m_i U_i with the error estimate sum e_i U_i.
 */
import { doubles, NO_DOUBLES, slicesOf } from "./typed-lists.ts";

/** Weights are of one type throughout: read from lists of numbers, whole and broken ones would be boxed in every loop. */
export interface Tableau {
  readonly name: string;
  readonly stages: number;
  /** Order of the step; the error estimate is one order lower. */
  readonly order: number;
  readonly gamma: number;
  readonly time: Float64Array;
  readonly timeSlope: Float64Array;
  readonly a: readonly Float64Array[];
  readonly c: readonly Float64Array[];
  readonly m: Float64Array;
  readonly e: Float64Array;
  /** Weights of h times the slope at the end, of the polynomial that the stages lay through the step. */
  readonly slope: Float64Array;
  /**
   * Of each stage and of the end: whether it begins where the stage before did, with that stage's own vector added, as in a
   * stiffly accurate method. One vector to add instead of all.
   */
  readonly goesOn: readonly boolean[];
}

type Weights = Omit<Tableau, "time" | "timeSlope" | "a" | "c" | "m" | "e" | "slope" | "goesOn"> & {
  readonly [key in "time" | "timeSlope" | "m" | "e" | "slope"]: readonly number[];
} & { readonly [key in "a" | "c"]: readonly (readonly number[])[] };

function tableauOf({ time, timeSlope, a, c, m, e, slope, ...method }: Weights): Tableau {
  const typed = (row: readonly number[]) => new Float64Array(row);
  return {
    ...method,
    time: typed(time),
    timeSlope: typed(timeSlope),
    a: a.map(typed),
    c: c.map(typed),
    m: typed(m),
    e: typed(e),
    slope: typed(slope),
    goesOn: [...a, m].map((row, s, rows) => s > 0 && isContinued(rows[s - 1], row)),
  };
}

/** Whether `row` is `before` with a 1 after it. */
const isContinued = (before: readonly number[], row: readonly number[]): boolean =>
  row.length === before.length + 1 &&
  row[before.length] === 1 &&
  before.every((w, j) => w === row[j]);

const G2 = 1 - Math.SQRT1_2;
const ROS2_LAST = (1 - G2) / (1 - 2 * G2) / G2;

/**
 * Two stages, order 2 with any approximation of the Jacobian, L-stable with the exact one.
 * @source Verwer, Spee, Blom, Hundsdorfer, A second-order Rosenbrock method applied to photochemical dispersion
 * problems, SIAM J. Sci. Comput. 20 (1999) 1456
 */
export const ROS2: Tableau = tableauOf({
  name: "ROS2",
  stages: 2,
  order: 2,
  gamma: G2,
  time: [0, 1],
  timeSlope: [G2, -G2],
  a: [[], [1 / G2]],
  c: [[], [-2 / G2]],
  m: [1.5 / G2, 0.5 / G2],
  e: [0.5 / G2, 0.5 / G2],
  // of second order: both stages expanded for smooth solutions
  slope: [1 / G2 + ROS2_LAST, ROS2_LAST],
});

/**
 * Six stages, order 4 (3), stiffly accurate; needs the exact Jacobian for its full order.
 * @source Hairer & Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.7 (RODAS)
 */
export const RODAS4: Tableau = tableauOf({
  name: "RODAS4",
  stages: 6,
  order: 4,
  gamma: 0.25,
  time: [0, 0.386, 0.21, 0.63, 1, 1],
  timeSlope: [0.25, -0.1043, 0.1035, -0.03620000000000023, 0, 0],
  a: [
    [],
    [1.544],
    [0.9466785280815826, 0.2557011698983284],
    [3.314825187068521, 2.896124015972201, 0.9986419139977817],
    [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895],
    [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895, 1],
  ],
  c: [
    [],
    [-5.6688],
    [-2.430093356833875, -0.2063599157091915],
    [-0.1073529058151375, -9.594562251023355, -20.47028614809616],
    [7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616],
    [
      8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136,
      -6.058818238834054,
    ],
  ],
  m: [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895, 1, 1],
  e: [0, 0, 0, 0, 0, 1],
  // m less the weights of the continuous extension of third order
  slope: [
    1.221224509226641 - 10.12623508344586 + 0.676280339280125,
    6.019134481288629 + 7.487995877610167 - 6.08771465168001,
    12.53708332932087 + 34.80091861555747 - 16.43084320892478,
    -0.687886036105895 + 7.992771707568823 - 24.76722511418386,
    1 - 1.025137723295662 + 6.594389125716872,
    1,
  ],
});

/** The system as the stepper sees it. All vectors have `size` entries. */
export interface StiffSystem {
  readonly size: number;
  /** false when f never depends on t: `timeSlope` is then not asked. */
  readonly moves: boolean;
  /** out = f(t, u); `inStep`: for a stage of a step, after which `linearize` is not called. */
  rates(t: number, u: Float64Array, out: Float64Array, inStep?: boolean): void;
  /** out = df/dt at fixed u, over a time scale h; false when it is zero and `out` was not written. */
  timeSlope(t: number, h: number, u: Float64Array, rates: Float64Array, out: Float64Array): boolean;
  /** Takes the Jacobian at (t, u); `rates` was called with them just before, for no stage, and none since. */
  linearize(t: number, u: Float64Array): void;
  /** Prepares (1/gammaH - J); false when the step is too long for it. */
  factor(gammaH: number): boolean;
  /** Replaces x by (1/gammaH - J)^-1 x. */
  solve(x: Float64Array): void;
}

/** The vectors of one step: the state u, its rates f; written: the new state and the estimate of its error. */
export interface StepVectors {
  readonly u: Float64Array;
  readonly f: Float64Array;
  readonly next: Float64Array;
  readonly error: Float64Array;
}

export interface Stepper {
  readonly tableau: Tableau;
  /** One step from (t, u); false when the system refused the step length. */
  step(t: number, h: number, vectors: StepVectors): boolean;
  /** Carries an error that was there before the last step, of h, over that step: it grows or fades as the linear system has it. */
  carry(h: number, offset: Float64Array): void;
  /**
   * Slope at the end of the last step, of h, as its stages lay a polynomial through it: what an approximate Jacobian leaves in
   * stiff parts of the state, which the rates there multiply by their stiffness, is not in it. Once a step; holds until the next.
   */
  endSlope(h: number): Float64Array;
}

/** Makes a stepper; all its memory is taken here, `step` allocates nothing. */
export function makeStepper(system: StiffSystem, tableau: Tableau): Stepper {
  const { stages, gamma, time, timeSlope, a, c, m, e, goesOn } = tableau;
  const n = system.size;
  const all = doubles(stages * n);
  const U = slicesOf(all, n);
  const timeSlopes = system.moves ? doubles(n) : NO_DOUBLES;
  const perStep = new Float64Array(stages);
  let once = NO_DOUBLES;

  /** (1 + (1 - 2 gamma) hJ) / (1 - gamma hJ)^2 from two solutions: e^hJ to first order, bounded for whatever is stiff. */
  function carry(h: number, offset: Float64Array): void {
    if (once.length === 0) once = doubles(n);
    const perGammaH = 1 / (gamma * h);
    const more = (1 - 2 * gamma) / gamma;
    for (let i = 0; i < n; i++) once[i] = offset[i] * perGammaH;
    system.solve(once);
    for (let i = 0; i < n; i++) offset[i] = once[i] * perGammaH;
    system.solve(offset);
    for (let i = 0; i < n; i++) offset[i] += more * (offset[i] - once[i]);
  }

  function step(t: number, h: number, { u, f, next, error }: StepVectors): boolean {
    if (!system.factor(gamma * h)) return false;
    // the two results serve as scratch until they are written at the end
    const stageState = next;
    const stageRates = error;
    const moving = system.moves && system.timeSlope(t, h, u, f, timeSlopes);
    const perH = 1 / h;
    for (let s = 0; s < stages; s++) {
      const rhs = U[s];
      if (s === 0) rhs.set(f);
      else {
        if (goesOn[s]) addTo(stageState, U[s - 1]);
        else combine(stageState, u, all, a[s], s);
        system.rates(t + time[s] * h, stageState, stageRates, true);
        for (let j = 0; j < s; j++) perStep[j] = c[s][j] * perH;
        combine(rhs, stageRates, all, perStep, s);
      }
      if (moving && timeSlope[s] !== 0) {
        const w = timeSlope[s] * h;
        for (let i = 0; i < n; i++) rhs[i] += w * timeSlopes[i];
      }
      system.solve(rhs);
    }
    if (goesOn[stages]) addTo(next, U[stages - 1]);
    else combine(next, u, all, m, stages);
    weigh(error, all, e);
    return true;
  }

  function endSlope(h: number): Float64Array {
    const last = stages - 1;
    for (let j = 0; j < last; j++) perStep[j] = tableau.slope[j] / h;
    // into the last stage itself: the stages are not needed any more
    const slope = U[last];
    const own = tableau.slope[last] / h;
    for (let i = 0; i < n; i++) slope[i] *= own;
    combine(slope, slope, all, perStep, last);
    return slope;
  }

  return { tableau, step, carry, endSlope };
}

// The vectors of the stages stand one after the other in one list: read from lists of their own, five of them take twice as
// long. Lengths are numbers of the loops' own, since that of a list is looked up anew in each turn.

function addTo(out: Float64Array, U: Float64Array): void {
  const n = out.length;
  for (let i = 0; i < n; i++) out[i] += U[i];
}

/** out = u + sum of w[j] U[j], j < count; up to five in one pass over memory, each number of them with its own loop. */
function combine(
  out: Float64Array,
  u: Float64Array,
  all: Float64Array,
  w: Float64Array,
  count: number,
): void {
  if (count === 1) addScaled(out, u, all, w[0], 0);
  else if (count === 2) combineTwo(out, u, all, w);
  else if (count === 3) combineThree(out, u, all, w);
  else if (count === 4) combineFour(out, u, all, w);
  else combineFive(out, u, all, w);
  for (let j = 5; j < count; j++) addScaled(out, out, all, w[j], j * out.length);
}

/** out = u + a times the vector that begins at `from`. */
function addScaled(
  out: Float64Array,
  u: Float64Array,
  all: Float64Array,
  a: number,
  from: number,
): void {
  const n = out.length;
  for (let i = 0; i < n; i++) out[i] = u[i] + a * all[i + from];
}

type Combining = (out: Float64Array, u: Float64Array, all: Float64Array, w: Float64Array) => void;

const combineTwo: Combining = (out, u, all, w) => {
  const n = out.length;
  const a = w[0];
  const b = w[1];
  for (let i = 0; i < n; i++) out[i] = u[i] + a * all[i] + b * all[i + n];
};

const combineThree: Combining = (out, u, all, w) => {
  const n = out.length;
  const a = w[0];
  const b = w[1];
  const c = w[2];
  const third = 2 * n;
  for (let i = 0; i < n; i++) out[i] = u[i] + a * all[i] + b * all[i + n] + c * all[i + third];
};

const combineFour: Combining = (out, u, all, w) => {
  const n = out.length;
  const a = w[0];
  const b = w[1];
  const c = w[2];
  const d = w[3];
  const third = 2 * n;
  const fourth = 3 * n;
  for (let i = 0; i < n; i++)
    out[i] = u[i] + a * all[i] + b * all[i + n] + c * all[i + third] + d * all[i + fourth];
};

const combineFive: Combining = (out, u, all, w) => {
  const n = out.length;
  const a = w[0];
  const b = w[1];
  const c = w[2];
  const d = w[3];
  const e = w[4];
  const third = 2 * n;
  const fourth = 3 * n;
  const fifth = 4 * n;
  for (let i = 0; i < n; i++)
    out[i] =
      u[i] +
      a * all[i] +
      b * all[i + n] +
      c * all[i + third] +
      d * all[i + fourth] +
      e * all[i + fifth];
};

/** out = sum of w[j] U[j]. */
function weigh(out: Float64Array, all: Float64Array, w: Float64Array): void {
  const n = out.length;
  let first = 0;
  while (first < w.length - 1 && w[first] === 0) first++;
  const a = w[first];
  const from = first * n;
  for (let i = 0; i < n; i++) out[i] = a * all[i + from];
  for (let j = first + 1; j < w.length; j++) if (w[j] !== 0) addScaled(out, out, all, w[j], j * n);
}
