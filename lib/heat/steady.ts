/**
 * The steady state of a problem on one grid, without the way to it: Newton's method on what flows into every cell, each turn
 * one solution of the unsplit linear equations.
 *
 * Laws of the temperature and radiation take some turns, constant properties one.
 */
import { InputError, NoConvergence, type Problem } from "../units/problem.ts";
import { isMoving } from "./boundary.ts";
import type { Grid } from "./grid-type.ts";
import { makeOperator, type Operator } from "./operator.ts";
import { makeProbeReader, makeProbeValues } from "./probes.ts";
import type { HeatProblem } from "./problem.ts";
import type { Properties } from "./properties.ts";
import { makeRunRecord, type RunRecord } from "./run-record.ts";
import type { Scale } from "./scale.ts";
import { SIDES } from "./setting.ts";
import { stageSetups } from "./stage-setups.ts";

const MOST_TURNS = 60;
/** Share of the span by which the last turn may still move a cell. */
const STILL = 1e-11;
/** Length of the implicit step that a turn is, s: nothing is stored over it. */
const FOREVER = 1e15;
/** Share of all flows by which what comes in may differ from what goes out. */
const MOST_IMBALANCE = 1e-6;

/** What has no steady state, or no meaning in one. */
export function checkSteady(problem: HeatProblem): Problem[] {
  const { boundary, crossings = [], ends, materials, snapshots = [], stages, times = [] } = problem;
  const found: Problem[] = [];
  const meaningless = (path: string) => {
    found.push({ code: "not_steady", path });
  };
  if (stages.length > 1 || stages.some((s) => s.stop || s.absent || s.refill || s.boundary))
    meaningless("stages");
  if (times.length > 0) meaningless("times");
  if (crossings.length > 0) meaningless("crossings");
  if (snapshots.length > 0) meaningless("snapshots");
  for (const [name, material] of Object.entries(materials))
    if (material.cure) meaningless(`materials.${name}.cure`);
  for (const [side, b] of Object.entries(boundary))
    if (isMoving(b)) meaningless(`boundary.${side}`);
  const bound = Object.values(boundary).some(
    (b) => b.kind === "held" || (b.kind === "exchange" && (b.h !== 0 || (b.emissivity ?? 0) > 0)),
  );
  if (!bound && ends === undefined) found.push({ code: "no_steady_state", path: "boundary" });
  return found;
}

/**
 * @returns a record without times: probes as extremes, flows through the sides
 * @throws NoConvergence when the turns do not settle
 */
export function steadyRun(
  problem: HeatProblem,
  grid: Grid,
  properties: ReadonlyMap<string, Properties>,
  scale: Scale,
): RunRecord {
  const op = makeOperator(grid, problem.materials, properties, false);
  op.solveDirectly(true);
  const reader = makeProbeReader(op, problem.probes);
  const found = makeRunRecord(problem, reader.names, scale.span);
  const [setup] = stageSetups(problem, grid.regions, true);
  op.configure(setup.setting);
  const u = new Float64Array(op.size);
  const flow = new Float64Array(op.size);
  // between the ends at first: everything lies not far from there
  op.energies(setup.newT, new Float64Array(op.cells).fill(scale.lowest), u);
  op.refresh(u);
  op.rates(0, u, flow);
  found.steps = settle(op, u, flow, scale.span);
  op.checkTables();
  const values = makeProbeValues(reader.names.length);
  reader.read(u, flow, values, Number.POSITIVE_INFINITY);
  found.max.set(values.value);
  found.min.set(values.value);
  const flows = SIDES.map((_, side) => op.inflow(side));
  found.flows.push(...flows);
  const through = flows.reduce((sum, q) => sum + Math.abs(q), 0);
  let left = 0;
  for (let i = 0; i < op.cells; i++) left += flow[i];
  found.imbalance = through > 0 ? Math.abs(left) / through : 0;
  if (!(found.imbalance <= MOST_IMBALANCE))
    throw new NoConvergence("energy balance", 0, found.steps, found.imbalance);
  return found;
}

/** Turns until nothing moves; returns how many. */
function settle(op: Operator, u: Float64Array, flow: Float64Array, span: number): number {
  for (let turn = 1; turn <= MOST_TURNS; turn++) {
    op.linearize(0, u);
    if (!op.factor(FOREVER)) throw new InputError([{ code: "no_steady_state", path: "boundary" }]);
    op.solve(flow);
    let moved = 0;
    for (let i = 0; i < op.cells; i++) {
      moved = Math.max(moved, Math.abs(flow[i] / op.C[i]));
      u[i] += flow[i];
    }
    op.rates(0, u, flow);
    if (!(moved < Number.POSITIVE_INFINITY)) break;
    // the conductances are those of the last turn: small moves end it, not the first
    if (moved <= STILL * span + 1e-9) return turn;
  }
  throw new NoConvergence("steady state", 0, MOST_TURNS, Math.abs(flow[0]));
}
