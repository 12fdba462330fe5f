/**
 * Marches one grid through the stages of a problem: adaptive steps, and what the probes saw on the way.
 */
import { makeStepper, RODAS4, ROS2 } from "../numerics/rosenbrock.ts";
import { NoConvergence } from "../units/problem.ts";
import { cornersOf, isMoving } from "./boundary.ts";
import type { Grid } from "./grid.ts";
import { makeWatch } from "./monitor.ts";
import { makeOperator, type Operator } from "./operator.ts";
import { makeProbeReader, type ProbeReader } from "./probes.ts";
import type { Boundary, HeatProblem, Side, Snapshot, Stage } from "./problem.ts";
import { conductivityAt, type Properties, ZERO_CELSIUS } from "./properties.ts";
import { type Marched, Recorder } from "./run-record.ts";
import type { Setting } from "./setting.ts";

/** The worst box may be this many times (squared) as far off as the mean. */
const WORST_OVER_MEAN = 36;

/** Largest ratio of conductivities in a section that ROS2 is trusted with. */
const MILD_RATIO = 20;

const INSULATED: Boundary = { kind: "insulated" };

/** Temperatures of a problem that bound its tables, steps and tolerances. */
export interface Scale {
  readonly lowest: number;
  readonly highest: number;
  /** Span with the adiabatic rise of whatever cures, K; never 0. */
  readonly span: number;
  /** Nothing releases heat and no flux comes in: T must stay between lowest and highest. */
  readonly passive: boolean;
}

export interface March {
  readonly op: Operator;
  readonly reader: ProbeReader;
  /** Temperatures of all boxes, K: read and written between runs. */
  readonly boxT: Float64Array;
  /** Runs all stages from t = 0; `fresh`: every region starts at its initial temperature, else from `boxT`. */
  run(fresh: boolean): Marched;
}

/** Largest over smallest conductivity of the materials that a problem uses, at 50 degC. */
function conductivityRatio(
  problem: HeatProblem,
  properties: ReadonlyMap<string, Properties>,
): number {
  const used = [
    problem.block?.material,
    ...(problem.shapes ?? []).map((s) => s.material),
    ...problem.stages.flatMap((s) => (s.refill ?? []).map((r) => r.material)),
  ];
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const name of used) {
    const p = name === undefined ? undefined : properties.get(name);
    if (p === undefined) continue;
    const k = conductivityAt(p, ZERO_CELSIUS + 50);
    least = Math.min(least, k);
    most = Math.max(most, k);
  }
  return most / least;
}

