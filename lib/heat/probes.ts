/**
 * Reading temperatures out of the grid: at a place, as the mean of a region, at its hottest or coldest point, or on
 * the face where two regions meet.
 */

import { bytesOf } from "../numerics/typed-lists.ts";
import { faceAtStart, firstReading, isFirstContact, type Start } from "./first-instant.ts";
import { cureEntry } from "./grid-content.ts";
import type { Link } from "./grid-links.ts";
import type { Operator } from "./operator.ts";
import { peakCorrection } from "./peak-correction.ts";
import { readStencil, type ValueAndRate } from "./point-stencil.ts";
import {
  axisOf,
  type CellsSide,
  type FaceSide,
  type LinkSide,
  placesOf,
  type Reading,
  type Weighted,
} from "./probe-places.ts";
import type { Probe } from "./problem.ts";

/** Of every probe, in the order of the names. */
export interface ProbeValues {
  /** K. */
  readonly value: Float64Array;
  /** K/s. */
  readonly slope: Float64Array;
  /** 0 where the probe's place does not cure. */
  readonly cure: Float64Array;
  /** 1/s. */
  readonly cureSlope: Float64Array;
}

export function makeProbeValues(count: number): ProbeValues {
  const empty = () => new Float64Array(count);
  return { value: empty(), slope: empty(), cure: empty(), cureSlope: empty() };
}

export interface ProbeReader {
  readonly names: readonly string[];
  /** 1 for a point that has only a cell cut by an outline to read: what it reads converges with no order. */
  readonly isCut: Uint8Array;
  /** 1 for the mean of a region: what comes in through its faces converges late, once their cells are crossed. */
  readonly isMean: Uint8Array;
  /** Reads every probe at the state u with its rates f, `age` seconds after the stage began. */
  read(u: Float64Array, f: Float64Array, out: ProbeValues, age: number): void;
  /** The same at the very start of a stage: where something is new, what the bodies say and no grid can. */
  readStart(start: Start, u: Float64Array, f: Float64Array, out: ProbeValues): void;
  /** Whether each probe's place holds something in this stage, 1, or is empty space, 0. */
  fillHolds(holds: Uint8Array): void;
}

export function makeProbeReader(
  op: Operator,
  probes: Readonly<Record<string, Probe>>,
): ProbeReader {
  return new GridReader(op, probes);
}

const AXES = [0, 1] as const;

/** Shares of the time in which heat crosses the cells beside a first contact. */
const HELD_UNTIL = 0.5;
const READ_FROM = 2;

/** A face between two bodies that have just met. */
interface FirstContact {
  /** What it has while neither body has been warmed or cooled through, K. */
  readonly value: number;
  /** Time in which heat crosses the cells beside it, s: before, a grid reads whatever the sizes of the two are. */
  readonly crossed: number;
}

type PeakReading = Extract<Reading, { kind: "peak" }>;
type PointReading = Extract<Reading, { kind: "point" }>;

/** One reading: K, K/s, cure, 1/s. */
interface Sample {
  value: number;
  slope: number;
  cure: number;
  cureSlope: number;
}

class GridReader implements ProbeReader {
  readonly names: readonly string[];
  readonly isCut: Uint8Array;
  readonly isMean: Uint8Array;
  private readonly op: Operator;
  private readonly readings: readonly Reading[];
  // the last reading, and the last one of a single side of a face
  private readonly now: Sample = { value: 0, slope: 0, cure: 0, cureSlope: 0 };
  private readonly side: Sample = { value: 0, slope: 0, cure: 0, cureSlope: 0 };
  private age = 0;
  /** Of the link last read, before and after the place, K/W. */
  private before = 0;
  private after = 0;
  private readonly contacts = new Map<FaceSide, FirstContact>();
  // of a point's stencil: cells of one row, then what the rows gave
  private readonly cellValues = new Float64Array(4);
  private readonly cellRates = new Float64Array(4);
  private readonly rowValues = new Float64Array(4);
  private readonly rowRates = new Float64Array(4);
  private readonly place: ValueAndRate = { value: 0, rate: 0 };

