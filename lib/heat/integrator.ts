/**
 * Integrates one grid through the stages of a problem: adaptive steps that end at breakpoints and stops.
 */
import { makeStepper, type Stepper, type StepVectors } from "../numerics/rosenbrock.ts";
import { doubles, NO_DOUBLES, vectorsOf } from "../numerics/typed-lists.ts";
import { boundaryTimes, isMoving } from "./boundary.ts";
import { makeBreakpoints, stepToward } from "./breakpoints.ts";
import { makeStepBudget, type StepBudget } from "./budget.ts";
import { type EnergyAudit, makeEnergyAudit, mustClose } from "./energy-audit.ts";
import { frontError, sharpestFront } from "./front.ts";
import { cureEntry } from "./grid-content.ts";
import type { Grid } from "./grid-type.ts";
import { methodFor } from "./method.ts";
import { type Monitor, makeMonitor } from "./monitor.ts";
import { makeOperator, type Operator } from "./operator.ts";
import { makePastPeak, type PastPeak } from "./past-peak.ts";
import { makeProbeReader, type ProbeReader } from "./probes.ts";
import type { Boundary, HeatProblem, Past, Snapshot } from "./problem.ts";
import type { Properties } from "./properties.ts";
import { makeRunRecord, type RunRecord } from "./run-record.ts";
import type { Scale } from "./scale.ts";
import { makeSectionStepper } from "./section-stepper.ts";
import { SIDES } from "./setting.ts";
import { type StageSetup, stageSetups } from "./stage-setups.ts";
import { makeStepControl, type StepControl } from "./step-control.ts";

/** The worst cell may be this many times (squared) as far off as the mean. */
const WORST_OVER_MEAN = 36;

/**
 * Errors of single steps spread and die away, in two dimensions faster: of the largest, this much is left in the values at the
 * wanted times (measured on random layers against steps 300 times finer: 0.02 to 0.4 in nine of ten). Where something
 * cures, errors grow as well, and are carried along.
 */
const LEFT_OF_STEP_ERROR = { row: 0.4, section: 0.2 };

/** The error that a step shows is that of its embedded solution of third order; the fourth order kept is better (measured: 5 to 50 times). */
const KEPT_OVER_EMBEDDED = 0.2;

/**
 * What grows by itself grows e-fold in one over its rate: a first step is this share of that. What it leaves grows with the
 * reaction; of half of it an insulated block was off by three times as much on its way up.
 */
const FIRST_GROWTH = 0.3;

/** Wanted times up to which each ends a step. */
const MOST_STEPPED_TIMES = 50;

type IsEnough = (found: RunRecord, t: number) => boolean;

export interface Integrator {
  readonly op: Operator;
  readonly reader: ProbeReader;
  /** Temperatures of all cells, K: read and written between runs. */
  readonly cellT: Float64Array;
  /**
   * Runs all stages from t = 0; `fresh`: every region starts at its initial temperature, else from `cellT`.
   *
   * @param isEnough asked after each step with what was found up to `t`, s: true ends the run there
   */
  run(fresh: boolean, isEnough?: IsEnough): RunRecord;
}

/** Whether any boundary of a problem changes with time. */
function anyMoving({ boundary, stages }: HeatProblem): boolean {
  const moves = (b: Boundary | undefined) => b !== undefined && isMoving(b);
  const anyOf = (sides: HeatProblem["boundary"]) => SIDES.some((side) => moves(sides[side]));
  return (
    anyOf(boundary) ||
    stages.some((s) => moves(s.exposed) || (s.boundary !== undefined && anyOf(s.boundary)))
  );
}

export function makeIntegrator(
  problem: HeatProblem,
  grid: Grid,
  properties: ReadonlyMap<string, Properties>,
  scale: Scale,
): Integrator {
  return new Integration(problem, grid, properties, scale);
}

