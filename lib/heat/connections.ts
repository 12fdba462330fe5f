/**
 * How the cells are connected with each other: conductances of the present filling, those that depend on T, and their
 * slopes for the implicit step.
 *
 * Symbols: T K, g W/K, R K/W.
 */
import {
  bytes,
  doubles,
  integers,
  integersOf,
  NO_BYTES,
  NO_DOUBLES,
  NO_INTEGERS,
  vectorsOf,
} from "../numerics/typed-lists.ts";
import type { Contents } from "./contents.ts";
import type { Grid } from "./grid-type.ts";
import { connectLinks, type OpenFace, outerFaces } from "./links.ts";
import { conductivityAt, conductivitySlopeAt, type Properties } from "./properties.ts";
import { type Connect, type Resistance, ResistanceBuilder } from "./resistance.ts";
import type { Setting } from "./setting.ts";

export interface Connections {
  /** Conductance to the next cell along x and along y; one and the same array when there is one row. */
  readonly gx: Float64Array;
  readonly gy: Float64Array;
  /** Implicit part: slope of the flow along x by the T of either end, and conductance along y, at the last `linearize`. */
  readonly upX: Float64Array;
  readonly loX: Float64Array;
  readonly stiffY: Float64Array;
  /** Resistivities that vary, one for each (cell, material), m K/W. */
  readonly slotR: Float64Array;
  /** Connects the cells as they are filled now, once; returns the faces toward the surroundings. */
  connect(setting: Setting): OpenFace[];
  /** Takes what depends on T again. */
  conductances(): void;
  /** Takes the implicit part at the present T. */
  linearize(): void;
}

export function makeConnections(grid: Grid, contents: Contents): Connections {
  return new CellConnections(grid, contents);
}

/** A connection whose conductance depends on T. */
interface Variable {
  readonly at: number;
  readonly axis: number;
  readonly resistance: Resistance;
}

class CellConnections implements Connections {
  readonly gx: Float64Array;
  readonly gy: Float64Array;
  // the conductances themselves while k is constant, else as they were at the start of the step
  upX: Float64Array;
  loX: Float64Array;
  stiffY: Float64Array;
  slotR = NO_DOUBLES;
  private readonly grid: Grid;
  private readonly contents: Contents;
  private slotCell = NO_INTEGERS;
  private slotProps: readonly Properties[] = [];
  private slotSlope = NO_DOUBLES;
  // connections whose conductance has to be taken again with each evaluation
  private variableAt = NO_INTEGERS;
  private variableAxis = NO_BYTES;
  private firstPart = new Int32Array(1);
  private fixed = NO_DOUBLES;
  private partSlot = NO_INTEGERS;
  private partShape = NO_DOUBLES;
  private partEnd = NO_BYTES;

  constructor(grid: Grid, contents: Contents) {
    const n = grid.nx * grid.ny;
    this.grid = grid;
    this.contents = contents;
    this.gx = doubles(n);
    this.gy = grid.ny > 1 ? doubles(n) : this.gx;
    this.upX = this.gx;
    this.loX = this.gx;
    this.stiffY = this.gy;
  }

  connect(setting: Setting): OpenFace[] {
    const { grid, contents, gx, gy } = this;
    const builder = new ResistanceBuilder(contents.fill);
    const variable: Variable[] = [];
    const note: Connect = (at, axis, resistance) => {
      const g = axis === 0 ? gx : gy;
      if (resistance.slots.length === 0) g[at] = resistance.fixed > 0 ? 1 / resistance.fixed : 0;
      else variable.push({ at, axis, resistance });
    };
    gx.fill(0);
    if (grid.ny > 1) gy.fill(0);
    this.connectPlain(builder, note);
    const faces = [
      ...connectLinks(grid, contents, setting, builder, note),
      ...outerFaces(grid, contents, setting, builder),
    ];
    if (builder.slotCell.length > 0) {
      this.slotCell = integersOf(builder.slotCell, (cell) => cell);
      this.slotProps = builder.slotProps;
      [this.slotR, this.slotSlope] = vectorsOf(2, this.slotCell.length);
    }
    this.takeVariable(variable);
    const n = gx.length;
    const varies = variable.length > 0;
    this.upX = varies ? doubles(n) : gx;
    this.loX = varies && grid.ny === 1 ? doubles(n) : this.upX;
    this.stiffY = varies && grid.ny > 1 ? doubles(n) : gy;
    return faces;
  }

