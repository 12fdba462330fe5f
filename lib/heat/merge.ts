/** One history from the runs of two nested grids, extrapolated; from the finer alone where there is no other. */
import type {
  CrossingFound,
  Effort,
  Extreme,
  HeatProblem,
  History,
  Side,
  Snapshot,
} from "./problem.ts";
import type { RunRecord } from "./run-record.ts";
import { SIDES } from "./setting.ts";

/** Smooth outlines are cut with an order of about 1.75 (measured), everything along the grid with order 2. */
export function gridOrder(problem: HeatProblem): number {
  const curved = (problem.shapes ?? []).some((s) => s.outline.kind !== "rectangle");
  return curved ? 1.75 : 2;
}

/** The last runs of a problem on nested grids, each half as fine as the one before, and the weight of their difference. */
export interface Nested {
  readonly fine: RunRecord;
  readonly coarse: RunRecord | undefined;
  readonly coarsest: RunRecord | undefined;
  readonly w: number;
  /** What is left open: of three grids shares of the last move and difference, for a crossing a share of what is said of a value. */
  readonly open: {
    readonly move: number;
    readonly difference: number;
    readonly crossing: { readonly two: number; readonly three: number };
  };
}

/**
 * Convergence falls behind its order where cells are still large or the field has a corner: of first order the error left
 * would be twice the weighted difference of two grids, of the order taken none of it (measured on random problems:
 * beyond 1.6 times in one of twenty).
 */
const DOUBT = 1.6;

/**
 * What three grids leave open, as shares of what the last halving moved the extrapolated value by, and of the difference of the
 * last two grids: that the value did not move may be chance. Each halving beyond the third grid makes the latter share
 * four times smaller, as errors of the next order are. The worst of many values is beyond its estimate more often than a
 * crossing, which stands for itself; outlines cut cells anew on each grid. Chosen on random problems, held against others: a
 * single value with an error of either sign, as likely as a bell has it, is below what is said in 95 of 100 cases where that is
 * twice its spread, and above a tenth of it in 84 of them at best.
 */
const LEFT_OPEN = {
  row: { move: 0.62, difference: 0.06, crossing: { two: 1, three: 0.75 } },
  section: { move: 0.6, difference: 0.08, crossing: { two: 0.55, three: 0.7 } },
};

/** @param halvings of the first grid that made the finest */
export function nestedRuns(
  problem: HeatProblem,
  fine: RunRecord,
  coarse: RunRecord | undefined,
  coarsest: RunRecord | undefined,
  halvings = 2,
): Nested {
  const w = coarse ? 1 / (2 ** gridOrder(problem) - 1) : 0;
  const { move, difference, crossing } = problem.block ? LEFT_OPEN.section : LEFT_OPEN.row;
  const open = { move, difference: difference / 4 ** (halvings - 2), crossing };
  return { fine, coarse, coarsest, w, open };
}

/**
 * Error that is left in a value extrapolated from its values on the last grids. With three of them it is known what the
 * last halving changed in the extrapolated value, and that converges at least as fast as the values themselves; with two,
 * only their difference is.
 */
export function errorLeft(
  { w, open }: Nested,
  f: number,
  c: number,
  coarsest: number | undefined,
): number {
  if (coarsest === undefined) return DOUBT * w * Math.abs(f - c);
  const moved = (1 + w) * (f - c) - w * (c - coarsest);
  return open.move * Math.abs(moved) + open.difference * Math.abs(f - c);
}

/** Halvings that shrink a difference by less than this shrink it by nothing that could be gone on with. */
const SLOWEST = 1.2;
/** Two grids that differ by more than this share of what a mean has moved have hardly begun to converge: */
const HARDLY = 0.05;

/**
 * Error left in the mean of a region. Until the cells at its faces are crossed what comes in converges slower than any
 * order: three grids tell how fast their differences shrink, and so what further ones would bring; of two it may shrink with
 * the square root of the cells.
 */
function meanErrorLeft(
  { w }: Nested,
  f: number,
  c: number,
  coarsest: number | undefined,
  start: number,
): number {
  const difference = Math.abs(f - c);
  const further = (shrinks: number) => difference * Math.max(0, 1 / (shrinks - 1) - w);
  if (coarsest === undefined) {
    const hardly = difference > HARDLY * Math.abs(f - start);
    return hardly ? further(Math.SQRT2) : 0;
  }
  if (difference === 0) return 0;
  const shrinks = (c - coarsest) / (f - c);
  // differences of either sign are noise
  return shrinks > 0 ? further(Math.max(shrinks, SLOWEST)) : 0;
}