class Integration implements Integrator {
  readonly op: Operator;
  readonly reader: ProbeReader;
  readonly cellT: Float64Array;
  private readonly problem: HeatProblem;
  private readonly scale: Scale;
  private readonly stepper: Stepper;
  private readonly monitor: Monitor;
  private readonly audit: EnergyAudit;
  /** Where a stage asks for it. */
  private readonly pastPeak: PastPeak | undefined;
  /** Between these every table holds, K. */
  private readonly least: number;
  private readonly most: number;
  private readonly allowed: number;
  private readonly allowedCure: number;
  private readonly leftOfStep: number;
  /** At the end of the last stage, for each entry. */
  private readonly cure: Float64Array;
  /** The step under way; once it is done, f holds the rates at its end. */
  private vectors: StepVectors;
  /** Whether what the steps leave is carried along. */
  private readonly follows: boolean;
  /** Where it is: how far the state is off, estimated. */
  private readonly offset: Float64Array;
  private budget: StepBudget;
  private filled = 1;
  private readonly madeSetups = new Map<boolean, readonly StageSetup[]>();

  constructor(
    problem: HeatProblem,
    grid: Grid,
    properties: ReadonlyMap<string, Properties>,
    scale: Scale,
  ) {
    const op = makeOperator(grid, problem.materials, properties, anyMoving(problem));
    const { tableau, contrast, allowed } = methodFor(problem, op, properties);
    this.problem = problem;
    this.scale = scale;
    this.op = op;
    this.cellT = op.T;
    this.stepper =
      grid.ny > 1 ? makeSectionStepper(op, tableau, contrast) : makeStepper(op, tableau);
    this.reader = makeProbeReader(op, problem.probes);
    const tables = [...properties.values()];
    this.least = Math.max(...tables.map((p) => p.least));
    this.most = Math.min(...tables.map((p) => p.most));
    this.allowed = allowed * scale.span;
    this.allowedCure = allowed;
    this.leftOfStep = grid.ny > 1 ? LEFT_OF_STEP_ERROR.section : LEFT_OF_STEP_ERROR.row;
    const [u, f, next, error] = vectorsOf(4, op.size);
    this.vectors = { u, f, next, error };
    this.cure = op.hasCure ? doubles(op.qV.length) : NO_DOUBLES;
    this.follows = op.hasCure && problem.estimateSteps !== false;
    this.offset = this.follows ? doubles(op.size) : NO_DOUBLES;
    this.monitor = makeMonitor(problem, this.reader, scale.span, (time) => this.snapshot(time));
    this.audit = makeEnergyAudit(op, scale.span);
    if (problem.stages.some(({ past }) => past)) this.pastPeak = makePastPeak(op);
    this.budget = makeStepBudget(problem, op.cells);
  }

  run(fresh: boolean, isEnough: IsEnough = () => false): RunRecord {
    const { op, problem } = this;
    const n = op.cells;
    const found = makeRunRecord(problem, this.reader.names, this.scale.span);
    found.isCut.set(this.reader.isCut);
    found.isMean.set(this.reader.isMean);
    let t = 0;
    this.monitor.begin(found);
    this.budget = makeStepBudget(problem, n);
    for (const setup of this.setups(fresh)) {
      this.startStage(setup, fresh && t === 0);
      this.audit.begin(this.vectors.u);
      t = this.integrateStage(setup, t, found, isEnough);
      found.imbalance = Math.max(found.imbalance, this.audit.imbalance(this.vectors.u));
      mustClose(found.imbalance, t, found.steps);
      found.stageEnds.push(t);
      if (op.hasCure) this.cure.set(this.vectors.u.subarray(n, n + op.qV.length));
      if (found.stopped) break;
    }
    found.end = t;
    if (op.hasCure && !this.follows) found.timeError = Number.POSITIVE_INFINITY;
    const { maxError, minError } = found;
    for (let p = 0; p < maxError.length; p++)
      found.timeError = Math.max(found.timeError, maxError[p], minError[p]);
    return found;
  }

