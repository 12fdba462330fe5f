import type { Problem } from "../units/problem.ts";
import { InputError } from "../units/problem.ts";
import { checkHeatProblem } from "./check.ts";
import { makeGrid } from "./grid.ts";
import { makeMarch, type Scale } from "./integrator.ts";
import type {
  Boundary,
  CrossingFound,
  Extreme,
  HeatProblem,
  History,
  OverTime,
} from "./problem.ts";
import { type Properties, propertiesOf } from "./properties.ts";
import type { Marched } from "./run-record.ts";
import { foldSymmetric } from "./symmetry.ts";

/**
 * Solves a heat problem: c(T) dT/dt = div(k(T) grad T) + rho H d(cure)/dt through all its stages.
 *
 * Two exactly nested grids are run; what is reported is extrapolated from both, and their difference is the
 * estimate of the error that the grid leaves. A `tolerance` that is given governs time steps and grid: grids are halved
 * until the estimate is within it. With `estimateGrid: false` only the finer grid is run.
 *
 * @param problem SI and K; see `HeatProblem`
 * @returns the history: probes in K at the wanted times, crossings, extremes, energy audit
 * @throws InputError with every problem of the input at once
 * @throws NoConvergence when the steps shrink without end
 * @example simulate(readSolveProblem({ frame: "slab", materials: { m: { conductivity: 1, density: 1000, specificHeat:
 * 1000 } }, layers: [{ name: "plate", material: "m", thickness: 0.02, initial: 100 }], boundary: { left: {
 * temperature: 0 }, right: { temperature: 0 } }, until: 100, times: [100], probes: { mid: [0.01] } })).probes.mid[0] // 283.9
 */
export function simulate(problem: HeatProblem): History {
  const problems: Problem[] = checkHeatProblem(problem);
  if (problems.length > 0) throw new InputError(problems);
  const { problem: folded, unfold } = foldSymmetric(problem);
  const scale = scaleOf(problem);
  const properties = new Map<string, Properties>();
  for (const [name, material] of Object.entries(problem.materials))
    properties.set(name, propertiesOf(material, scale.lowest - 10, scale.highest + 10));
  const run = (finer: number): [Marched, number] => {
    const march = makeMarch(folded, makeGrid(folded, finer), properties, scale);
    return [march.run(true), march.op.boxes];
  };
  let coarse = problem.estimateGrid === false ? undefined : run(0);
  let fine = run(1);
  let boxes = fine[1] + (coarse?.[1] ?? 0);
  if (coarse && problem.tolerance !== undefined) {
    // a tolerance that was given governs the grid as well: halve it until two grids agree well enough
    const most = problem.block ? MOST_BOXES_2D : MOST_BOXES_1D;
    const growth = problem.block ? 4 : 2;
    for (let finer = 2; finer <= DEEPEST && fine[1] * growth <= most; finer++) {
      const apart = gridDistance(problem, fine[0], coarse[0]);
      if (!(apart > problem.tolerance * scale.span)) break;
      coarse = fine;
      fine = run(finer);
      boxes += fine[1];
    }
  }
  const history = merge(problem, Object.keys(problem.probes), fine[0], coarse?.[0], boxes);
  return { ...history, snapshots: history.snapshots.map(unfold) };
}

/** Span of temperatures that a problem names, and what curing may add. */
export function scaleOf(problem: HeatProblem): Scale {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let passive = true;
  const see = (T: number) => {
    lowest = Math.min(lowest, T);
    highest = Math.max(highest, T);
  };
  const end = problem.stages[problem.stages.length - 1]?.until ?? 0;
  const seeLaw = (law: OverTime) => {
    if (typeof law === "number") see(law);
    else if (typeof law === "object") law.value.forEach(see);
    else for (let k = 0; k <= 64; k++) see(law((end * k) / 64));
  };
  const seeBoundary = (b: Boundary | undefined) => {
    if (b === undefined) return;
    if (b.kind === "held") seeLaw(b.temperature);
    else if (b.kind === "exchange") seeLaw(b.ambient);
    else if (b.kind === "flux" && !(b.flux === 0)) passive = false;
  };
  if (problem.block) see(problem.block.initial);
  for (const part of problem.layers ?? problem.shapes ?? []) see(part.initial);
  Object.values(problem.boundary).forEach(seeBoundary);
  if (problem.ends) see(problem.ends.ambient);
  for (const stage of problem.stages) {
    Object.values(stage.boundary ?? {}).forEach(seeBoundary);
    seeBoundary(stage.exposed);
    for (const r of stage.refill ?? []) see(r.temperature);
  }
  let rise = 0;
  for (const m of Object.values(problem.materials)) {
    if (m.source) passive = false;
    if (m.cure) {
      passive = false;
      const p = propertiesOf(m, lowest, highest);
      const c = p.constantCapacity ? p.c : p.cTable[p.last >> 1];
      rise = Math.max(rise, (p.density * m.cure.heat) / c);
    }
  }
  // a flux or a source alone sets no span of its own: a few kelvin then
  const span = Math.max(highest - lowest, 0.5 * rise);
  return { lowest, highest: highest + rise, span: span > 1e-9 ? span : 1, passive };
}

