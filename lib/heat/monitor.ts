/**
 * Records the probes while a grid is integrated: values at the wanted times, crossings, extremes and the trace, taken
 * from the cubics between the two ends of each step.
 */
import {
  type Cubic,
  hermite,
  hermiteCrossing,
  hermiteSlope,
  innerExtreme,
} from "../numerics/hermite.ts";
import type { Start } from "./first-instant.ts";
import { makeProbeValues, type ProbeReader, type ProbeValues } from "./probes.ts";
import type { Crossing, HeatProblem, Past, Snapshot, Stop } from "./problem.ts";
import type { RunRecord } from "./run-record.ts";
import { CUBIC_REACH } from "./trace.ts";

/** A crossing or an extreme nearer to an end of its step than this share of it is told by that end. */
const UNSURE_FROM = 0.03;
/**
 * Parabolas that differ by so many times the tolerance leave a crossing open, or an extreme that is beyond the step's ends by as
 * much. One grid alone keeps no tolerance of its own, nor do two of which none was asked.
 */
const UNSURE = { asked: 0.2, unasked: 0.8, alone: 1 };

/** Where something cures, the error at an end of a step is that of the worst cell; a probe that crosses has less of it (measured). */
const OF_WORST_CELL = 0.6;

export interface Monitor {
  /** A run begins: what is seen from now on goes to `found`. */
  begin(found: RunRecord): void;
  /** @param start what is new in the stage */
  startStage(t: number, start: Start, u: Float64Array, f: Float64Array): void;
  /** Reads the probes again at the start of a step: their slopes have jumped. */
  goOn(u: Float64Array, f: Float64Array): void;
  /** Reads the probes at the end of a step of h seconds; it may be read again with another end. */
  look(h: number, u: Float64Array, f: Float64Array): void;
  /** Share of the step last read after which a stage stops; 0 when it may not even begin, -1 when it goes on. */
  stopIn(stop: Stop, h: number): number;
  /** The highest of a probe that has fallen from it, K; Infinity: it has not. */
  highestOf(past: Past): number;
  /** Share of the step last read at which a wanted crossing or a new extreme lies that its ends do not tell surely; else -1. */
  unsure(h: number): number;
  /**
   * Records the step last read, from t to `end`, whose values may be off by `error`: its end is the next one's start.
   *
   * @param smooth its cubics hold between its ends, and the trace may be read from them
   */
  take(t: number, end: number, error: number, smooth: boolean): void;
}

/**
 * @param span of the temperatures that can occur, K
 * @param snapshotAt the picture at the end of the step that is being recorded
 */
export function makeMonitor(
  problem: HeatProblem,
  reader: ProbeReader,
  span: number,
  snapshotAt: (time: number) => Snapshot,
): Monitor {
  return new ProbeMonitor(problem, reader, span, snapshotAt);
}

class ProbeMonitor implements Monitor {
  private readonly reader: ProbeReader;
  private readonly span: number;
  /** What a step may leave open, K. */
  private readonly open: number;
  private readonly snapshotAt: (time: number) => Snapshot;
  private readonly crossings: readonly Crossing[];
  private readonly crossingProbe: readonly number[];
  private readonly snapshotTimes: Float64Array;
  private readonly everyStep: boolean;
  // at the start and at the end of the step
  private before: ProbeValues;
  private after: ProbeValues;
  // slope at the end of the step, bounded for this step's cubic; the next one starts from the true one
  private readonly boundedSlope: Float64Array;
  // 1 for a probe whose place holds something in this stage
  private readonly holds: Uint8Array;
  private readonly cubic: Cubic = { h: 0, y0: 0, d0: 0, y1: 0, d1: 0 };
  private found: RunRecord | undefined;
  /** Start of the stage and of the step, s. */
  private begun: number;
  private now: number;
  private nextTime = 0;
  private nextSnapshot = 0;