  /** Made once: who runs again and again has the same ones. */
  private setups(fresh: boolean): readonly StageSetup[] {
    const known = this.madeSetups.get(fresh);
    if (known) return known;
    const made = stageSetups(this.problem, this.op.grid.regions, fresh);
    this.madeSetups.set(fresh, made);
    return made;
  }

  private startStage({ setting, material, newT }: StageSetup, fresh: boolean): void {
    const { op, cellT } = this;
    const { u } = this.vectors;
    const { grid } = op;
    const n = op.cells;
    op.configure(setting);
    u[op.size - 1] = 0;
    for (let i = 0; i < n; i++) if (!(cellT[i] > 0)) cellT[i] = this.scale.lowest;
    op.energies(newT, cellT, u);
    if (op.hasCure) {
      this.startCure(material, newT);
      // what is new is exact
      const { offset } = this;
      for (let i = 0; i < offset.length; i++)
        if (i < n ? newT[grid.center[i]] !== undefined : fresh) offset[i] = 0;
    }
    op.refresh(u);
    let filled = 0;
    for (let i = 0; i < n; i++) filled += op.active[i];
    this.filled = filled;
  }

  /** Each region of each cell goes on from its own cure; one that is filled anew starts at its material's. */
  private startCure(material: readonly string[], newT: readonly (number | undefined)[]): void {
    const { op, cure } = this;
    const { u } = this.vectors;
    const { grid, cells: n, qV } = op;
    const { content, mixStart, mixRegion } = grid;
    const fresh = newT.map((T, region) =>
      T === undefined ? undefined : this.problem.materials[material[region]].cure?.initial,
    );
    for (let i = 0; i < n; i++) {
      const region = content[i];
      if (region >= 0) cure[i] = fresh[region] ?? cure[i];
      else
        for (let k = mixStart[-1 - region]; k < mixStart[-region]; k++) {
          const r = cureEntry(grid, i, mixRegion[k]);
          cure[r] = fresh[mixRegion[k]] ?? cure[r];
        }
    }
    for (let r = 0; r < qV.length; r++) u[n + r] = qV[r] > 0 ? cure[r] : 0;
  }

  /** The end of the last stage, s. */
  private get latest(): number {
    const { stages } = this.problem;
    return stages[stages.length - 1]?.until ?? 0;
  }

  /** Steps through one stage; returns the time at which it ended. */
  private integrateStage(
    setup: StageSetup,
    start: number,
    found: RunRecord,
    isEnough: IsEnough,
  ): number {
    const { stage, setting } = setup;
    const { op, monitor, problem } = this;
    const { stop, past, lasts } = stage;
    const until = lasts === undefined ? stage.until : Math.min(stage.until, start + lasts);
    const turns = [...boundaryTimes(setting.exposed, start, until)];
    for (const side of SIDES) turns.push(...boundaryTimes(setting.boundary[side], start, until));
    const pieces = makeBreakpoints(turns, start, until);
    const times = problem.times ?? [];
    // a few wanted times are worth a step each; many are read between the steps
    const wanted = times.length <= MOST_STEPPED_TIMES ? times : [];
    const breakpoints = makeBreakpoints(
      [...turns, ...(problem.snapshots ?? []), ...wanted],
      start,
      until,
    );
    let t = start;
    let pieceEnd = pieces.after(t);
    op.within(t, pieceEnd);
    op.rates(t, this.vectors.u, this.vectors.f);
    op.capacities();
    monitor.startStage(t, setup, this.vectors.u, this.vectors.f);
    const control = makeStepControl(this.stepper.tableau.order, this.firstStep(until - t));
    while (t < until * (1 - 1e-14)) {
      if (problem.shouldStop?.() === true) {
        found.stopped = true;
        return t;
      }
      if (past) this.pastPeak?.begin();
      const target = breakpoints.after(t);
      const step = this.advance(t, stepToward(target - t, control.next(), t), control, found);
      const end = target - t - step <= 1e-12 * target ? target : t + step;
      monitor.look(end - t, this.vectors.next, this.endRates(step));
      found.steps++;
      problem.follow?.({ cells: op.cells, steps: found.steps, time: end, end: this.latest });
      const s = stop ? monitor.stopIn(stop, end - t) : -1;
      if (s === 0) return t;
      if (s > 0) return this.endAt(t, end, s);
      const open = monitor.unsure(end - t);
      t = open > 0 ? this.endAt(t, end, open) : this.record(t, end);
      if (op.hasCure) this.seeFront(found);
      found.stopped = isEnough(found, t);
      if (found.stopped || this.isOver(past)) return t;
      if (t >= pieceEnd && t < until) {
        // beyond a jump the rates are others, and the steps begin short again
        const before = this.firstStep(until - t);
        pieceEnd = pieces.after(t);
        op.within(t, pieceEnd);
        op.rates(t, this.vectors.u, this.vectors.f);
        op.capacities();
        monitor.goOn(this.vectors.u, this.vectors.f);
        const first = this.firstStep(until - t);
        if (first < 0.5 * before) control.restart(Math.min(control.next(), first));
      }
    }
    return t;
  }

