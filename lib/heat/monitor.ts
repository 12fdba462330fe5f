/**
 * Watches the probes while a grid is marched: values at the wanted times, crossings, extremes and the trace, taken from
 * the cubics between the two ends of each step.
 *
 * Symbols of a probe at the start (0) and the end (1) of a step: v its temperature K, d the slope of it K/s, a its cure,
 * b the slope of that 1/s.
 */
import { hermite, hermiteCrossing, innerExtreme } from "../numerics/hermite.ts";
import type { ProbeReader } from "./probes.ts";
import type { HeatProblem, Snapshot, Stop } from "./problem.ts";
import type { Marched } from "./run-record.ts";

/** A cubic with one slope off by d leaves its line by 4/27 of d h. */
const CUBIC_REACH = 27 / 4;

export interface Watch {
  /** A run begins: what is seen from now on goes to `found`. */
  begin(found: Marched): void;
  /** A stage begins at t, s, with this state and its rates. */
  startStage(t: number, u: Float64Array, f: Float64Array): void;
  /** Reads the probes at the end of a step of h seconds; it may be looked at again with another end. */
  look(h: number, u: Float64Array, f: Float64Array): void;
  /** Share of the step looked at after which a stage stops; 0 when it may not even begin, -1 when it goes on. */
  stopIn(stop: Stop, h: number): number;
  /** Takes in the step looked at, from t to `end`: its end is the next one's start. */
  take(t: number, end: number): void;
}

/**
 * @param span of the temperatures that can occur, K
 * @param snapshotAt the picture at the end of the step that is being taken in
 */