  constructor(op: Operator, probes: Readonly<Record<string, Probe>>) {
    this.op = op;
    this.names = Object.keys(probes);
    this.readings = this.names.map((name) => placesOf(op.grid, probes[name]));
    this.isMean = bytesOf(this.readings, (r) => (r.kind === "sum" ? 1 : 0));
    this.isCut = bytesOf(this.readings, (r) =>
      r.kind === "point" && r.cells.length === 1 && op.grid.content[r.cells[0]] < 0 ? 1 : 0,
    );
  }

  read(u: Float64Array, f: Float64Array, out: ProbeValues, age: number): void {
    const { readings, now } = this;
    this.age = age;
    for (let p = 0; p < readings.length; p++) {
      const r = readings[p];
      if (r.kind === "sum") this.readSum(r, u, f);
      else if (r.kind === "point") this.readPoint(r, u, f);
      else if (r.kind === "peak") this.readPeak(r, u, f);
      else this.readFaces(r.sides, r.of, u, f);
      out.value[p] = now.value;
      out.slope[p] = now.slope;
      out.cure[p] = now.cure;
      out.cureSlope[p] = now.cureSlope;
    }
  }

  readStart(start: Start, u: Float64Array, f: Float64Array, out: ProbeValues): void {
    const { op, readings } = this;
    this.contacts.clear();
    this.read(u, f, out, 0);
    for (let p = 0; p < readings.length; p++) {
      const first = firstReading(readings[p], start, op.fill, op.T);
      if (first !== undefined) out.value[p] = first;
      const r = readings[p];
      if (r.kind !== "peak") continue;
      const inside = out.value[p];
      out.value[p] = this.extremeAtStart(r, start, inside, u, f);
      // a face that has jumped stays there at first
      if (out.value[p] !== inside) out.slope[p] = 0;
    }
    for (const r of readings) {
      if (r.kind === "faces") this.findContacts(r.sides, start);
      else if (r.kind === "peak")
        for (const sides of r.edges.values()) this.findContacts(sides, start);
    }
  }

  private findContacts(sides: readonly FaceSide[], start: Start): void {
    const { op, contacts } = this;
    for (const side of sides) {
      if (side.kind !== "link" || !isFirstContact(side, start, op.fill)) continue;
      const value = faceAtStart(side, start, op.fill, op.T);
      if (value === undefined) continue;
      this.takeResistances(side);
      const { before, after } = this;
      const crossed = Math.max(before * op.C[side.link.a], after * op.C[side.link.b]);
      contacts.set(side, { value, crossed });
    }
  }

  /** An extreme of a region whose inside has one of `inside`: a face may jump beyond that at once. */
  private extremeAtStart(
    { edges, sign }: PeakReading,
    start: Start,
    inside: number,
    u: Float64Array,
    f: Float64Array,
  ): number {
    const { op, side } = this;
    let extreme = inside;
    for (const sides of edges.values())
      for (const face of sides) {
        let value = faceAtStart(face, start, op.fill, op.T);
        if (value === undefined) {
          this.readSide(face, u, f);
          value = side.value;
        }
        if (sign * (value - extreme) > 0) extreme = value;
      }
    return extreme;
  }

  private readSum({ cells, weights, entries }: Weighted, u: Float64Array, f: Float64Array): void {
    const { now } = this;
    const { T, C, hasCure, cells: n } = this.op;
    let v = 0;
    let s = 0;
    let a = 0;
    let da = 0;
    for (let k = 0; k < cells.length; k++) {
      const i = cells[k];
      const w = weights[k];
      v += w * T[i];
      s += (w * f[i]) / C[i];
      if (hasCure) {
        a += w * u[n + entries[k]];
        da += w * f[n + entries[k]];
      }
    }
    now.value = v;
    now.slope = s;
    now.cure = a;
    now.cureSlope = da;
  }

  private readPoint(r: PointReading, u: Float64Array, f: Float64Array): void {
    const { now, cellValues, cellRates, rowValues, rowRates, place } = this;
    const { T, C, hasCure } = this.op;
    const { cells, rows, along } = r;
    if (hasCure) this.readSum(r, u, f);
    else now.cure = now.cureSlope = 0;
    for (let j = 0, at = 0; j < rows.length; j++) {
      const count = rows[j].at.length;
      for (let k = 0; k < count; k++, at++) {
        const i = cells[at];
        cellValues[k] = T[i];
        cellRates[k] = f[i] / C[i];
      }
      readStencil(rows[j], cellValues, cellRates, place);
      rowValues[j] = place.value;
      rowRates[j] = place.rate;
    }
    readStencil(along, rowValues, rowRates, place);
    now.value = place.value;
    now.slope = place.rate;
  }