  /** Whether a probe, after the step that is recorded, has been as hot as it will be. */
  private isOver(past: Past | undefined): boolean {
    if (past === undefined) return false;
    const highest = this.monitor.highestOf(past);
    return Number.isFinite(highest) && this.pastPeak?.isOver(this.vectors.u, highest) === true;
  }

  private seeFront(found: RunRecord): void {
    const { highest, named } = this.scale;
    const left = frontError(sharpestFront(this.op, this.vectors.u), highest - named);
    found.frontError = Math.max(found.frontError, left);
  }

  /** A first step over which the fastest cell changes by a fiftieth of the span, and no reaction grows by much. */
  private firstStep(length: number): number {
    const { op } = this;
    const { f } = this.vectors;
    let fastest = 0;
    for (let i = 0; i < op.cells; i++) {
      const rate = Math.abs(f[i] / op.C[i]);
      if (rate > fastest) fastest = rate;
    }
    const even = fastest > 0 ? Math.min((0.02 * this.scale.span) / fastest, length) : length / 50;
    const growth = op.growth();
    return growth > 0 ? Math.min(even, FIRST_GROWTH / growth) : even;
  }

  /** Takes a step from t, shorter than wished where its error asks for it; returns its length. */
  private advance(t: number, wish: number, control: StepControl, found: RunRecord): number {
    const { op, stepper, vectors } = this;
    const { u, f, next } = vectors;
    let step = wish;
    op.linearize(t, u);
    for (;;) {
      this.budget.spend(t);
      const done = stepper.step(t, step, vectors);
      const share = done ? this.errorShare() : Number.POSITIVE_INFINITY;
      if (share <= 1) {
        op.rates(t + step, next, f);
        if (!this.leavesHull()) {
          op.capacities();
          control.accept(step, share);
          if (!op.hasCure)
            found.timeError = Math.max(found.timeError, this.leftOfStep * share * this.allowed);
          return step;
        }
      }
      found.rejected++;
      step = control.reject(t, step, share);
      // rates of the refused end have moved the boundary values: take them again for the base
      op.rates(t, u, f);
      op.linearize(t, u);
    }
  }

  /**
   * Rates at the end of the step just taken, for the probes' slopes. A section's factored matrix leaves a little in cells that
   * exchange much heat: their rates swing with it (measured: 50 times the true slope), the polynomial of the step does not.
   */
  private endRates(step: number): Float64Array {
    return this.op.grid.ny > 1 ? this.stepper.endSlope(step) : this.vectors.f;
  }

  /** Goes on from the end of the step. */
  private record(t: number, end: number): number {
    const { u, f, next, error } = this.vectors;
    // the slopes of a method of second order swing after a jump, and its steps are short
    const smooth = this.stepper.tableau.order > 2;
    const off = this.follows ? this.errorNow(end - t) : 0;
    // before it is recorded: a snapshot reads the state
    this.vectors = { u: next, f, next: u, error };
    this.monitor.take(t, end, off, smooth);
    return end;
  }