  constructor(
    problem: HeatProblem,
    reader: ProbeReader,
    span: number,
    snapshotAt: (time: number) => Snapshot,
  ) {
    const count = reader.names.length;
    this.reader = reader;
    this.span = span;
    const { estimateGrid, tolerance } = problem;
    const kind = estimateGrid === false ? "alone" : tolerance === undefined ? "unasked" : "asked";
    this.open = UNSURE[kind] * (tolerance ?? 1e-4) * span;
    this.snapshotAt = snapshotAt;
    this.crossings = problem.crossings ?? [];
    this.crossingProbe = this.crossings.map((c) => reader.names.indexOf(c.probe));
    this.snapshotTimes = new Float64Array(problem.snapshots ?? []).sort();
    this.everyStep = problem.everyStep === true;
    this.before = makeProbeValues(count);
    this.after = makeProbeValues(count);
    this.boundedSlope = new Float64Array(count);
    this.holds = new Uint8Array(count);
    // no run has begun; a field that holds whole numbers at first is laid out anew, and all code for it with it
    this.begun = Number.NEGATIVE_INFINITY;
    this.now = Number.NEGATIVE_INFINITY;
  }

  begin(found: RunRecord): void {
    this.found = found;
    this.nextTime = 0;
    this.nextSnapshot = 0;
  }

  private get record(): RunRecord {
    if (this.found === undefined) throw new Error("no run has begun");
    return this.found;
  }

  startStage(t: number, start: Start, u: Float64Array, f: Float64Array): void {
    const { record, reader, before, snapshotTimes } = this;
    this.begun = t;
    this.now = t;
    reader.readStart(start, u, f, before);
    record.trace.row(t, 0);
    for (const value of before.value) record.trace.probe(value, 0, value, 0);
    reader.fillHolds(this.holds);
    this.startExtremes(record, t);
    this.startCrossings(record, t);
    // values at the very start of a stage are those after its refill
    const { times } = record;
    while (this.nextTime < times.length && times[this.nextTime] <= t) {
      if (times[this.nextTime] === t || t === 0) this.keepStart(record, this.nextTime);
      this.nextTime++;
    }
    while (this.nextSnapshot < snapshotTimes.length && snapshotTimes[this.nextSnapshot] <= t) {
      record.snapshots.push(this.snapshotAt(t));
      this.nextSnapshot++;
    }
  }

  goOn(u: Float64Array, f: Float64Array): void {
    this.reader.read(u, f, this.before, this.now - this.begun);
  }

  look(h: number, u: Float64Array, f: Float64Array): void {
    this.reader.read(u, f, this.after, this.now + h - this.begun);
    this.boundSlopes(h);
  }

  /**
   * After a long step the rates of stiff cells are still settling, and a cubic with such slopes would swing far out.
   * Bounds the slopes so that it leaves the straight line by no more than half the change and a little of the span.
   */
  private boundSlopes(h: number): void {
    const { before, after, boundedSlope, span } = this;
    for (let p = 0; p < boundedSlope.length; p++) {
      const change = after.value[p] - before.value[p];
      const most = (CUBIC_REACH * (0.5 * Math.abs(change) + 0.003 * span)) / h;
      const line = change / h;
      before.slope[p] = line + Math.min(most, Math.max(-most, before.slope[p] - line));
      boundedSlope[p] = line + Math.min(most, Math.max(-most, after.slope[p] - line));
    }
  }

  /** The cubic of a probe over the step. */
  private cubicOf(p: number, h: number): Cubic {
    const { cubic, before, after } = this;
    cubic.h = h;
    cubic.y0 = before.value[p];
    cubic.d0 = before.slope[p];
    cubic.y1 = after.value[p];
    cubic.d1 = this.boundedSlope[p];
    return cubic;
  }

  stopIn(stop: Stop, h: number): number {
    const p = this.reader.names.indexOf(stop.probe);
    if (p < 0 || this.holds[p] === 0) return -1;
    const level = stop.below ?? stop.above ?? 0;
    const falling = stop.below !== undefined;
    const start = this.before.value[p];
    if (falling ? start < level : start > level) return 0;
    return hermiteCrossing(this.cubicOf(p, h), level, falling);
  }

