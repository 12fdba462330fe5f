/** What the integration of one grid finds: values at the wanted times, crossings, extremes, the trace. */
import type { HeatProblem, Snapshot } from "./problem.ts";
import { Trace } from "./trace.ts";

/** What one grid found; times in s, temperatures in K. */
export interface RunRecord {
  readonly times: Float64Array;
  readonly values: readonly Float64Array[];
  readonly cures: readonly Float64Array[];
  /** 1 at each of `times` where the probe's place held something, else 0. */
  readonly holds: readonly Uint8Array[];
  readonly crossings: (number | null)[];
  /** Slope of the probe at each crossing, K/s. */
  readonly crossingSlopes: Float64Array;
  /** Error of the probe at each crossing that the time steps leave, K. */
  readonly crossingErrors: Float64Array;
  readonly max: Float64Array;
  readonly maxTime: Float64Array;
  readonly min: Float64Array;
  readonly minTime: Float64Array;
  /** Extremes of what a probe read at the first instants of the stages: the bodies', no grid's. */
  readonly startMax: Float64Array;
  readonly startMin: Float64Array;
  /** Error of the maximum and of the minimum that the time steps leave where something cures, K. */
  readonly maxError: Float64Array;
  readonly minError: Float64Array;
  /** 1 for a probe that reads a cell cut by an outline alone, while temperatures change. */
  readonly isCut: Uint8Array;
  /** 1 for the mean of a region, while temperatures change. */
  readonly isMean: Uint8Array;
  readonly stageEnds: number[];
  readonly trace: Trace;
  readonly snapshots: Snapshot[];
  /** Of a steady state: into the body through each side, W. */
  readonly flows: number[];
  steps: number;
  rejected: number;
  timeError: number;
  imbalance: number;
  /** What a front of reaction leaves open that is narrower than the cells, K. */
  frontError: number;
  end: number;
  stopped: boolean;
}

/**
 * An empty record for the probes of a problem.
 *
 * @param span of the temperatures that can occur, K
 */
export function makeRunRecord(
  problem: HeatProblem,
  names: readonly string[],
  span: number,
): RunRecord {
  const times = new Float64Array(problem.times ?? []).sort();
  const count = names.length;
  return {
    times,
    values: names.map(() => new Float64Array(times.length)),
    holds: names.map(() => new Uint8Array(times.length)),
    cures: names.map(() => new Float64Array(times.length)),
    crossings: (problem.crossings ?? []).map(() => null),
    crossingSlopes: new Float64Array(problem.crossings?.length ?? 0),
    crossingErrors: new Float64Array(problem.crossings?.length ?? 0),
    max: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
    maxTime: new Float64Array(count),
    min: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
    minTime: new Float64Array(count),
    startMax: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
    startMin: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
    maxError: new Float64Array(count),
    minError: new Float64Array(count),
    isCut: new Uint8Array(count),
    isMean: new Uint8Array(count),
    stageEnds: [],
    trace: new Trace(count, span),
    snapshots: [],
    flows: [],
    steps: 0,
    rejected: 0,
    timeError: 0,
    imbalance: 0,
    frontError: 0,
    end: 0,
    stopped: false,
  };
}
