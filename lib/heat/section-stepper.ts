/**
 * Steps of a section in one of two ways: the implicit matrix factored by its axes, cheap and good where cells exchange
 * little heat during a step, or solved as it is, dearer and good for any contrast.
 *
 * Where conductivities differ much the factored matrix leaves errors along metal that no single step shows (measured:
 * 1 K in a shell of aluminum, in 50 times the steps), so those sections are solved as they are from the start. All others
 * begin factored. Who takes many steps is tried the other way for a few, and goes on with what gets further for its
 * work; the clock is never asked, so that the same problem takes the same steps.
 */
import { gridCholeskyCost } from "../numerics/grid-cholesky.ts";
import { makeStepper, type Stepper, type Tableau } from "../numerics/rosenbrock.ts";
import type { Operator } from "./operator.ts";

/** Work of one stage on one cell besides the linear solution, in multiply-adds of the direct one (measured). */
const STAGE_WORK = 18;
/** Steps before the first trial: a section without contrast is done by then. */
const FIRST_TRIAL = 150;
/** What runs away takes many short steps, and not for the matrix: it is tried when they are far more. */
const FIRST_TRIAL_CURING = 600;
/**
 * Tries of one step after which the matrix is factored no more: what it leaves in stiff cells grows from step to step there
 * (measured: in a section of thin skins RODAS4 took three times the steps).
 */
const MOST_REFUSED = 2;
/** Steps of a trial, and steps before it that it is compared with. */
const TRIAL = 12;

/**
 * @param op of a grid with more than one row
 * @param contrast whether conductivities differ so much that the factored matrix is not to be trusted
 */
export function makeSectionStepper(op: Operator, tableau: Tableau, contrast: boolean): Stepper {
  const stepper = makeStepper(op, tableau);
  const { grid } = op;
  const cells = grid.nx * grid.ny;
  const { stages } = tableau;
  if (contrast) {
    op.solveDirectly(true);
    return stepper;
  }
  /** How many times as much a direct step is; counted when it is asked for, which few runs do. */
  function dearer(): number {
    const cost = gridCholeskyCost(grid.nx, grid.ny);
    return 1 + (cost.work + 2 * stages * cost.entries) / (STAGE_WORK * stages * cells);
  }
  let trialAt = op.hasCure ? FIRST_TRIAL_CURING : FIRST_TRIAL;
  let calls = 0;
  let markT = 0;
  let before = 0;
  let settled = false;
  let lastT = Number.NaN;
  let refused = 0;

  /** Called before each try of a step: goes over to the other way and back. */
  function choose(t: number): void {
    calls++;
    refused = t === lastT ? refused + 1 : 0;
    lastT = t;
    // a reaction that runs away has its steps refused, too, and not for the matrix
    if (refused >= MOST_REFUSED && !op.hasCure) {
      settled = true;
      op.solveDirectly(true);
      return;
    }
    if (calls === trialAt - TRIAL) markT = t;
    else if (calls === trialAt) {
      before = t - markT;
      markT = t;
      op.solveDirectly(true);
    } else if (calls === trialAt + TRIAL) {
      settled = t - markT > dearer() * before;
      if (settled) return;
      op.solveDirectly(false);
      trialAt *= 2;
    }
  }

  return {
    tableau,
    step(t, h, vectors) {
      if (!settled) choose(t);
      return stepper.step(t, h, vectors);
    },
    carry: (h, offset) => stepper.carry(h, offset),
    endSlope: (h) => stepper.endSlope(h),
  };
}
