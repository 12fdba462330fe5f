/**
 * What the cells exchange with their surroundings through their faces: convection, radiation, held temperatures, fluxes.
 *
 * Symbols: T K, q W into the cell, R K/W from the middle of the cell to its surface, h W/(m2 K).
 */
import {
  bytesOf,
  doublesOf,
  integersOf,
  NO_BYTES,
  NO_DOUBLES,
  NO_INTEGERS,
  vectorsOf,
} from "../numerics/typed-lists.ts";
import { type BoundaryNow, boundaryNow, isMoving } from "./boundary.ts";
import { type Connections, starts } from "./connections.ts";
import type { Contents } from "./contents.ts";
import type { Link } from "./grid-links.ts";
import type { OpenFace } from "./links.ts";
import type { Boundary } from "./problem.ts";
import { type Setting, SIDES } from "./setting.ts";

export interface Faces {
  /** Cells that lose heat to the surroundings, and by how much more for each K, W/K, at the last `linearize`. */
  readonly lossy: Int32Array;
  readonly loss: Float64Array;
  /** true when some boundary changes with time. */
  readonly moving: boolean;
  configure(setting: Setting, found: readonly OpenFace[]): void;
  /** Starts again from the present T, with the same faces. */
  restart(): void;
  /** Boundaries are taken strictly between these times: at a jump, the value of the piece that the step is in. */
  within(from: number, to: number): void;
  /** Adds the power through all faces to `out`, W; returns its sum. */
  flows(t: number, out: Float64Array): number;
  linearize(): void;
  /** Power through the faces of one kind (a side, or `EXPOSED`) at the last `flows`, W. */
  readonly inflow: Float64Array;
  /** Surface temperature of a link's face on the side of its cell `end`, K; undefined where nothing is exchanged. */
  surface(link: Link, end: 0 | 1): number | undefined;
  /** Its rate of change while its cell's is `cellRate`, K/s: the cell moves it, and so does the boundary. */
  surfaceRate(link: Link, end: 0 | 1, cellRate: number): number | undefined;
}

/** No face is looked for below this, K. */
const COLDEST_FACE = 1;

/**
 * A face that moved by less than this in one iteration is found, K: each one leaves less than a hundredth of the square of what
 * it moved, so that the face is as good as exact (1e-10).
 */
const FACE_FOUND = 1e-4;

export function makeFaces(contents: Contents, connections: Connections): Faces {
  return new OpenFaces(contents, connections);
}

class OpenFaces implements Faces {
  lossy = NO_INTEGERS;
  loss = NO_DOUBLES;
  moving = false;
  readonly inflow = new Float64Array(SIDES.length + 1);
  private earliest = Number.NEGATIVE_INFINITY;
  private latest = Number.POSITIVE_INFINITY;
  private readonly contents: Contents;
  private readonly connections: Connections;
  private faceCell = NO_INTEGERS;
  private faceArea = NO_DOUBLES;
  private faceKind = NO_BYTES;
  private faceFixed = NO_DOUBLES;
  private firstPart = new Int32Array(1);
  private partSlot = NO_INTEGERS;
  private partShape = NO_DOUBLES;
  // face f belongs to entry faceLoss[f] of `lossy`
  private faceLoss = NO_INTEGERS;
  private faceSurface = NO_DOUBLES;
  /** From the cell to the surface, K/W, and to the surroundings where the surface does not radiate, W/K. */
  private faceR = NO_DOUBLES;
  private faceG = NO_DOUBLES;
  private open: readonly OpenFace[] = [];
  /** Face of each link on either side; made when the first surface is read, which few runs do. */
  private faceOf: readonly [Map<Link, number>, Map<Link, number>] | undefined = undefined;
  private boundaries: readonly Boundary[] = [];
  private readonly now: readonly BoundaryNow[] = [still(), still(), still(), still(), still()];
  /** Time of `now`, s. */
  private time = 0;
  /** Rates of change of one boundary, a second. */
  private readonly rate = still();
  private readonly beside = still();

  constructor(contents: Contents, connections: Connections) {
    this.contents = contents;
    this.connections = connections;
  }