export function makeWatch(
  problem: HeatProblem,
  reader: ProbeReader,
  span: number,
  snapshotAt: (time: number) => Snapshot,
): Watch {
  const { crossings = [] } = problem;
  const count = reader.names.length;
  let v0 = new Float64Array(count);
  let v1 = new Float64Array(count);
  let d0 = new Float64Array(count);
  let d1 = new Float64Array(count);
  let a0 = new Float64Array(count);
  let a1 = new Float64Array(count);
  let b0 = new Float64Array(count);
  let b1 = new Float64Array(count);
  // slope at the end of the step, bounded for this step's cubic; the next one starts from the true one
  const calmed = new Float64Array(count);
  // 1 for a probe whose place holds something in this stage
  const holds = new Uint8Array(count);
  const crossingProbe = crossings.map((c) => reader.names.indexOf(c.probe));
  const shots = Float64Array.from(problem.snapshots ?? []).sort();
  let found: Marched;
  let nextTime = 0;
  let nextShot = 0;

  function begin(now: Marched): void {
    found = now;
    nextTime = 0;
    nextShot = 0;
  }

  function startStage(t: number, u: Float64Array, f: Float64Array): void {
    reader.read(u, f, v0, d0, a0, b0);
    found.trace.add(t, v0);
    reader.lookFor(holds);
    noteExtremes(t);
    noteStart(t);
    // values at the very start of a stage are those after its refill
    const { times } = found;
    while (nextTime < times.length && times[nextTime] <= t) {
      if (times[nextTime] === t || t === 0) keep(nextTime);
      nextTime++;
    }
    while (nextShot < shots.length && shots[nextShot] <= t) {
      found.snapshots.push(snapshotAt(t));
      nextShot++;
    }
  }

  function look(h: number, u: Float64Array, f: Float64Array): void {
    reader.read(u, f, v1, d1, a1, b1);
    calm(h);
  }

  /**
   * After a long step the rates of stiff boxes are still settling, and a cubic with such slopes would swing far out.
   * Bounds the slopes so that it leaves the straight line by no more than half the change and a little of the span.
   */
  function calm(h: number): void {
    for (let p = 0; p < count; p++) {
      const change = v1[p] - v0[p];
      const most = (CUBIC_REACH * (0.5 * Math.abs(change) + 0.003 * span)) / h;
      const line = change / h;
      d0[p] = line + Math.min(most, Math.max(-most, d0[p] - line));
      calmed[p] = line + Math.min(most, Math.max(-most, d1[p] - line));
    }
  }

  function stopIn(stop: Stop, h: number): number {
    const p = reader.names.indexOf(stop.probe);
    if (p < 0 || holds[p] === 0) return -1;
    const level = stop.below ?? stop.above ?? 0;
    const falling = stop.below !== undefined;
    if (falling ? v0[p] < level : v0[p] > level) return 0;
    return hermiteCrossing(level, falling, h, v0[p], d0[p], v1[p], calmed[p]);
  }

  function take(t: number, end: number): void {
    note(t, end);
    passed(t, end);
    [v0, v1] = [v1, v0];
    [d0, d1] = [d1, d0];
    [a0, a1] = [a1, a0];
    [b0, b1] = [b1, b0];
  }

  function keep(at: number): void {
    for (let p = 0; p < count; p++) {
      found.values[p][at] = v0[p];
      found.holds[p][at] = holds[p];
      found.cures[p][at] = a0[p];
    }
  }

  function noteExtremes(t: number): void {
    for (let p = 0; p < count; p++) {
      if (holds[p] === 0) continue;
      if (v0[p] > found.max[p]) {
        found.max[p] = v0[p];
        found.maxTime[p] = t;
      }
      if (v0[p] < found.min[p]) {
        found.min[p] = v0[p];
        found.minTime[p] = t;
      }
    }
  }

  function noteStart(t: number): void {
    crossings.forEach((c, k) => {
      if (found.crossings[k] !== null) return;
      const p = crossingProbe[k];
      if (holds[p] === 0) return;
      const v = v0[p];
      if (c.below !== undefined ? v < c.below : v > (c.above as number)) found.crossings[k] = t;
    });
  }

  /** Crossings and extremes of the step from t to end, from the cubics between its ends. */
  function note(t: number, end: number): void {
    const h = end - t;
    found.trace.add(end, v1);
    for (let k = 0; k < crossings.length; k++) {
      if (found.crossings[k] !== null) continue;
      const c = crossings[k];
      const p = crossingProbe[k];
      if (holds[p] === 0) continue;
      const falling = c.below !== undefined;
      const level = (c.below ?? c.above) as number;
      const s = hermiteCrossing(level, falling, h, v0[p], d0[p], v1[p], calmed[p]);
      if (s >= 0) found.crossings[k] = t + s * h;
    }
    for (let p = 0; p < count; p++) {
      if (holds[p] === 0) continue;
      peak(found.max, found.maxTime, p, t, h, 1);
      peak(found.min, found.minTime, p, t, h, -1);
    }
  }

  function peak(
    best: Float64Array,
    bestTime: Float64Array,
    p: number,
    t: number,
    h: number,
    want: 1 | -1,
  ): void {
    let value = v1[p];
    let time = t + h;
    // only a slope that turns within the step can hide a peak
    if (want * d0[p] > 0 && want * calmed[p] < 0) {
      const s = innerExtreme(h, v0[p], d0[p], v1[p], calmed[p], want);
      if (s > 0) {
        const inner = hermite(s, h, v0[p], d0[p], v1[p], calmed[p]);
        if (want * (inner - value) > 0) {
          value = inner;
          time = t + s * h;
        }
      }
    }
    if (want * (value - best[p]) > 0) {
      best[p] = value;
      bestTime[p] = time;
    }
  }

  /** Reports the wanted times within the step. */
  function passed(t: number, end: number): void {
    const { times } = found;
    const h = end - t;
    for (; nextTime < times.length && times[nextTime] <= end * (1 + 1e-13); nextTime++) {
      const s = Math.min(1, (times[nextTime] - t) / h);
      for (let p = 0; p < count; p++) {
        found.values[p][nextTime] = hermite(s, h, v0[p], d0[p], v1[p], calmed[p]);
        found.holds[p][nextTime] = holds[p];
        const cure = hermite(s, h, a0[p], b0[p], a1[p], b1[p]);
        // the cubic must not leave the step's own span
        found.cures[p][nextTime] = Math.min(Math.max(cure, a0[p]), Math.max(a0[p], a1[p]));
      }
    }
    for (; nextShot < shots.length && shots[nextShot] <= end * (1 + 1e-13); nextShot++)
      found.snapshots.push(snapshotAt(end));
  }

  return { begin, startStage, look, stopIn, take };
}