  private readPeak(r: PeakReading, u: Float64Array, f: Float64Array): void {
    const { op, now, side } = this;
    const { T, C, hasCure, cells: n } = op;
    const { cells, sign, edges } = r;
    let best = cells[0];
    for (let k = 1; k < cells.length; k++) {
      const i = cells[k];
      const further = sign * (T[i] - T[best]);
      // of cells alike, as at the start, the one that goes on
      if (further > 0 || (further === 0 && sign * (f[i] / C[i] - f[best] / C[best]) > 0)) best = i;
    }
    // between cells a parabola tells how much further it goes; at the edge of the region its face does
    const faces = edges.get(best);
    now.value = T[best];
    now.slope = f[best] / C[best];
    const slope = now.slope;
    for (const axis of AXES) {
      const peak = peakCorrection(op.grid, T, best, axis);
      let rise = sign * peak;
      let steeper = 0;
      if (faces !== undefined)
        for (let k = 0; k < faces.length; k++) {
          if (axisOf(faces[k]) !== axis) continue;
          this.readSide(faces[k], u, f);
          const further = sign * (side.value - T[best]);
          if (!(further > rise)) continue;
          rise = further;
          steeper = side.slope - slope;
        }
      now.value += sign * rise;
      now.slope += steeper;
    }
    const place = this.readFurther(r, best, u, f);
    const entry = hasCure ? cureEntry(op.grid, place, r.region) : -1;
    now.cure = entry >= 0 ? u[n + entry] : 0;
    now.cureSlope = entry >= 0 ? f[n + entry] : 0;
  }

  /**
   * A face that is held or washed, or in a row any face, may go beyond what was read, and not beside the cell that goes
   * furthest. In a section a face toward another region is as uncertain as the cells that the outline cuts.
   *
   * @returns the cell where it goes furthest
   */
  private readFurther(
    { edges, sign }: PeakReading,
    best: number,
    u: Float64Array,
    f: Float64Array,
  ): number {
    const { now, side } = this;
    const isRow = this.op.grid.ny === 1;
    let place = best;
    for (const cell of edges.keys()) {
      if (cell === best) continue;
      const faces = edges.get(cell) ?? [];
      for (let k = 0; k < faces.length; k++) {
        const face = faces[k];
        if (!isRow && !(face.kind === "link" && face.link.b < 0)) continue;
        this.readSide(face, u, f);
        if (!(sign * (side.value - now.value) > 0)) continue;
        now.value = side.value;
        now.slope = side.slope;
        place = cell;
      }
    }
    return place;
  }

  private readFaces(
    sides: readonly FaceSide[],
    of: "hottest" | "coldest" | "mean",
    u: Float64Array,
    f: Float64Array,
  ): void {
    const { now, side } = this;
    let v = 0;
    let s = 0;
    let a = 0;
    let da = 0;
    let total = 0;
    for (let k = 0; k < sides.length; k++) {
      const { weight } = sides[k];
      this.readSide(sides[k], u, f);
      if (of === "mean") {
        v += weight * side.value;
        s += weight * side.slope;
        a += weight * side.cure;
        da += weight * side.cureSlope;
        total += weight;
      } else if (k === 0 || (of === "hottest" ? side.value > v : side.value < v)) {
        v = side.value;
        s = side.slope;
        a = side.cure;
        da = side.cureSlope;
        total = 1;
      }
    }
    now.value = v / total;
    now.slope = s / total;
    now.cure = a / total;
    now.cureSlope = da / total;
  }