  configure(setting: Setting, found: readonly OpenFace[]): void {
    const { T, ends } = this.contents;
    this.boundaries = [...SIDES.map((s) => setting.boundary[s]), setting.exposed];
    this.moving = this.boundaries.some(isMoving);
    const open = found.filter((f) => this.boundaries[f.kind].kind !== "insulated");
    this.open = open;
    this.faceOf = undefined;
    this.faceCell = integersOf(open, (f) => f.cell);
    this.faceArea = doublesOf(open, (f) => f.area);
    this.faceKind = bytesOf(open, (f) => f.kind);
    this.faceFixed = doublesOf(open, (f) => f.resistance.fixed);
    const slots: number[] = [];
    const shapes: number[] = [];
    for (const { resistance } of open) {
      slots.push(...resistance.slots);
      shapes.push(...resistance.shapes);
    }
    this.firstPart = starts(open.map((f) => f.resistance.slots.length));
    this.partSlot = integersOf(slots, (slot) => slot);
    this.partShape = doublesOf(shapes, (shape) => shape);
    // each cell once, in the order of the faces
    const lossy = ends ? Array.from(T.keys()) : open.map((f) => f.cell);
    const entry = new Map<number, number>();
    for (const cell of lossy) if (!entry.has(cell)) entry.set(cell, entry.size);
    this.lossy = new Int32Array([...entry.keys()]);
    this.loss = new Float64Array(this.lossy.length);
    this.faceLoss = integersOf(open, (f) => entry.get(f.cell) ?? 0);
    [this.faceR, this.faceG] = vectorsOf(2, open.length);
    this.restart();
  }

  restart(): void {
    const { T } = this.contents;
    this.earliest = Number.NEGATIVE_INFINITY;
    this.latest = Number.POSITIVE_INFINITY;
    this.takeBoundaries(0);
    this.faceSurface = doublesOf(this.faceCell, (cell) => T[cell]);
  }

  /** Takes what lies between the cells and their surroundings: as the boundaries are now, and the conductivities. */
  private takeResistances(): void {
    const { now, faceKind, faceArea, faceFixed, faceR, faceG, firstPart, partShape, partSlot } =
      this;
    const { slotR } = this.connections;
    for (let f = 0; f < faceR.length; f++) {
      let R = faceFixed[f];
      for (let k = firstPart[f]; k < firstPart[f + 1]; k++) R += partShape[k] * slotR[partSlot[k]];
      const { h } = now[faceKind[f]];
      faceR[f] = R;
      faceG[f] = h > 0 ? 1 / (R + 1 / (h * faceArea[f])) : 0;
    }
  }

  within(from: number, to: number): void {
    const inset = Math.min(1e-9 * (to - from) + 1e-12 * to, 0.25 * (to - from));
    this.earliest = from + inset;
    this.latest = to - inset;
    this.takeBoundaries(from);
  }

  private takeBoundaries(time: number): void {
    const { boundaries, now } = this;
    const t = Math.min(Math.max(time, this.earliest), this.latest);
    this.time = t;
    for (let b = 0; b < boundaries.length; b++) boundaryNow(boundaries[b], t, now[b]);
    this.takeResistances();
  }

  flows(t: number, out: Float64Array): number {
    if (this.moving) this.takeBoundaries(t);
    else if (this.partSlot.length > 0) this.takeResistances();
    const { now, faceCell, faceKind, faceArea, faceSurface, faceR, faceG, inflow } = this;
    const { T } = this.contents;
    let sum = 0;
    for (let side = 0; side < inflow.length; side++) inflow[side] = 0;
    for (let f = 0; f < faceCell.length; f++) {
      const kind = faceKind[f];
      const boundary = now[kind];
      const i = faceCell[f];
      const exchanged =
        boundary.radiation > 0
          ? this.radiatingFlow(f, T[i], boundary)
          : faceG[f] * (boundary.ambient - T[i]);
      const q = exchanged + boundary.flux * faceArea[f];
      faceSurface[f] = T[i] + q * faceR[f];
      out[i] += q;
      sum += q;
      inflow[kind] += q;
    }
    return sum;
  }