  /** Largest error of a temperature at the end of the step of h, from all steps up to it, K. */
  private errorNow(h: number): number {
    const { op, stepper, offset } = this;
    const { error } = this.vectors;
    stepper.carry(h, offset);
    let most = 0;
    for (let i = 0; i < offset.length; i++) offset[i] += KEPT_OVER_EMBEDDED * error[i];
    for (let i = 0; i < op.cells; i++) {
      const off = Math.abs(offset[i] / op.C[i]);
      if (op.active[i] === 1 && off > most) most = off;
    }
    return most;
  }

  /** Repeats the step from t so that it ends where the stage stops or a probe crosses, at the share s of it. */
  private endAt(t: number, end: number, s: number): number {
    const { op, stepper, monitor, vectors } = this;
    const { u, f, next } = vectors;
    const step = s * (end - t);
    op.rates(t, u, f);
    op.linearize(t, u);
    if (!(step > 0 && stepper.step(t, step, vectors))) {
      op.rates(end, next, f);
      op.capacities();
      return this.record(t, end);
    }
    op.rates(t + step, next, f);
    op.capacities();
    monitor.look(step, next, this.endRates(step));
    return this.record(t, t + step);
  }

  /** Share of the allowed error that a step took; NaN counts as refused. */
  private errorShare(): number {
    const { op, filled } = this;
    const { error } = this.vectors;
    const { C } = op;
    const n = op.cells;
    let sum = 0;
    let worst = 0;
    for (let i = 0; i < n; i++) {
      const e = error[i] / C[i];
      const square = e * e;
      sum += square;
      if (square > worst) worst = square;
    }
    const share = Math.sqrt(Math.max(sum / filled, worst / WORST_OVER_MEAN)) / this.allowed;
    if (!op.hasCure) return share;
    let cureSum = 0;
    for (let i = n; i < n + op.qV.length; i++) cureSum += error[i] * error[i];
    return Math.max(share, Math.sqrt(cureSum / filled) / this.allowedCure);
  }

  /** Whether a temperature is outside those that the laws of the problem allow, or no number. */
  private leavesHull(): boolean {
    const { scale, op } = this;
    const slack = 2 * this.allowed;
    const low = scale.floor - slack;
    const high = scale.ceiling + slack;
    const { T, active } = op;
    const n = op.cells;
    let coldest = Number.POSITIVE_INFINITY;
    let hottest = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < n; i++) {
      if (active[i] === 0) continue;
      if (!(T[i] >= low && T[i] <= high)) return true;
      if (T[i] < coldest) coldest = T[i];
      if (T[i] > hottest) hottest = T[i];
    }
    if (coldest < this.least || hottest > this.most) op.checkTables();
    return false;
  }

  private snapshot(time: number): Snapshot {
    const { op } = this;
    const { u } = this.vectors;
    const { grid } = op;
    return {
      time,
      x: Float32Array.from(grid.x),
      y: Float32Array.from(grid.y),
      temperature: Float32Array.from(op.T),
      ...(op.hasCure ? { cure: meanCure(op, u) } : {}),
    };
  }
}

/** Cure of each cell: the mean of its regions by the heat that they set free. */
function meanCure(op: Operator, u: Float64Array): Float32Array {
  const { grid, cells: n, qV } = op;
  const out = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    let heat = qV[i];
    let released = qV[i] * u[n + i];
    const m = -1 - grid.content[i];
    if (m >= 0)
      for (let k = grid.mixStart[m] + 1; k < grid.mixStart[m + 1]; k++) {
        const r = n + k - m - 1;
        heat += qV[r];
        released += qV[r] * u[n + r];
      }
    out[i] = heat > 0 ? released / heat : 0;
  }
  return out;
}