  private readSide(from: FaceSide, u: Float64Array, f: Float64Array): void {
    const { op, side } = this;
    const { T, C, cells: n } = op;
    if (from.kind === "cells" && this.looksOut(from)) {
      // beside air the line through its cells does not go on
      this.readSurface(from.link, from.meet.side === "after" ? 1 : 0, f);
    } else if (from.kind === "cells") {
      let here = 0;
      let rate = 0;
      for (let k = 0; k < from.cells.length; k++) {
        const i = from.cells[k];
        here += from.weights[k] * T[i];
        rate += (from.weights[k] * f[i]) / C[i];
      }
      side.value = here;
      side.slope = rate;
    } else this.readLink(from, f);
    let cured = 0;
    let curing = 0;
    if (op.hasCure) {
      const { entries, weights } = from.kind === "cells" ? from : from.nearby;
      for (let k = 0; k < entries.length; k++) {
        cured += weights[k] * u[n + entries[k]];
        curing += weights[k] * f[n + entries[k]];
      }
    }
    side.cure = Math.min(1, Math.max(0, cured));
    side.cureSlope = curing;
  }

  /** What the end of a link that looks out has at its surface. */
  private readSurface(link: Link, end: 0 | 1, f: Float64Array): void {
    const { op, side } = this;
    const own = end === 0 ? link.a : link.b;
    side.value = op.surface(link, end);
    side.slope = op.surfaceRate(link, end, f[own] / op.C[own]);
  }

  /** Whether what lies beyond a face is empty now. */
  private looksOut({ meet }: CellsSide): boolean {
    const beyond = meet.side === "after" ? meet.before : meet.after;
    return beyond !== undefined && !this.op.fill[beyond];
  }

  /** Temperature on an interface of a link and its rate, from the conductances before and after it. */
  private readLink(from: LinkSide, f: Float64Array): void {
    const { op, side } = this;
    const { T, C } = op;
    const { link } = from;
    if (link.b < 0) {
      this.readSurface(link, 0, f);
      return;
    }
    side.slope = f[link.a] / C[link.a];
    this.takeResistances(from);
    const { before, after } = this;
    const g = op.conductance(link.a, link.axis);
    const looksOut = before + after === Number.POSITIVE_INFINITY;
    if (g === 0 || looksOut) {
      // one side is empty: the face of the other looks out
      const end = from.side === "after" || (from.side === "both" && before > after) ? 1 : 0;
      this.readSurface(link, end, f);
      return;
    }
    const atFirst = before * g;
    const atSecond = 1 - after * g;
    const share =
      from.side === "before"
        ? atFirst
        : from.side === "after"
          ? atSecond
          : 0.5 * (atFirst + atSecond);
    side.value = T[link.a] + share * (T[link.b] - T[link.a]);
    side.slope += share * (f[link.b] / C[link.b] - side.slope);
    const contact = this.contacts.size > 0 ? this.contacts.get(from) : undefined;
    if (contact !== undefined) this.holdContact(contact);
  }

  /** Goes over from what a first contact has to what the grid reads while heat crosses the cells beside it. */
  private holdContact({ value, crossed }: FirstContact): void {
    const { side, age } = this;
    const [from, to] = [HELD_UNTIL * crossed, READ_FROM * crossed];
    const held = Math.min(1, Math.max(0, (to - age) / (to - from)));
    const off = value - side.value;
    side.slope *= 1 - held;
    if (held > 0 && held < 1) side.slope -= off / (to - from);
    side.value += held * off;
  }

  /** Takes the resistances of a link before and after the place that is read. */
  private takeResistances({ link, before: last }: LinkSide): void {
    const { op } = this;
    const count = link.parts.length;
    let before = 0;
    let after = 0;
    for (let q = 0; q < count; q++) {
      const R = op.partResistance(link, q);
      if (q <= last) before += R;
      else after += R;
    }
    this.before = before;
    this.after = after;
  }

  fillHolds(holds: Uint8Array): void {
    const { active } = this.op;
    const filled = (cells: Int32Array) => cells.some((i) => active[i] === 1);
    this.readings.forEach((r, p) => {
      const any =
        r.kind === "faces"
          ? r.sides.some((s) => (s.kind === "cells" ? filled(s.cells) : holdsLink(s, active)))
          : filled(r.cells);
      holds[p] = any ? 1 : 0;
    });
  }
}

function holdsLink({ link, side }: LinkSide, active: Uint8Array): boolean {
  const { a, b } = link;
  if (side === "before" || b < 0) return active[a] === 1;
  if (side === "after") return active[b] === 1;
  return active[a] === 1 || active[b] === 1;
}