  highestOf({ probe, risen, fallen }: Past): number {
    const { record, before, reader } = this;
    const p = reader.names.indexOf(probe);
    if (p < 0 || this.holds[p] === 0) return Number.POSITIVE_INFINITY;
    const highest = record.max[p];
    const rise = highest - record.startMax[p];
    const fell = rise > risen && highest - before.value[p] > fallen * rise;
    return fell ? highest : Number.POSITIVE_INFINITY;
  }

  unsure(h: number): number {
    const { crossings, crossingProbe, holds, record } = this;
    let first = -1;
    const see = (s: number) => {
      // close to an end of the step its own value and slope tell
      if (s > UNSURE_FROM && s < 1 - UNSURE_FROM && (first < 0 || s < first)) first = s;
    };
    for (let k = 0; k < crossings.length; k++) {
      const p = crossingProbe[k];
      if (record.crossings[k] !== null || holds[p] === 0 || !this.isOpen(p, h)) continue;
      const c = crossings[k];
      const level = (c.below ?? c.above) as number;
      see(hermiteCrossing(this.cubicOf(p, h), level, c.below !== undefined));
    }
    const { open } = this;
    for (let p = 0; p < holds.length; p++) {
      if (holds[p] === 0 || !this.isOpen(p, h)) continue;
      const cubic = this.cubicOf(p, h);
      const { y0, y1 } = cubic;
      const high = peakOf(cubic, 1);
      if (high < 1 && hermite(cubic, high) > Math.max(record.max[p], y0, y1) + open) see(high);
      const low = peakOf(cubic, -1);
      if (low < 1 && hermite(cubic, low) < Math.min(record.min[p], y0, y1) - open) see(low);
    }
    return first;
  }

  /** Whether the parabolas through both ends' values and either slope differ too much in the middle of the step. */
  private isOpen(p: number, h: number): boolean {
    const { d0, d1, y0, y1 } = this.cubicOf(p, h);
    return 0.25 * h * Math.abs(d0 + d1 - (2 * (y1 - y0)) / h) > this.open;
  }

  take(t: number, end: number, error: number, smooth: boolean): void {
    const { record } = this;
    this.now = end;
    this.trace(record, end, end - t, smooth);
    const crossed = this.recordCrossings(record, t, end - t, error);
    this.recordExtremes(record, t, end - t, error);
    const wanted = this.recordTimes(record, t, end);
    if (crossed || wanted) record.timeError = Math.max(record.timeError, error);
    [this.before, this.after] = [this.after, this.before];
  }

  /** The cubics of the step; straight lines where nothing is held, or the slopes at its ends are not to be trusted. */
  private trace({ trace }: RunRecord, end: number, h: number, smooth: boolean): void {
    const { before, after, boundedSlope, holds } = this;
    trace.row(end, h);
    for (let p = 0; p < holds.length; p++) {
      const y0 = before.value[p];
      const y1 = after.value[p];
      if (smooth && holds[p] === 1) trace.probe(y0, before.slope[p], y1, boundedSlope[p]);
      else trace.probe(y0, (y1 - y0) / h, y1, (y1 - y0) / h);
    }
  }

  private keepStart(found: RunRecord, at: number): void {
    const { before, holds } = this;
    for (let p = 0; p < holds.length; p++) {
      found.values[p][at] = before.value[p];
      found.holds[p][at] = holds[p];
      found.cures[p][at] = before.cure[p];
    }
  }

  private startExtremes(found: RunRecord, t: number): void {
    const { before, holds } = this;
    for (let p = 0; p < holds.length; p++) {
      if (holds[p] === 0) continue;
      const v = before.value[p];
      found.startMax[p] = Math.max(found.startMax[p], v);
      found.startMin[p] = Math.min(found.startMin[p], v);
      if (v > found.max[p]) {
        found.max[p] = v;
        found.maxTime[p] = t;
      }
      if (v < found.min[p]) {
        found.min[p] = v;
        found.minTime[p] = t;
      }
    }
  }

