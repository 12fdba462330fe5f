/** Temperatures of a problem that bound its tables, steps and tolerances. */
import { turnsOf } from "./law-times.ts";
import type { Boundary, HeatProblem, OverTime } from "./problem.ts";
import { propertiesOf } from "./properties.ts";

export interface Scale {
  readonly lowest: number;
  readonly highest: number;
  /** The highest that the problem names: without what curing adds. */
  readonly named: number;
  /** Span with the adiabatic rise of whatever cures, K; never 0. */
  readonly span: number;
  /** Bounds that the laws set to every temperature, K: those named where nothing releases heat and no flux comes in. */
  readonly floor: number;
  readonly ceiling: number;
}

/** Span of temperatures that a problem names, and what curing may add. */
export function scaleOf(problem: HeatProblem): Scale {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let driven = false;
  const see = (T: number) => {
    lowest = Math.min(lowest, T);
    highest = Math.max(highest, T);
  };
  const end = problem.stages[problem.stages.length - 1]?.until ?? 0;
  const seeLaw = (law: OverTime) => {
    if (typeof law === "number") see(law);
    else if (typeof law === "object") law.value.forEach(see);
    else {
      for (let k = 0; k <= 64; k++) see(law((end * k) / 64));
      for (const t of turnsOf(law, 0, end)) {
        see(law(t));
        see(law(t * (1 - 1e-12)));
      }
    }
  };
  const seeBoundary = (b: Boundary | undefined) => {
    if (b === undefined) return;
    if (b.kind === "held") seeLaw(b.temperature);
    else if (b.kind === "exchange") seeLaw(b.ambient);
    else if (b.kind === "flux" && !(b.flux === 0)) driven = true;
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
    if (m.source) driven = true;
    if (m.cure) {
      const p = propertiesOf(m, lowest, highest);
      const c = p.constantCapacity ? p.c : p.cTable[p.last >> 1];
      rise = Math.max(rise, (p.density * m.cure.heat) / c);
    }
  }
  // a flux or a source alone sets no span of its own: a few kelvin then
  const span = Math.max(highest - lowest, 0.5 * rise);
  // a body that its neighbors heat before it cures may go beyond its own adiabatic rise, but not by several of them
  const bounded = rise > 0 ? { floor: lowest, ceiling: highest + 4 * rise } : undefined;
  const open = { floor: 0, ceiling: Number.POSITIVE_INFINITY };
  const bounds = driven ? open : (bounded ?? { floor: lowest, ceiling: highest });
  return {
    lowest,
    named: highest,
    highest: highest + rise,
    span: span > 1e-9 ? span : 1,
    ...bounds,
  };
}
