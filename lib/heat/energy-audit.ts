/** The energy audit of a stage: what the cells store more, against what came in and what curing released. */
import { NoConvergence } from "../units/problem.ts";
import type { Operator } from "./operator.ts";

/** A stage that moves less than this share of the heat held over the span is judged against that share. */
const LEAST_SHARE = 1e-4;

export interface EnergyAudit {
  /** The stage begins with this state. */
  begin(u: Float64Array): void;
  /** (stored - in - released) since `begin`, over the largest of the three. */
  imbalance(u: Float64Array): number;
}

/** Largest share of energy that may come from nowhere in a stage. */
const MOST_IMBALANCE = 1e-6;

/**
 * Energy that comes from nowhere is a failure and no answer.
 *
 * @throws NoConvergence where too much of it does, or where that is no number
 */
export function mustClose(imbalance: number, t: number, steps: number): void {
  if (!(imbalance <= MOST_IMBALANCE))
    throw new NoConvergence("energy balance", t, steps, imbalance);
}

/** @param span of the temperatures that can occur, K */
export function makeEnergyAudit(op: Operator, span: number): EnergyAudit {
  const n = op.cells;
  let stored0 = 0;
  let released0 = 0;

  function storedEnergy(u: Float64Array): number {
    let sum = 0;
    for (let i = 0; i < n; i++) if (op.active[i] === 1) sum += u[i];
    return sum;
  }

  function releasedEnergy(u: Float64Array): number {
    if (!op.hasCure) return 0;
    let sum = 0;
    for (let r = 0; r < op.qV.length; r++) sum += op.qV[r] * u[n + r];
    return sum;
  }

  return {
    begin(u) {
      stored0 = storedEnergy(u);
      released0 = releasedEnergy(u);
    },
    imbalance(u) {
      const stored = storedEnergy(u) - stored0;
      const incoming = u[op.size - 1];
      const released = releasedEnergy(u) - released0;
      let content = 0;
      for (let i = 0; i < n; i++) if (op.active[i] === 1) content += op.C[i];
      const size = Math.max(
        Math.abs(stored),
        Math.abs(incoming),
        Math.abs(released),
        LEAST_SHARE * content * span,
      );
      return Math.abs(stored - incoming - released) / size;
    },
  };
}