/**
 * The same for a value of a probe. One that reads a cut cell has what the outline left in it, on either grid: with two grids
 * nothing less than their whole difference is sure.
 */
export function valueErrorLeft(
  pair: Nested,
  p: number,
  f: number,
  c: number,
  coarsest: number | undefined,
): number {
  const any = errorLeft(pair, f, c, coarsest);
  const isMean = pair.fine.isMean[p] === 1;
  const start = pair.fine.startMax[p];
  const left = isMean ? Math.max(any, meanErrorLeft(pair, f, c, coarsest, start)) : any;
  const isCut = pair.fine.isCut[p] === 1 || pair.coarse?.isCut[p] === 1;
  return isCut && coarsest === undefined ? Math.max(left, Math.abs(f - c)) : left;
}

/** Extrapolated from both; the finer value where there is no other. */
const better = ({ w }: Nested, f: number, c: number | undefined) =>
  c === undefined ? f : f + w * (f - c);

/** A history with its wanted times in the order in which they were given: the runs have them in rising order. */
function inGivenOrder(history: History, given: readonly number[] = []): History {
  if (given.every((t, k) => k === 0 || t >= given[k - 1])) return history;
  const rising = given.map((_, k) => k).sort((a, b) => given[a] - given[b]);
  const placeOf = new Int32Array(given.length);
  rising.forEach((k, place) => {
    placeOf[k] = place;
  });
  const ordered = <A extends Float64Array | Uint8Array>(
    columns: Readonly<Record<string, A>>,
  ): Record<string, A> =>
    Object.fromEntries(
      Object.entries(columns).map(([name, values]) => [
        name,
        values.map((_, k) => values[placeOf[k]]) as A,
      ]),
    );
  return {
    ...history,
    times: Float64Array.from(given),
    probes: ordered(history.probes),
    holds: ordered(history.holds),
    cure: ordered(history.cure),
  };
}

/** What the probes tell, each by its name. */
type Told = Pick<History, "probes" | "holds" | "cure" | "extremes">;

/** Values at the wanted times and extremes, extrapolated; `alike`: 1 at the times that both grids have in the same stage. */
function toldBy(
  problem: HeatProblem,
  names: readonly string[],
  pair: Nested,
  alike: Uint8Array,
): Told {
  const { fine, coarse } = pair;
  const probes: Record<string, Float64Array> = {};
  const cure: Record<string, Float64Array> = {};
  const extremes: Record<string, Extreme> = {};
  const holds: Record<string, Uint8Array> = {};
  const cures = Object.values(problem.materials).some((m) => m.cure);
  names.forEach((name, p) => {
    const between = extremeOf(pair, p);
    probes[name] = ownDoublesOf(fine.values[p], (v, k) =>
      alike[k] === 1
        ? within(between, fine, p, { value: better(pair, v, coarse?.values[p][k]), own: v })
        : v,
    );
    if (cures && fine.cures[p].some((a) => a !== 0)) cure[name] = curesOf(pair, alike, p);
    holds[name] = fine.holds[p];
    extremes[name] = reaching(between, fine, p, probes[name]);
  });
  return { probes, holds, cure, extremes };
}

/**
 * The history; what its probes tell is extrapolated once somebody looks: a member of a range is asked for a time alone.
 *
 * @param unfold makes a picture whole of what was solved in part
 */