  /** Connections that vary, with their parts one after the other; there are none at first. */
  private takeVariable(variable: readonly Variable[]): void {
    const count = variable.length;
    if (count === 0) return;
    const firstPart = integers(count + 1);
    for (let w = 0; w < count; w++)
      firstPart[w + 1] = firstPart[w] + variable[w].resistance.slots.length;
    this.firstPart = firstPart;
    this.variableAt = integers(count);
    this.variableAxis = bytes(count);
    this.fixed = doubles(count);
    this.partSlot = integers(firstPart[count]);
    this.partShape = doubles(firstPart[count]);
    this.partEnd = bytes(firstPart[count]);
    for (let w = 0; w < count; w++) {
      const { at, axis, resistance } = variable[w];
      const { slots, shapes, ends } = resistance;
      this.variableAt[w] = at;
      this.variableAxis[w] = axis;
      this.fixed[w] = resistance.fixed;
      for (let k = 0, to = firstPart[w]; k < slots.length; k++, to++) {
        this.partSlot[to] = slots[k];
        this.partShape[to] = shapes[k];
        this.partEnd[to] = ends[k];
      }
    }
  }

  /** Connections between two cells that are full of one region. */
  private connectPlain(builder: ResistanceBuilder, note: Connect): void {
    const { grid, contents, gx, gy } = this;
    const { nx, ny } = grid;
    for (let j = 0, at = 0; j < ny; j++)
      for (let i = 0; i < nx; i++, at++) {
        const region = grid.content[at];
        if (region < 0) continue;
        const p = contents.fill[region];
        if (!p) continue;
        if (i + 1 < nx && grid.content[at + 1] === region) {
          if (p.constantConductivity)
            gx[at] = (p.k * grid.ly[j]) / (grid.toRight[i] + grid.toLeft[i + 1]);
          else {
            const resistance = builder.none();
            builder.add(resistance, p, at, { shape: grid.toRight[i] / grid.ly[j], end: 0 });
            builder.add(resistance, p, at + 1, { shape: grid.toLeft[i + 1] / grid.ly[j], end: 1 });
            note(at, 0, resistance);
          }
        }
        if (j + 1 < ny && grid.content[at + nx] === region) {
          const lower = (0.5 * grid.ly[j]) / grid.vx[i];
          const upper = (0.5 * grid.ly[j + 1]) / grid.vx[i];
          if (p.constantConductivity) gy[at] = p.k / (lower + upper);
          else {
            const resistance = builder.none();
            builder.add(resistance, p, at, { shape: lower, end: 0 });
            builder.add(resistance, p, at + nx, { shape: upper, end: 1 });
            note(at, 1, resistance);
          }
        }
      }
  }

  conductances(): void {
    const { slotCell, slotProps, slotR, variableAt, variableAxis, firstPart, fixed } = this;
    const { partShape, partSlot, gx, gy } = this;
    const { T } = this.contents;
    if (slotCell.length === 0) return;
    for (let s = 0; s < slotCell.length; s++)
      slotR[s] = 1 / conductivityAt(slotProps[s], T[slotCell[s]]);
    for (let w = 0; w < variableAt.length; w++) {
      let R = fixed[w];
      for (let k = firstPart[w]; k < firstPart[w + 1]; k++) R += partShape[k] * slotR[partSlot[k]];
      if (variableAxis[w] === 0) gx[variableAt[w]] = 1 / R;
      else gy[variableAt[w]] = 1 / R;
    }
  }

  /** Where k varies: the conductances of now; with their slopes in a grid of one row. */
  linearize(): void {
    const { upX, loX, stiffY, slotR, gx, gy, slotCell, slotSlope, slotProps } = this;
    const { variableAt, firstPart, partSlot, partShape, partEnd } = this;
    const { T } = this.contents;
    if (upX === gx) return;
    upX.set(gx);
    if (gy !== gx) {
      stiffY.set(gy);
      return;
    }
    loX.set(gx);
    for (let s = 0; s < slotCell.length; s++)
      slotSlope[s] = conductivitySlopeAt(slotProps[s], T[slotCell[s]]);
    for (let w = 0; w < variableAt.length; w++) {
      const at = variableAt[w];
      const g = gx[at];
      const drop = T[at + 1] - T[at];
      for (let k = firstPart[w]; k < firstPart[w + 1]; k++) {
        const s = partSlot[k];
        const dg = g * g * partShape[k] * slotR[s] * slotR[s] * slotSlope[s];
        if (partEnd[k] === 0) loX[at] -= dg * drop;
        else upX[at] += dg * drop;
      }
    }
  }
}

/** First entry of each list when the lists stand one after the other. */
export function starts(lengths: readonly number[]): Int32Array<ArrayBuffer> {
  const out = new Int32Array(lengths.length + 1);
  lengths.forEach((l, i) => {
    out[i + 1] = out[i] + l;
  });
  return out;
}
