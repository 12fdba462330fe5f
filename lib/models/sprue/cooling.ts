/**
 * Hot plastic that fills a round or a flat hollow of the mold at once, and cools there: sprue, gate, body, tail.
 *
 * Symbols: T K, t s, lengths m.
 */
import type { Effort, HeatProblem, Snapshot } from "../../heat/problem.ts";
import { simulate } from "../../heat/simulate.ts";
import { barModel, type StandIn } from "../bait/bar.ts";
import { DRAFTING, SEARCHING } from "../cooling.ts";
import type { Scenario } from "../scenario.ts";
import { withMold } from "../start.ts";

export interface CoolingOptions {
  /** One grid only: for searches and ranges. */
  readonly quick?: boolean;
  /** Members of a range: coarser still than `quick`. */
  readonly draft?: boolean;
  readonly shouldStop?: () => boolean;
}

/** One number of the hollow that is watched. */
type Watched = "center" | "mean" | "skin";

/** Nothing of this trade takes longer to set: what is not cold by then never is, s. */
export const LONGEST_SETTING = 2 * 3600;

/** The hollow in its wall, from the moment it is full. */
export function hollowProblem(
  scenario: Scenario,
  hollow: StandIn,
  { quick, draft, shouldStop }: CoolingOptions = {},
): Omit<HeatProblem, "stages"> {
  const { problem } = barModel(scenario, hollow);
  return {
    ...problem,
    probes: { ...problem.probes, center: { kind: "point", x: 0 } },
    ...(quick && (draft ? DRAFTING : SEARCHING)),
    ...(shouldStop && { shouldStop }),
  };
}

/** The same with both mold halves at this temperature. */
export function warmed(scenario: Scenario, temperature: number): Scenario {
  return { ...scenario, job: withMold(scenario.job, temperature) };
}

interface Reached {
  /** s; Infinity: never. */
  readonly time: number;
  readonly effort: Effort;
}

/** The hollow until center, mean or skin of it falls below a temperature: its first crossing. */
export function closingProblem(
  scenario: Scenario,
  hollow: StandIn,
  watched: Watched,
  below: number,
  options?: CoolingOptions,
): HeatProblem {
  return {
    ...hollowProblem(scenario, hollow, options),
    // on past the crossing by a little: both grids have to meet it
    stages: [{ until: LONGEST_SETTING, stop: { probe: watched, below: below - 0.5 } }],
    crossings: [{ probe: watched, below }],
  };
}

/** Time until center, mean or skin of the hollow falls below a temperature. */
export function timeBelow(
  scenario: Scenario,
  hollow: StandIn,
  watched: Watched,
  below: number,
  options?: CoolingOptions,
): Reached {
  const { crossings, effort } = simulate(closingProblem(scenario, hollow, watched, below, options));
  return { time: crossings[0].time ?? Number.POSITIVE_INFINITY, effort };
}

/** State of a hollow at some times. */
interface HollowState {
  readonly effort: Effort;
  readonly mean: Float64Array;
  readonly center: Float64Array;
  /** Its field as thin shells, at each of the times. */
  readonly shells: readonly Shells[];
}

/** Share of the volume, and temperature, of thin shells or small pieces of a body. */
export interface Shells {
  readonly share: Float64Array;
  readonly T: Float64Array;
}

/** The hollow at these times, s, rising and above 0. */
export function stateAt(
  scenario: Scenario,
  hollow: StandIn,
  times: readonly number[],
  options?: CoolingOptions,
): HollowState {
  const { probes, snapshots, effort } = simulate({
    ...hollowProblem(scenario, hollow, options),
    stages: [{ until: times[times.length - 1] }],
    times,
    snapshots: times,
  });
  return {
    mean: probes["mean"],
    center: probes["center"],
    shells: snapshots.map((snapshot) => shellsOf(snapshot, hollow)),
    effort,
  };
}

const PARTS = 8;

/** Cuts the cells of a 1-D field into shells; the temperature runs straight between the middles of the cells. */
function shellsOf({ x, temperature }: Snapshot, { form, across }: StandIn): Shells {
  const half = across / 2;
  const n = cellsWithin(x, half);
  const share = new Float64Array(n * PARTS);
  const T = new Float64Array(n * PARTS);
  const volumeWithin = (r: number) => (form === "round" ? (r / half) ** 2 : r / half);
  const middle = (i: number) => (x[i] + x[i + 1]) / 2;
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < PARTS; k++) {
      const inner = x[i] + ((x[i + 1] - x[i]) * k) / PARTS;
      const outer = x[i] + ((x[i + 1] - x[i]) * (k + 1)) / PARTS;
      const r = (inner + outer) / 2;
      // between this cell and the next one toward r; at the wall the line is drawn on
      const j = r >= middle(i) ? Math.min(i, n - 2) : Math.max(i - 1, 0);
      const slope = (temperature[j + 1] - temperature[j]) / (middle(j + 1) - middle(j));
      // left of the first middle the field is flat: the center is a mirror
      const toward = r < middle(0) ? 0 : r - middle(j);
      share[i * PARTS + k] = volumeWithin(outer) - volumeWithin(inner);
      T[i * PARTS + k] = temperature[j] + slope * toward;
    }
  }
  return { share, T };
}

function cellsWithin(x: ArrayLike<number>, half: number): number {
  let n = 0;
  while (n + 1 < x.length && x[n + 1] <= half * (1 + 1e-6)) n++;
  return n;
}