export function makeMarch(
  problem: HeatProblem,
  grid: Grid,
  properties: ReadonlyMap<string, Properties>,
  scale: Scale,
): March {
  const moves = [
    ...Object.values(problem.boundary),
    ...problem.stages.flatMap((s) => [...Object.values(s.boundary ?? {}), s.exposed]),
  ].some((b) => b !== undefined && isMoving(b));
  const op = makeOperator(grid, problem.materials, properties, moves);
  const n = op.boxes;
  // ROS2 is cheaper a step, but with the factored matrix it drifts where metal lies beside plastic: measured from a
  // ratio of 200 on; RODAS4 doesn't
  const highOrder =
    grid.ny === 1 ||
    op.hasCure ||
    (problem.tolerance ?? 1) < 1e-4 ||
    conductivityRatio(problem, properties) > MILD_RATIO;
  const stepper = makeStepper(op, highOrder ? RODAS4 : ROS2);
  const reader = makeProbeReader(op, problem.probes);
  const count = reader.names.length;
  const order = stepper.tableau.order;
  const tolerance = problem.tolerance ?? 1e-4;
  // shares of the tolerance for one step, tried on published cases: the error of the whole run then stays below it
  const share = op.hasCure ? 0.3 : highOrder ? 1 : 4;
  const allowed = tolerance * scale.span * share;
  const allowedCure = tolerance * share;
  let u = new Float64Array(op.size);
  let next = new Float64Array(op.size);
  // rates at the start of the step; once the step is done, at its end
  const f = new Float64Array(op.size);
  const error = new Float64Array(op.size);
  const boxT = op.T;
  const boxCure = new Float64Array(op.hasCure ? n : 0);
  const names = grid.regions;
  const wanted = Float64Array.from(problem.times ?? []).sort();
  const watch = makeWatch(problem, reader, scale.span, snapshot);
  const firstMaterial = problem.block
    ? [problem.block.material, ...(problem.shapes ?? []).map((s) => s.material)]
    : (problem.layers ?? []).map((l) => l.material);
  const firstT = problem.block
    ? [problem.block.initial, ...(problem.shapes ?? []).map((s) => s.initial)]
    : (problem.layers ?? []).map((l) => l.initial);

  function contactTable(stage: Record<string, number>): (a: number, b: number) => number {
    const pairs = problem.contacts ?? [];
    return (a, b) => {
      const [low, high] = a < b ? [a, b] : [b, a];
      for (const { between, conductance } of pairs)
        if (
          (between[0] === names[low] && between[1] === names[high]) ||
          (between[1] === names[low] && between[0] === names[high])
        )
          return conductance;
      // a layer declares its contact toward the next; of two shapes the later one covers, so its contact counts
      const owner = problem.block ? high : low;
      const own = problem.block
        ? problem.shapes?.[owner - 1]?.contact
        : problem.layers?.[owner].contact;
      return stage[names[owner]] ?? own ?? Number.POSITIVE_INFINITY;
    };
  }

  /** Share of the allowed error that a step took; NaN counts as refused. */
  function errorShare(): number {
    let sum = 0;
    let worst = 0;
    const { C } = op;
    const wrong = error;
    for (let i = 0; i < n; i++) {
      const e = wrong[i] / C[i];
      const square = e * e;
      sum += square;
      if (square > worst) worst = square;
    }
    let share = Math.sqrt(Math.max(sum / filled, worst / WORST_OVER_MEAN)) / allowed;
    if (op.hasCure) {
      let cureSum = 0;
      for (let i = n; i < 2 * n; i++) cureSum += error[i] * error[i];
      share = Math.max(share, Math.sqrt(cureSum / filled) / allowedCure);
    }
    return share;
  }

  let filled = 1;

  function leavesHull(): boolean {
    if (!scale.passive) return false;
    const slack = 2 * allowed;
    const low = scale.lowest - slack;
    const high = scale.highest + slack;
    const { T, active } = op;
    for (let i = 0; i < n; i++) if ((T[i] < low || T[i] > high) && active[i] === 1) return true;
    return false;
  }

  function run(fresh: boolean): Marched {
    const found: Marched = {
      times: wanted,
      values: reader.names.map(() => new Float64Array(wanted.length)),
      holds: reader.names.map(() => new Uint8Array(wanted.length)),
      cures: reader.names.map(() => new Float64Array(wanted.length)),
      crossings: (problem.crossings ?? []).map(() => null),
      max: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
      maxTime: new Float64Array(count),
      min: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
      minTime: new Float64Array(count),
      stageEnds: [],
      trace: new Recorder(count + 1),
      snapshots: [],
      steps: 0,
      rejected: 0,
      timeError: 0,
      imbalance: 0,
      end: 0,
      stopped: false,
    };
    const material = [...firstMaterial];
    let boundary: Record<Side, Boundary> = {
      left: problem.boundary.left ?? INSULATED,
      right: problem.boundary.right ?? INSULATED,
      top: problem.boundary.top ?? INSULATED,
      bottom: problem.boundary.bottom ?? INSULATED,
    };
    let contacts: Record<string, number> = {};
    let t = 0;
    let first = fresh;
    watch.begin(found);
    for (const stage of problem.stages) {
      boundary = { ...boundary, ...stage.boundary };
      contacts = { ...contacts, ...stage.contact };
      const newT = first
        ? [...firstT]
        : new Array<number | undefined>(names.length).fill(undefined);
      for (const refill of stage.refill ?? []) {
        const r = names.indexOf(refill.name);
        newT[r] = refill.temperature;
        if (refill.material !== undefined) material[r] = refill.material;
      }
      const absent = new Set(stage.absent ?? []);
      const setting: Setting = {
        fill: material.map((m, r) => (absent.has(names[r]) ? undefined : m)),
        boundary,
        exposed: stage.exposed ?? INSULATED,
        ends: problem.ends,
        contact: contactTable(contacts),
      };
      startStage(setting, material, newT);
      first = false;
      const stored0 = storedEnergy();
      t = marchStage(stage, boundary, t, found);
      audit(found, stored0);
      found.stageEnds.push(t);
      if (op.hasCure) boxCure.set(u.subarray(n, 2 * n));
      if (found.stopped) break;
    }
    found.end = t;
    return found;
  }

  function startStage(
    setting: Setting,
    material: readonly string[],
    newT: readonly (number | undefined)[],
  ): void {
    op.configure(setting);
    u[op.size - 1] = 0;
    for (let i = 0; i < n; i++) {
      if (!(boxT[i] > 0)) boxT[i] = scale.lowest;
      u[i] =
        op.active[i] === 1
          ? op.energyOf(i, (region) => newT[region] ?? boxT[i])
          : (newT[grid.center[i]] ?? boxT[i]) - ZERO_CELSIUS;
      if (!op.hasCure) continue;
      let cure = boxCure[i];
      newT.forEach((T, region) => {
        const c = problem.materials[material[region]].cure;
        if (T !== undefined && c && grid.content[i] === region) cure = c.initial;
        else if (T !== undefined && c && grid.content[i] < 0 && op.qV[i] > 0) cure = c.initial;
      });
      u[n + i] = op.qV[i] > 0 ? cure : 0;
    }
    op.refresh(u);
    filled = op.active.reduce((sum, a) => sum + a, 0);
  }

  function storedEnergy(): number {
    let sum = 0;
    for (let i = 0; i < n; i++) if (op.active[i] === 1) sum += u[i];
    return sum;
  }

  let released0 = 0;
  function releasedEnergy(): number {
    if (!op.hasCure) return 0;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += op.qV[i] * u[n + i];
    return sum;
  }

  function audit(found: Marched, stored0: number): void {
    const stored = storedEnergy() - stored0;
    const incoming = u[op.size - 1];
    const released = releasedEnergy() - released0;
    let content = 0;
    for (let i = 0; i < n; i++) if (op.active[i] === 1) content += op.C[i];
    const size = Math.max(
      Math.abs(stored),
      Math.abs(incoming),
      Math.abs(released),
      1e-4 * content * scale.span,
    );
    found.imbalance = Math.max(found.imbalance, Math.abs(stored - incoming - released) / size);
  }

  function marchStage(
    stage: Stage,
    boundary: Readonly<Record<Side, Boundary>>,
    start: number,
    found: Marched,
  ): number {
    let t = start;
    const { stop, lasts } = stage;
    const until = lasts === undefined ? stage.until : Math.min(stage.until, start + lasts);
    const corners = [...Object.values(boundary), stage.exposed ?? INSULATED]
      .flatMap(cornersOf)
      .concat(problem.snapshots ?? [])
      .filter((c) => c > start && c < until)
      .sort((a, b) => a - b);
    let corner = 0;
    op.rates(t, u, f);
    released0 = releasedEnergy();
    watch.startStage(t, u, f);
    let fastest = 0;
    for (let i = 0; i < n; i++) {
      const rate = Math.abs(f[i] / op.C[i]);
      if (rate > fastest) fastest = rate;
    }
    let h = fastest > 0 ? Math.min((0.02 * scale.span) / fastest, until - t) : (until - t) / 50;
    let growth = 6;
    let tries = 0;
    let lastShare = 0;
    let lastStep = 0;
    while (t < until * (1 - 1e-14)) {
      if (problem.shouldStop?.() === true) {
        found.stopped = true;
        return t;
      }
      while (corner < corners.length && corners[corner] <= t * (1 + 1e-12)) corner++;
      const wall = corner < corners.length ? corners[corner] : until;
      const left = wall - t;
      // two equal steps rather than one long and one tiny
      let step = h >= left ? left : Math.min(h, 0.5 * left);
      if (step < 1e-12 * (t + 1e-3)) step = Math.min(left, 1e-12 * (t + 1e-3));
      op.linearize(t, u);
      for (;;) {
        tries++;
        const done = stepper.step(t, step, u, f, next, error);
        const share = done ? errorShare() : Number.POSITIVE_INFINITY;
        let fine = share <= 1;
        if (fine) {
          op.rates(t + step, next, f);
          if (leavesHull()) fine = false;
        }
        const factor =
          share < Number.POSITIVE_INFINITY && share >= 0 ? 0.88 * share ** (-1 / order) : 0.25;
        if (fine) {
          // a runaway needs ever shorter steps: carry on the trend of the last two errors
          const trend =
            lastStep > 0 && share > 1e-3
              ? factor * (step / lastStep) * (lastShare / share) ** (1 / order)
              : factor;
          h = step * Math.min(growth, Math.max(0.3, Math.min(factor, trend)));
          lastShare = Math.max(share, 1e-3);
          lastStep = step;
          growth = 6;
          tries = 0;
          found.timeError += share * allowed;
          break;
        }
        found.rejected++;
        growth = 1.5;
        step *= Math.min(0.5, Math.max(0.1, factor));
        if (tries > 60 || !(step > 1e-14 * (t + 1e-6)))
          throw new NoConvergence("time step", t, tries, share);
        // rates of the refused end have moved the boundary values: take them again for the base
        op.rates(t, u, f);
        op.linearize(t, u);
      }
      let end = wall - t - step <= 1e-12 * wall ? wall : t + step;
      watch.look(end - t, next, f);
      found.steps++;
      const s = stop ? watch.stopIn(stop, end - t) : -1;
      if (s === 0) return t;
      if (s > 0) {
        const exactStep = s * (end - t);
        op.rates(t, u, f);
        op.linearize(t, u);
        if (exactStep > 0 && stepper.step(t, exactStep, u, f, next, error)) {
          end = t + exactStep;
          op.rates(end, next, f);
          watch.look(exactStep, next, f);
        }
      }
      watch.take(t, end);
      t = end;
      [u, next] = [next, u];
      if (s > 0) return t;
    }
    return t;
  }

  function snapshot(time: number): Snapshot {
    return {
      time,
      x: Float32Array.from(grid.x),
      y: Float32Array.from(grid.y),
      temperature: Float32Array.from(op.T),
      ...(op.hasCure ? { cure: Float32Array.from(u.subarray(n, 2 * n)) } : {}),
    };
  }

  return { op, reader, boxT, run };
}