  private startCrossings(found: RunRecord, t: number): void {
    this.crossings.forEach((c, k) => {
      if (found.crossings[k] !== null) return;
      const p = this.crossingProbe[k];
      if (this.holds[p] === 0) return;
      const v = this.before.value[p];
      if (c.below !== undefined ? v < c.below : v > (c.above as number)) found.crossings[k] = t;
    });
  }

  /** @returns whether there was one */
  private recordCrossings(found: RunRecord, t: number, h: number, error: number): boolean {
    const { crossings, crossingProbe, holds } = this;
    let any = false;
    for (let k = 0; k < crossings.length; k++) {
      if (found.crossings[k] !== null) continue;
      const c = crossings[k];
      const p = crossingProbe[k];
      if (holds[p] === 0) continue;
      const level = (c.below ?? c.above) as number;
      const cubic = this.cubicOf(p, h);
      const s = hermiteCrossing(cubic, level, c.below !== undefined);
      if (s < 0) continue;
      found.crossings[k] = t + s * h;
      found.crossingSlopes[k] = hermiteSlope(cubic, s);
      // of what does not cure the run knows one error alone, that of its worst step so far
      found.crossingErrors[k] = error > 0 ? OF_WORST_CELL * error : found.timeError;
      any = true;
    }
    return any;
  }

  private recordExtremes(found: RunRecord, t: number, h: number, error: number): void {
    const { holds } = this;
    const { max, maxTime, min, minTime, maxError, minError } = found;
    for (let p = 0; p < holds.length; p++) {
      if (holds[p] === 0) continue;
      const cubic = this.cubicOf(p, h);
      const high = peakOf(cubic, 1);
      const highest = high < 1 ? hermite(cubic, high) : cubic.y1;
      if (highest > max[p]) {
        max[p] = highest;
        maxTime[p] = t + high * h;
        maxError[p] = error;
      }
      const low = peakOf(cubic, -1);
      const lowest = low < 1 ? hermite(cubic, low) : cubic.y1;
      if (lowest < min[p]) {
        min[p] = lowest;
        minTime[p] = t + low * h;
        minError[p] = error;
      }
    }
  }

  /** Reports the wanted times within the step; whether there were any. */
  private recordTimes(found: RunRecord, t: number, end: number): boolean {
    const { times } = found;
    const first = this.nextTime;
    const { before, after, holds } = this;
    const h = end - t;
    for (; this.nextTime < times.length && times[this.nextTime] <= end * (1 + 1e-13); ) {
      const at = this.nextTime++;
      const s = Math.min(1, (times[at] - t) / h);
      for (let p = 0; p < holds.length; p++) {
        found.values[p][at] = hermite(this.cubicOf(p, h), s);
        found.holds[p][at] = holds[p];
        const a0 = before.cure[p];
        const a1 = after.cure[p];
        const cure = { h, y0: a0, d0: before.cureSlope[p], y1: a1, d1: after.cureSlope[p] };
        // the cubic must not leave the step's own span
        found.cures[p][at] = Math.min(Math.max(hermite(cure, s), a0), Math.max(a0, a1));
      }
    }
    this.recordSnapshots(found, end);
    return this.nextTime > first;
  }

  private recordSnapshots(found: RunRecord, end: number): void {
    const { everyStep, snapshotTimes } = this;
    const before = this.nextSnapshot;
    while (
      this.nextSnapshot < snapshotTimes.length &&
      snapshotTimes[this.nextSnapshot] <= end * (1 + 1e-13)
    ) {
      found.snapshots.push(this.snapshotAt(end));
      this.nextSnapshot++;
    }
    if (everyStep && this.nextSnapshot === before) found.snapshots.push(this.snapshotAt(end));
  }
}

/** Share of a step at which its cubic is highest (want 1) or lowest (-1); 1: at its end or nowhere inside. */
function peakOf(cubic: Readonly<Cubic>, want: 1 | -1): number {
  // only a slope that turns within the step can hide a peak
  if (!(want * cubic.d0 > 0 && want * cubic.d1 < 0)) return 1;
  const s = innerExtreme(cubic, want);
  return s > 0 && want * (hermite(cubic, s) - cubic.y1) > 0 ? s : 1;
}