  /** The surface temperature that lets conduction bring what convection and radiation take. */
  private radiatingFlow(f: number, Tcell: number, { h, ambient, radiation }: BoundaryNow): number {
    const A = this.faceArea[f];
    const R = this.faceR[f];
    // a cell far off in a trial step must not leave its face below absolute zero: the fourth power has a root there, too
    let Ts = Math.max(this.faceSurface[f], COLDEST_FACE);
    const ambient2 = ambient * ambient;
    const ambient4 = ambient2 * ambient2;
    for (let k = 0; k < 30; k++) {
      const Ts2 = Ts * Ts;
      const out = A * (h * (Ts - ambient) + radiation * (Ts2 * Ts2 - ambient4));
      const slope = A * (h + 4 * radiation * Ts2 * Ts) + 1 / R;
      const d = ((Tcell - Ts) / R - out) / slope;
      Ts = Math.max(Ts + d, COLDEST_FACE);
      if (d < FACE_FOUND && d > -FACE_FOUND) break;
    }
    return (Ts - Tcell) / R;
  }

  linearize(): void {
    const { loss, now, faceKind, faceArea, faceSurface, faceLoss, faceR, faceG } = this;
    const { ends } = this.contents;
    if (ends) loss.set(ends.conductance);
    else loss.fill(0);
    for (let f = 0; f < faceG.length; f++) {
      const { h, radiation } = now[faceKind[f]];
      if (radiation === 0) loss[faceLoss[f]] += faceG[f];
      else {
        const Ts = faceSurface[f];
        const total = faceArea[f] * (h + 4 * radiation * Ts * Ts * Ts);
        loss[faceLoss[f]] += 1 / (faceR[f] + 1 / total);
      }
    }
  }

  private faceAt(link: Link, end: 0 | 1): number | undefined {
    if (this.faceOf === undefined) {
      const faceOf = [new Map<Link, number>(), new Map<Link, number>()] as const;
      this.open.forEach((f, k) => {
        faceOf[f.end].set(f.link, k);
      });
      this.faceOf = faceOf;
    }
    return this.faceOf[end].get(link);
  }

  surface(link: Link, end: 0 | 1): number | undefined {
    const face = this.faceAt(link, end);
    return face === undefined ? undefined : this.faceSurface[face];
  }

  surfaceRate(link: Link, end: 0 | 1, cellRate: number): number | undefined {
    const f = this.faceAt(link, end);
    if (f === undefined) return undefined;
    const { h, ambient, radiation } = this.now[this.faceKind[f]];
    const moved = this.rateOf(this.faceKind[f]);
    if (h === Number.POSITIVE_INFINITY) return moved.ambient;
    const R = this.faceR[f];
    const A = this.faceArea[f];
    const Ts = this.faceSurface[f];
    // (T - Ts) / R = A (h (Ts - ambient) + radiation (Ts^4 - ambient^4) - flux), differentiated
    const driven =
      (h + 4 * radiation * ambient ** 3) * moved.ambient - moved.h * (Ts - ambient) + moved.flux;
    return (cellRate / R + A * driven) / (1 / R + A * (h + 4 * radiation * Ts ** 3));
  }

  /** How fast the laws of a boundary change now. */
  private rateOf(kind: number): BoundaryNow {
    const { boundaries, rate, beside, earliest, latest, time } = this;
    const b = boundaries[kind];
    rate.h = 0;
    rate.ambient = 0;
    rate.flux = 0;
    if (!isMoving(b)) return rate;
    const piece = latest - earliest;
    const d = 1e-6 * (piece < Number.POSITIVE_INFINITY ? piece : 1);
    const from = Math.max(time - d, earliest);
    const to = Math.min(time + d, latest);
    if (!(to > from)) return rate;
    boundaryNow(b, to, rate);
    boundaryNow(b, from, beside);
    rate.h = b.kind === "held" ? 0 : (rate.h - beside.h) / (to - from);
    rate.ambient = (rate.ambient - beside.ambient) / (to - from);
    rate.flux = (rate.flux - beside.flux) / (to - from);
    return rate;
  }
}

function still(): BoundaryNow {
  return { h: 0, ambient: 0, flux: 0, radiation: 0 };
}
