/**
 * What the boxes exchange with their surroundings through their faces: convection, radiation, held temperatures, fluxes.
 *
 * Symbols: T K, q W into the box, R K/W from the middle of the box to its surface, h W/(m2 K).
 */
import { type BoundaryNow, boundaryNow, isMoving } from "./boundary.ts";
import { type OpenFace, starts, type Ways } from "./connections.ts";
import type { Contents } from "./contents.ts";
import type { Link } from "./grid.ts";
import type { Boundary } from "./problem.ts";
import { type Own, type Setting, SIDES } from "./setting.ts";

export interface Faces {
  /** Boxes that lose heat to the surroundings, and by how much more for each K, W/K, at the last `linearize`. */
  readonly lossy: Int32Array;
  readonly loss: Float64Array;
  /** true when some boundary changes with time. */
  readonly moving: boolean;
  configure(setting: Setting, found: readonly OpenFace[]): void;
  /** Adds the power through all faces to `out`, W; returns its sum. */
  flows(t: number, out: Float64Array): number;
  linearize(): void;
  /** Surface temperature of a link's face on the side of its box `end`, K; undefined where nothing is exchanged. */
  surface(link: Link, end: 0 | 1): number | undefined;
}

export function makeFaces(contents: Contents, ways: Ways): Faces {
  const { T } = contents;
  const n = T.length;
  let faceBox = new Int32Array(0);
  let faceArea = new Float64Array(0);
  let faceKind = new Uint8Array(0);
  let faceFixed = new Float64Array(0);
  let faceFirst = new Int32Array(1);
  let facePartSlot = new Int32Array(0);
  let facePartShape = new Float64Array(0);
  let faceSurface = new Float64Array(0);
  let faceOf: readonly [Map<Link, number>, Map<Link, number>] = [new Map(), new Map()];
  const own: Own<Faces> = {
    lossy: new Int32Array(0),
    loss: new Float64Array(0),
    moving: false,
    configure,
    flows,
    linearize,
    surface,
  };
  // face f belongs to entry faceLoss[f] of `lossy`
  let faceLoss = new Int32Array(0);
  let boundaries: Boundary[] = [];
  const now: BoundaryNow[] = Array.from({ length: SIDES.length + 1 }, () => ({
    h: 0,
    ambient: 0,
    flux: 0,
    radiation: 0,
  }));

  function configure(setting: Setting, found: readonly OpenFace[]): void {
    boundaries = [...SIDES.map((s) => setting.boundary[s]), setting.exposed];
    own.moving = boundaries.some(isMoving);
    lookAt(0);
    const open = found.filter((f) => boundaries[f.kind].kind !== "insulated");
    faceBox = Int32Array.from(open, (f) => f.box);
    faceArea = Float64Array.from(open, (f) => f.area);
    faceKind = Uint8Array.from(open, (f) => f.kind);
    faceFixed = Float64Array.from(open, (f) => f.resistance.fixed);
    faceFirst = starts(open.map((f) => f.resistance.slots.length));
    facePartSlot = Int32Array.from(open.flatMap((f) => f.resistance.slots));
    facePartShape = Float64Array.from(open.flatMap((f) => f.resistance.shapes));
    faceSurface = Float64Array.from(open, (f) => T[f.box]);
    own.lossy = Int32Array.from(
      contents.ends ? Array.from({ length: n }, (_, i) => i) : new Set(open.map((f) => f.box)),
    );
    own.loss = new Float64Array(own.lossy.length);
    const entry = new Map(Array.from(own.lossy, (box, k) => [box, k]));
    faceLoss = Int32Array.from(open, (f) => entry.get(f.box) ?? 0);
    faceOf = [new Map(), new Map()];
    open.forEach((f, k) => {
      faceOf[f.end].set(f.link, k);
    });
  }

  function faceResistance(f: number): number {
    let R = faceFixed[f];
    for (let k = faceFirst[f]; k < faceFirst[f + 1]; k++)
      R += facePartShape[k] * ways.slotR[facePartSlot[k]];
    return R;
  }

  function lookAt(t: number): void {
    for (let b = 0; b < boundaries.length; b++) boundaryNow(boundaries[b], t, now[b]);
  }

  function flows(t: number, out: Float64Array): number {
    if (own.moving) lookAt(t);
    let sum = 0;
    for (let f = 0; f < faceBox.length; f++) {
      const { h, ambient, flux, radiation } = now[faceKind[f]];
      const i = faceBox[f];
      const R = faceResistance(f);
      const A = faceArea[f];
      let q: number;
      if (radiation > 0) q = radiatingFlow(f, T[i], R, A, h, ambient, radiation);
      else if (h === Number.POSITIVE_INFINITY) q = (ambient - T[i]) / R;
      else q = h > 0 ? (ambient - T[i]) / (R + 1 / (h * A)) : 0;
      q += flux * A;
      faceSurface[f] = T[i] + q * R;
      out[i] += q;
      sum += q;
    }
    return sum;
  }

  /** The surface temperature that lets conduction bring what convection and radiation take. */
  function radiatingFlow(
    f: number,
    Tbox: number,
    R: number,
    A: number,
    h: number,
    ambient: number,
    radiation: number,
  ): number {
    let Ts = faceSurface[f];
    const ambient4 = ambient ** 4;
    for (let k = 0; k < 30; k++) {
      const Ts2 = Ts * Ts;
      const out = A * (h * (Ts - ambient) + radiation * (Ts2 * Ts2 - ambient4));
      const slope = A * (h + 4 * radiation * Ts2 * Ts) + 1 / R;
      const d = ((Tbox - Ts) / R - out) / slope;
      Ts += d;
      if (d < 1e-10 && d > -1e-10) break;
    }
    return (Ts - Tbox) / R;
  }

  function linearize(): void {
    const { loss } = own;
    if (contents.ends) loss.set(contents.ends.conductance);
    else loss.fill(0);
    for (let f = 0; f < faceBox.length; f++) {
      const { h, radiation } = now[faceKind[f]];
      const R = faceResistance(f);
      const A = faceArea[f];
      const Ts = faceSurface[f];
      if (h === Number.POSITIVE_INFINITY) loss[faceLoss[f]] += 1 / R;
      else {
        const total = A * (h + 4 * radiation * Ts * Ts * Ts);
        if (total > 0) loss[faceLoss[f]] += 1 / (R + 1 / total);
      }
    }
  }

  function surface(link: Link, end: 0 | 1): number | undefined {
    const face = faceOf[end].get(link);
    return face === undefined ? undefined : faceSurface[face];
  }

  return own;
}