export function merge(
  problem: HeatProblem,
  names: readonly string[],
  pair: Nested,
  effort: Pick<Effort, "cells" | "reached" | "asked" | "limitedBy">,
  unfold: (snapshot: Snapshot) => Snapshot = (snapshot) => snapshot,
): History {
  const { fine, coarse } = pair;
  // of its own memory: it is kept as long as nobody looks
  const alike = new Uint8Array(fine.times.length);
  for (let k = 0; k < alike.length; k++) alike[k] = inSameStage(pair, fine.times[k]) ? 1 : 0;
  let laid: Told | undefined;
  const told = () => {
    laid ??= toldBy(problem, names, pair, alike);
    return laid;
  };
  const stageEnds = fine.stageEnds.map((e, k) => better(pair, e, coarse?.stageEnds[k]));
  const history: History = {
    end: stageEnds[stageEnds.length - 1] ?? fine.end,
    stageEnds,
    times: fine.times,
    get probes() {
      return told().probes;
    },
    get holds() {
      return told().holds;
    },
    get cure() {
      return told().cure;
    },
    get extremes() {
      return told().extremes;
    },
    ...(problem.steady === true && { flows: flowsOf(pair) }),
    crossings: crossingsOf(problem, pair),
    trace: traceOf(fine, names),
    snapshots: fine.snapshots.map(unfold),
    effort: {
      ...effort,
      steps: fine.steps + (coarse?.steps ?? 0),
      rejected: fine.rejected + (coarse?.rejected ?? 0),
      energyImbalance: Math.max(fine.imbalance, coarse?.imbalance ?? 0),
      timeError: fine.timeError,
      frontError: fine.frontError,
      gridError: gridErrorOf(problem, pair, alike),
    },
    stopped: fine.stopped,
  };
  return inGivenOrder(history, problem.times);
}

/** A list with memory of its own: who has it may hand it on to another thread. */
function ownDoublesOf(
  items: Float64Array,
  numberOf: (item: number, index: number) => number,
): Float64Array {
  const out = new Float64Array(items.length);
  for (let k = 0; k < out.length; k++) out[k] = numberOf(items[k], k);
  return out;
}

/** Laid out once somebody looks. */
function traceOf({ trace }: RunRecord, names: readonly string[]): History["trace"] {
  return {
    get times() {
      return trace.column(0);
    },
    get probes() {
      return Object.fromEntries(names.map((name, p) => [name, trace.column(p + 1)]));
    },
  };
}

/**
 * Whether a time lies in the same stage of both runs, away from its start by several times what their starts differ: else
 * the two values are of different things and nothing can be extrapolated from them.
 */
function inSameStage({ fine, coarse }: Nested, t: number): boolean {
  if (!coarse) return true;
  const stage = stageOf(fine, t);
  if (stage !== stageOf(coarse, t)) return false;
  if (stage === 0) return true;
  const [a, b] = [fine.stageEnds[stage - 1], coarse.stageEnds[stage - 1]];
  return t - Math.max(a, b) >= 5 * Math.abs(a - b);
}

/** Stages of a run that have ended before a time. */
function stageOf({ stageEnds }: RunRecord, t: number): number {
  let stage = 0;
  while (stage < stageEnds.length && stageEnds[stage] < t) stage++;
  return stage;
}

/** Error left in a probe's maximum and minimum, K: none where it is what the bodies have at the first instant. */
export function extremeErrors(pair: Nested, p: number): [number, number] {
  const { fine, coarse, coarsest } = pair;
  if (coarse === undefined) return [0, 0];
  const left = (key: "max" | "min") =>
    errorLeft(pair, fine[key][p], coarse[key][p], coarsest?.[key][p]);
  return [
    fine.max[p] === fine.startMax[p] ? 0 : left("max"),
    fine.min[p] === fine.startMin[p] ? 0 : left("min"),
  ];
}

/** Largest error that the grid leaves in a value or an extreme, K. */
function gridErrorOf(problem: HeatProblem, pair: Nested, alike: Uint8Array): number {
  const { fine, coarse, coarsest } = pair;
  // two grids that both lose a front may agree
  if (!coarse) return fine.frontError;
  let error = fine.frontError;
  Object.keys(problem.probes).forEach((_, p) => {
    fine.values[p].forEach((v, k) => {
      if (alike[k] === 1)
        error = Math.max(
          error,
          valueErrorLeft(pair, p, v, coarse.values[p][k], coarsest?.values[p][k]),
        );
    });
    if (fine.max[p] >= fine.min[p]) error = Math.max(error, ...extremeErrors(pair, p));
  });
  return error;
}

function curesOf(pair: Nested, alike: Uint8Array, p: number): Float64Array {
  return ownDoublesOf(pair.fine.cures[p], (a, k) => {
    const best = alike[k] === 1 ? better(pair, a, pair.coarse?.cures[p][k]) : a;
    // extrapolation may overshoot where cure levels off: the finer grid's own value is inside
    return best >= 0 && best <= 1 ? best : a;
  });
}