/** Where halving ends. */
const MOST_BOXES_1D = 3000;
const MOST_BOXES_2D = 25_000;
const DEEPEST = 6;
/** Extrapolation from two grids is better than the finer one by at least this (measured: 4 to 20). */
const GAIN = 4;

/** Error that extrapolation from two grids leaves in the values at the wanted times, estimated, K. */
function gridDistance(problem: HeatProblem, fine: Marched, coarse: Marched): number {
  const w = 1 / (2 ** gridOrder(problem) - 1) / GAIN;
  let apart = 0;
  fine.values.forEach((values, p) => {
    values.forEach((v, k) => {
      apart = Math.max(apart, w * Math.abs(v - coarse.values[p][k]));
    });
  });
  return apart;
}

/** Smooth outlines are cut with an order of about 1.75 (measured), everything along the grid with order 2. */
function gridOrder(problem: HeatProblem): number {
  const curved = (problem.shapes ?? []).some((s) => s.outline.kind !== "rectangle");
  return curved ? 1.75 : 2;
}

/** One history from two nested grids; from the finer alone where `coarse` is undefined. */
export function merge(
  problem: HeatProblem,
  names: readonly string[],
  fine: Marched,
  coarse: Marched | undefined,
  boxes: number,
): History {
  const w = coarse ? 1 / (2 ** gridOrder(problem) - 1) : 0;
  const better = (f: number, c: number) => f + w * (f - c);
  let gridError = 0;
  const probes: Record<string, Float64Array> = {};
  const cure: Record<string, Float64Array> = {};
  const extremes: Record<string, Extreme> = {};
  const holds: Record<string, Uint8Array> = {};
  const cures = Object.values(problem.materials).some((m) => m.cure);
  names.forEach((name, p) => {
    const values = fine.values[p];
    const other = coarse?.values[p];
    probes[name] = values.map((v, k) => {
      if (!other) return v;
      gridError = Math.max(gridError, Math.abs(w * (v - other[k])));
      return better(v, other[k]);
    });
    if (cures && fine.cures[p].some((a) => a !== 0)) {
      const b = coarse?.cures[p];
      cure[name] = fine.cures[p].map((a, k) => {
        const best = b ? better(a, b[k]) : a;
        // extrapolation may overshoot where cure levels off: the finer grid's own value is inside
        return best >= 0 && best <= 1 ? best : a;
      });
    }
    const close = (f: number, c: number | undefined, end: number) =>
      c !== undefined && Math.abs(f - c) < 0.05 * end ? better(f, c) : f;
    // a peak is not carried over a refill: it stays in the stage in which the finer grid has it
    const inner = (time: number, c: number | undefined) => {
      if (!(time > 0 && time < fine.end)) return time;
      const from = fine.stageEnds.findLast((end) => end <= time) ?? 0;
      const to = fine.stageEnds.find((end) => end > time) ?? fine.end;
      return Math.min(to, Math.max(from, close(time, c, time)));
    };
    holds[name] = fine.holds[p];
    if (fine.max[p] < fine.min[p]) {
      // its place was empty all the time
      extremes[name] = { max: fine.max[p], maxTime: 0, min: fine.min[p], minTime: 0 };
      return;
    }
    extremes[name] = {
      max: coarse ? better(fine.max[p], coarse.max[p]) : fine.max[p],
      maxTime: inner(fine.maxTime[p], coarse?.maxTime[p]),
      min: coarse ? better(fine.min[p], coarse.min[p]) : fine.min[p],
      minTime: inner(fine.minTime[p], coarse?.minTime[p]),
    };
    if (coarse) gridError = Math.max(gridError, Math.abs(w * (fine.max[p] - coarse.max[p])));
  });
  const crossings = (problem.crossings ?? []).map((c, k): CrossingFound => {
    const f = fine.crossings[k];
    const other = coarse?.crossings[k];
    const time = f !== null && other !== null && other !== undefined ? better(f, other) : f;
    const error =
      f !== null && other !== null && other !== undefined ? Math.abs(w * (f - other)) : 0;
    return { ...c, time, error };
  });
  const stageEnds = fine.stageEnds.map((e, k) => {
    const other = coarse?.stageEnds[k];
    return other === undefined ? e : better(e, other);
  });
  const columns: Record<string, Float64Array> = {};
  names.forEach((name, p) => {
    columns[name] = fine.trace.column(p + 1);
  });
  return {
    end: stageEnds[stageEnds.length - 1] ?? fine.end,
    stageEnds,
    times: fine.times,
    probes,
    holds,
    cure,
    extremes,
    crossings,
    trace: { times: fine.trace.column(0), probes: columns },
    snapshots: fine.snapshots,
    effort: {
      cells: boxes,
      steps: fine.steps + (coarse?.steps ?? 0),
      rejected: fine.rejected + (coarse?.rejected ?? 0),
      energyImbalance: Math.max(fine.imbalance, coarse?.imbalance ?? 0),
      timeError: fine.timeError,
      gridError,
    },
    stopped: fine.stopped,
  };
}
