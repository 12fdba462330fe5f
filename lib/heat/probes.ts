/**
 * Reading temperatures out of the grid: at a place, as the mean of a region, at its hottest or coldest point, or on
 * the face where two regions meet.
 */

import type { Operator } from "./operator.ts";
import { type FaceSide, placesOf } from "./probe-places.ts";
import type { Probe } from "./problem.ts";

/** Value and rate of change of every probe; arrays in the order of the names. */
export interface ProbeReader {
  readonly names: readonly string[];
  /** Values in K, slopes in K/s (from the rates f of the state), cure where the probe cures, else 0. */
  read(
    u: Float64Array,
    f: Float64Array,
    value: Float64Array,
    slope: Float64Array,
    cure: Float64Array,
    cureSlope: Float64Array,
  ): void;
  /** Whether each probe's place holds something in this stage, 1, or is empty space, 0. */
  lookFor(holds: Uint8Array): void;
}

export function makeProbeReader(
  op: Operator,
  probes: Readonly<Record<string, Probe>>,
): ProbeReader {
  const names = Object.keys(probes);
  const { grid } = op;
  const readings = names.map((name) => placesOf(grid, probes[name]));
  const { T, C } = op;
  const n = op.boxes;

  function read(
    u: Float64Array,
    f: Float64Array,
    value: Float64Array,
    slope: Float64Array,
    cure: Float64Array,
    cureSlope: Float64Array,
  ): void {
    for (let p = 0; p < readings.length; p++) {
      const r = readings[p];
      if (r.kind === "sum") {
        let v = 0;
        let s = 0;
        let a = 0;
        let da = 0;
        for (let k = 0; k < r.boxes.length; k++) {
          const i = r.boxes[k];
          const w = r.weights[k];
          v += w * T[i];
          s += (w * f[i]) / C[i];
          if (op.hasCure) {
            a += w * u[n + i];
            da += w * f[n + i];
          }
        }
        value[p] = v;
        slope[p] = s;
        cure[p] = a;
        cureSlope[p] = da;
      } else if (r.kind === "peak")
        readPeak(r.boxes, r.sign, p, u, f, value, slope, cure, cureSlope);
      else readFaces(r.sides, r.of, p, u, f, value, slope, cure, cureSlope);
    }
  }

  function readPeak(
    boxes: Int32Array,
    sign: 1 | -1,
    p: number,
    u: Float64Array,
    f: Float64Array,
    value: Float64Array,
    slope: Float64Array,
    cure: Float64Array,
    cureSlope: Float64Array,
  ): void {
    let best = boxes[0];
    for (let k = 1; k < boxes.length; k++) if (sign * (T[boxes[k]] - T[best]) > 0) best = boxes[k];
    // the true peak lies between boxes: add what parabolas along both axes say
    const i = best % grid.nx;
    const j = (best - i) / grid.nx;
    value[p] =
      T[best] +
      bulge(best, 1, i, grid.nx, grid.xc, grid.evenX) +
      bulge(best, grid.nx, j, grid.ny, grid.yc, grid.evenY);
    slope[p] = f[best] / C[best];
    cure[p] = op.hasCure ? u[n + best] : 0;
    cureSlope[p] = op.hasCure ? f[n + best] : 0;
  }

  function bulge(
    box: number,
    stride: number,
    at: number,
    count: number,
    centers: Float64Array,
    even: boolean,
  ): number {
    if (at === count - 1 || (at === 0 && !even)) return 0;
    const region = grid.content[box];
    if (grid.content[box + stride] !== region) return 0;
    if (at > 0 && grid.content[box - stride] !== region) return 0;
    // beyond a mirror the same box comes again
    const a = at === 0 ? 0 : T[box - stride] - T[box];
    const b = T[box + stride] - T[box];
    if (a * b < 0 || a + b === 0) return 0; // no peak along this axis
    const l = at === 0 ? 2 * centers[0] : centers[at] - centers[at - 1];
    const r = centers[at + 1] - centers[at];
    const curve = (a / l + b / r) / (l + r);
    const tilt = b / r - curve * r;
    const rise = (-tilt * tilt) / (4 * curve);
    // a smooth peak between equal boxes adds at most an eighth of the drop beside it; a front is no parabola
    const most = Math.max(Math.abs(a), Math.abs(b)) / 6;
    return Math.min(most, Math.max(-most, rise));
  }

  function readFaces(
    sides: readonly FaceSide[],
    of: "hottest" | "coldest" | "mean",
    p: number,
    u: Float64Array,
    f: Float64Array,
    value: Float64Array,
    slope: Float64Array,
    cure: Float64Array,
    cureSlope: Float64Array,
  ): void {
    let v = 0;
    let s = 0;
    let a = 0;
    let da = 0;
    let total = 0;
    for (let k = 0; k < sides.length; k++) {
      const side = sides[k];
      readSide(side, u, f);
      const here = sideNow[0];
      const rate = sideNow[1];
      if (of === "mean") {
        v += side.weight * here;
        s += side.weight * rate;
        a += side.weight * sideNow[2];
        da += side.weight * sideNow[3];
        total += side.weight;
      } else if (k === 0 || (of === "hottest" ? here > v : here < v)) {
        v = here;
        s = rate;
        a = sideNow[2];
        da = sideNow[3];
        total = 1;
      }
    }
    value[p] = v / total;
    slope[p] = s / total;
    cure[p] = a / total;
    cureSlope[p] = da / total;
  }

  // T, its rate, cure, its rate of the face last read
  const sideNow = new Float64Array(4);
  function readSide(side: FaceSide, u: Float64Array, f: Float64Array): void {
    let here = 0;
    let rate = 0;
    if (side.kind === "boxes") {
      for (let k = 0; k < side.boxes.length; k++) {
        const i = side.boxes[k];
        here += side.weights[k] * T[i];
        rate += (side.weights[k] * f[i]) / C[i];
      }
    } else {
      const { link } = side;
      rate = f[link.a] / C[link.a];
      // share of the whole resistance that lies before the place
      let before = 0;
      let after = 0;
      for (let q = 0; q < link.parts.length; q++) {
        if (q <= side.before) before += op.partResistance(link, q);
        else after += op.partResistance(link, q);
      }
      const g = link.b < 0 ? 0 : op.conductance(link.a, link.axis);
      const looksOut = before + after === Number.POSITIVE_INFINITY;
      if (link.b < 0) here = op.surface(link, 0);
      else if (g === 0 || looksOut) {
        // one side is empty: the face of the other looks out
        const end = side.side === "after" || (side.side === "both" && before > after) ? 1 : 0;
        here = op.surface(link, end);
        if (end === 1) rate = f[link.b] / C[link.b];
      } else {
        const atFirst = before * g;
        const atSecond = 1 - after * g;
        const share =
          side.side === "before"
            ? atFirst
            : side.side === "after"
              ? atSecond
              : 0.5 * (atFirst + atSecond);
        here = T[link.a] + share * (T[link.b] - T[link.a]);
        rate += share * (f[link.b] / C[link.b] - rate);
      }
    }
    let cured = 0;
    let curing = 0;
    if (op.hasCure) {
      const { boxes, weights } = side.kind === "boxes" ? side : side.nearby;
      for (let k = 0; k < boxes.length; k++) {
        cured += weights[k] * u[n + boxes[k]];
        curing += weights[k] * f[n + boxes[k]];
      }
    }
    sideNow[2] = Math.min(1, Math.max(0, cured));
    sideNow[3] = curing;
    sideNow[0] = here;
    sideNow[1] = rate;
  }

  const filled = (boxes: Int32Array) => boxes.some((i) => op.active[i] === 1);
  function filledSide(side: FaceSide): boolean {
    if (side.kind === "boxes") return filled(side.boxes);
    const { a, b } = side.link;
    if (side.side === "before" || b < 0) return op.active[a] === 1;
    if (side.side === "after") return op.active[b] === 1;
    return op.active[a] === 1 || op.active[b] === 1;
  }
  function lookFor(holds: Uint8Array): void {
    readings.forEach((r, p) => {
      const any = r.kind === "faces" ? r.sides.some(filledSide) : filled(r.boxes);
      holds[p] = any ? 1 : 0;
    });
  }

  return { names, read, lookFor };
}