function extremeOf(pair: Nested, p: number): Extreme {
  const { fine, coarse } = pair;
  // its place was empty all the time
  if (fine.max[p] < fine.min[p])
    return { max: fine.max[p], maxTime: 0, min: fine.min[p], minTime: 0 };
  const [highest, lowest] = [fine.startMax[p], fine.startMin[p]];
  // nothing to extrapolate in what the bodies had at a first instant, and no extreme falls short of that
  const max =
    fine.max[p] === highest
      ? highest
      : Math.max(highest, better(pair, fine.max[p], coarse?.max[p]));
  const min =
    fine.min[p] === lowest ? lowest : Math.min(lowest, better(pair, fine.min[p], coarse?.min[p]));
  return {
    max,
    maxTime: peakTime(pair, fine.maxTime[p], coarse?.maxTime[p]),
    // of a probe that hardly moves, extrapolation could put it above the highest
    min: Math.min(max, min),
    minTime: peakTime(pair, fine.minTime[p], coarse?.minTime[p]),
  };
}

/** A value that extrapolation takes beyond what its probe had at the first instant, where no grid went: the finer grid's own. */
function within(
  { max, min }: Extreme,
  { startMax, startMin }: RunRecord,
  p: number,
  both: Both,
): number {
  const { value, own } = both;
  const isOver = value > max && max === startMax[p] && own <= max;
  const isUnder = value < min && min === startMin[p] && own >= min;
  return isOver || isUnder ? own : value;
}

/** A value of two grids, and the finer one's. */
interface Both {
  readonly value: number;
  readonly own: number;
}

/** No value that is told lies beyond the extremes, whose times are the grids' own. */
function reaching(
  extreme: Extreme,
  { holds }: RunRecord,
  p: number,
  values: Float64Array,
): Extreme {
  // its place was empty all the time
  if (extreme.max < extreme.min) return extreme;
  const told = values.filter((_, k) => holds[p][k] === 1);
  return {
    ...extreme,
    max: told.reduce((a, b) => Math.max(a, b), extreme.max),
    min: told.reduce((a, b) => Math.min(a, b), extreme.min),
  };
}

/** A peak is not carried over a refill: its time stays in the stage in which the finer grid has it. */
function peakTime(pair: Nested, time: number, other: number | undefined): number {
  const { fine } = pair;
  if (!(time > 0 && time < fine.end)) return time;
  const from = fine.stageEnds.findLast((end) => end <= time) ?? 0;
  const to = fine.stageEnds.find((end) => end > time) ?? fine.end;
  const close = other !== undefined && Math.abs(time - other) < 0.05 * time;
  return Math.min(to, Math.max(from, close ? better(pair, time, other) : time));
}

function flowsOf(pair: Nested): Record<Side, number> {
  const { fine, coarse } = pair;
  const flows = fine.flows.map((q, k) => better(pair, q, coarse?.flows[k]));
  return Object.fromEntries(SIDES.map((side, k) => [side, flows[k]])) as Record<Side, number>;
}

/** Error of a crossing's time that the time steps leave: none where a stage began beyond it. */
function timeErrorOf(found: RunRecord, k: number): number {
  const slope = Math.abs(found.crossingSlopes[k]);
  return slope > 0 ? found.crossingErrors[k] / slope : 0;
}

/** Error of a crossing's time that the grids leave, s; both have it. */
export function crossingErrorLeft(pair: Nested, k: number): number {
  const [f, c, coarsest] = [pair.fine, pair.coarse, pair.coarsest].map(
    (run) => run?.crossings[k] ?? undefined,
  );
  if (f === undefined || c === undefined) return 0;
  return (
    pair.open.crossing[coarsest === undefined ? "two" : "three"] * errorLeft(pair, f, c, coarsest)
  );
}

function crossingsOf(problem: HeatProblem, pair: Nested): CrossingFound[] {
  return (problem.crossings ?? []).map((c, k) => {
    const f = pair.fine.crossings[k];
    const other = pair.coarse?.crossings[k] ?? null;
    if (f === null) return { ...c, time: f, error: 0 };
    const inTime = timeErrorOf(pair.fine, k);
    if (pair.coarse === undefined) return { ...c, time: f, error: inTime };
    // the coarser grid did not get there: nobody knows how near it was
    if (other === null) return { ...c, time: f, error: pair.fine.end - f + inTime };
    return { ...c, time: better(pair, f, other), error: crossingErrorLeft(pair, k) + inTime };
  });
}
