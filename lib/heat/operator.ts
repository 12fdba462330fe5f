/**
 * The heat balance of every box, as the stiff system that the time stepper solves.
 *
 * State u: the energy E of each box in J (from 0 degC), then the cure of each box (only where something cures), last
 * the energy Q that has come in through the faces, in J. E and Q are stepped by the same linear equations, so what the
 * boxes gain is what came in and what curing released, to rounding: the energy audit checks just that.
 *
 *     dE/dt = sum of g (T_neighbor - T) + faces + qV d(cure)/dt,    T = T(E)
 *
 * Symbols: T K, C = volume c J/K, g W/K, qV J set free by full cure of the box.
 *
 * Implicit part: D - Lx - Ly, D = C/(gamma h) + losses - reaction. With one row the y part is empty and the solve is
 * exact; otherwise it is factored as (D - Lx) D^-1 (D - Ly), each factor tridiagonal.
 */
import type { Material, RateLaw } from "../materials/material.ts";
import type { StiffSystem } from "../numerics/rosenbrock.ts";
import { type BoundaryNow, boundaryNow, isMoving } from "./boundary.ts";
import type { Grid, Link } from "./grid.ts";
import type { Boundary, EndLoss, Side } from "./problem.ts";
import {
  capacityAt,
  conductivityAt,
  conductivitySlopeAt,
  enthalpyAt,
  type Properties,
  ZERO_CELSIUS,
} from "./properties.ts";

/** What fills the grid and surrounds it during one stage. */
export interface Setting {
  /** Material of each region; undefined: empty space. */
  readonly fill: readonly (string | undefined)[];
  readonly boundary: Readonly<Record<Side, Boundary>>;
  readonly exposed: Boundary;
  readonly ends: EndLoss | undefined;
  /** Contact conductance between two regions, W/(m2 K); Infinity for perfect contact. */
  contact(regionA: number, regionB: number): number;
}

export interface Operator extends StiffSystem {
  readonly grid: Grid;
  readonly boxes: number;
  /** Temperatures of the last `rates` or `refresh`, K. */
  readonly T: Float64Array;
  /** Heat capacity of each box at the last `linearize` or `refresh`, J/K; 1 for an empty box. */
  readonly C: Float64Array;
  /** 1 where a box holds something. */
  readonly active: Uint8Array;
  readonly hasCure: boolean;
  /** J set free by full cure of each box. */
  readonly qV: Float64Array;
  configure(setting: Setting): void;
  /** Energy of a box whose regions have these temperatures. */
  energyOf(box: number, regionT: (region: number) => number): number;
  /** Takes T and C from the state. */
  refresh(u: Float64Array): void;
  /** Conductance of the plain or special way from box a along an axis, W/K, as last evaluated. */
  conductance(box: number, axis: 0 | 1): number;
  /**
   * Surface temperature at the outer end of a face or, where the other side of a link is empty, of the side that
   * isn't (`end` 0: the side of box a); as last evaluated. NaN-free: the box's own where nothing is exchanged.
   */
  surface(link: Link, end: 0 | 1): number;
  /** Conductivity used at the last evaluation for a part of a link. */
  partResistance(link: Link, part: number): number;
}

const SIDES: readonly Side[] = ["left", "right", "top", "bottom"];
const EXPOSED = 4;

export function makeOperator(
  grid: Grid,
  materials: Readonly<Record<string, Material>>,
  properties: ReadonlyMap<string, Properties>,
  moves: boolean,
): Operator {
  const { nx, ny } = grid;
  const n = nx * ny;
  const rows = ny;
  const hasCure = Object.values(materials).some((m) => m.cure !== undefined);
  const cureAt = n;
  const size = n + (hasCure ? n : 0) + 1;
  const Qat = size - 1;
  const exactSlopes = ny === 1;

  const T = new Float64Array(n).fill(ZERO_CELSIUS + 20);
  const C = new Float64Array(n);
  const volume = (box: number) => grid.vx[box % nx] * grid.ly[(box / nx) | 0];
  const active = new Uint8Array(n);
  const gx = new Float64Array(n);
  const gy = rows > 1 ? new Float64Array(n) : gx;
  // implicit part: derivative of the flow along x by the temperature of either end, and along y; the conductances
  // themselves while k is constant, else as they were at the start of the step
  let upX = gx;
  let loX = gx;
  let stiffY = gy;
  const D = new Float64Array(n);
  const invX = new Float64Array(n);
  const invY = rows > 1 ? new Float64Array(n) : invX;
  const qV = new Float64Array(hasCure ? n : 0);
  const rateCure = new Float64Array(hasCure ? n : 0);
  const rateT = new Float64Array(hasCure ? n : 0);
  const rateOut = new Float64Array(3);

  let fill: (Properties | undefined)[] = [];
  let varying: { props: Properties; boxes: Int32Array; V: Float64Array }[] = [];
  let varyingMix: Int32Array = new Int32Array(0);
  let curing: { law: RateLaw; boxes: Int32Array }[] = [];
  let endG: Float64Array | undefined;
  let endAmbient = 0;
  let source: Float64Array | undefined;

  // conductivities that vary: one slot for each (box, material); slot s < 0 stands for a constant one
  let slotBox = new Int32Array(0);
  let slotProps: Properties[] = [];
  let slotK = new Float64Array(0);
  let slotSlope = new Float64Array(0);
  // ways whose conductance has to be taken again with each evaluation
  let wayAt = new Int32Array(0);
  let wayAxis = new Uint8Array(0);
  let wayFirst = new Int32Array(1);
  let wayFixed = new Float64Array(0);
  let partSlot = new Int32Array(0);
  let partShape = new Float64Array(0);
  let partEnd = new Uint8Array(0);
  // faces toward the surroundings
  let faceBox = new Int32Array(0);
  let faceArea = new Float64Array(0);
  let faceKind = new Uint8Array(0);
  let faceFixed = new Float64Array(0);
  let faceFirst = new Int32Array(1);
  let facePartSlot = new Int32Array(0);
  let facePartShape = new Float64Array(0);
  let faceSurface = new Float64Array(0);
  let faceOf: readonly [Map<Link, number>, Map<Link, number>] = [new Map(), new Map()];
  // boxes that exchange heat with the surroundings
  let lossy = new Int32Array(0);
  let loss = new Float64Array(0);
  // face f belongs to entry faceLoss[f] of `lossy`
  let faceLoss = new Int32Array(0);
  let boundaries: Boundary[] = [];
  const now: BoundaryNow[] = Array.from({ length: 5 }, () => ({
    h: 0,
    ambient: 0,
    flux: 0,
    radiation: 0,
  }));
  let moving = false;

  const regionsIn = (box: number, visit: (region: number, share: number) => void) => {
    const content = grid.content[box];
    if (content >= 0) visit(content, 1);
    else
      for (let k = grid.mixStart[-1 - content]; k < grid.mixStart[-content]; k++)
        visit(grid.mixRegion[k], grid.mixShare[k]);
  };

  function energyOf(box: number, regionT: (region: number) => number): number {
    let E = 0;
    regionsIn(box, (region, share) => {
      const p = fill[region];
      if (p) E += share * volume(box) * enthalpyAt(p, regionT(region));
    });
    return E;
  }

  function configure(setting: Setting): void {
    fill = setting.fill.map((name) => (name === undefined ? undefined : properties.get(name)));
    boundaries = [...SIDES.map((s) => setting.boundary[s]), setting.exposed];
    moving = boundaries.some(isMoving);
    fillBoxes(setting);
    connect(setting);
  }

  function fillBoxes(setting: Setting): void {
    const pure = new Map<Properties, number[]>();
    const mixed: number[] = [];
    const cures = new Map<RateLaw, number[]>();
    let anySource = false;
    const sources = new Float64Array(n);
    if (hasCure) qV.fill(0);
    for (let at = 0; at < n; at++) {
      let present = 0;
      let constant = true;
      let capacity = 0;
      regionsIn(at, (region, share) => {
        const p = fill[region];
        const name = setting.fill[region];
        if (!p || name === undefined) return;
        present++;
        if (p.constantCapacity) capacity += share * volume(at) * p.c;
        else constant = false;
        if (p.source !== 0) {
          anySource = true;
          sources[at] += share * volume(at) * p.source;
        }
        const cure = materials[name].cure;
        if (cure) {
          const list = cures.get(cure.law) ?? [];
          list.push(at);
          cures.set(cure.law, list);
          qV[at] += share * volume(at) * p.density * cure.heat;
        }
      });
      active[at] = present > 0 ? 1 : 0;
      if (present === 0) C[at] = 1;
      else if (constant) C[at] = capacity;
      else if (grid.content[at] >= 0) {
        const p = fill[grid.content[at]] as Properties;
        const list = pure.get(p) ?? [];
        list.push(at);
        pure.set(p, list);
      } else mixed.push(at);
    }
    varying = [...pure].map(([props, boxes]) => ({
      props,
      boxes: Int32Array.from(boxes),
      V: Float64Array.from(boxes, volume),
    }));
    varyingMix = Int32Array.from(mixed);
    mixT = Float64Array.from(mixed, (i) => T[i]);
    mixE = Float64Array.from(mixed, (i) => energyAt(i, T[i]));
    for (const i of mixed) C[i] = capacityOf(i, T[i]);
    curing = [...cures].map(([law, boxes]) => ({ law, boxes: Int32Array.from(boxes) }));
    source = anySource ? sources : undefined;
    endG = undefined;
    const { ends } = setting;
    if (ends) {
      // the ends see less than the mean temperature: half the length conducts, 1/3 of it for a parabola
      endG = new Float64Array(n);
      endAmbient = ends.ambient;
      for (let at = 0; at < n; at++) {
        const p = fill[grid.center[at]];
        if (active[at] === 0 || !p) continue;
        const k = conductivityAt(p, ZERO_CELSIUS + 50);
        endG[at] = (2 * volume(at)) / ends.length / (1 / ends.h + ends.length / 6 / k);
      }
    }
  }

  /** Resistance and varying parts of the ways and faces for the present filling. */
  function connect(setting: Setting): void {
    const slots = new Map<string, number>();
    const boxesOfSlots: number[] = [];
    const propsOfSlots: Properties[] = [];
    const slotFor = (box: number, p: Properties): number => {
      const key = `${box}:${fill.indexOf(p)}`;
      let slot = slots.get(key);
      if (slot === undefined) {
        slot = boxesOfSlots.length;
        slots.set(key, slot);
        boxesOfSlots.push(box);
        propsOfSlots.push(p);
      }
      return slot;
    };
    interface Collected {
      fixed: number;
      slots: number[];
      shapes: number[];
      ends: number[];
    }
    const none = (): Collected => ({ fixed: 0, slots: [], shapes: [], ends: [] });
    const addPart = (c: Collected, p: Properties, box: number, shape: number, end: number) => {
      if (p.constantConductivity) c.fixed += shape / p.k;
      else {
        c.slots.push(slotFor(box, p));
        c.shapes.push(shape);
        c.ends.push(end);
      }
    };
    const ways: { at: number; axis: number; c: Collected }[] = [];
    const faces: {
      box: number;
      area: number;
      kind: number;
      c: Collected;
      link: Link;
      end: 0 | 1;
    }[] = [];
    const setWay = (at: number, axis: 0 | 1, c: Collected) => {
      const g = axis === 0 ? gx : gy;
      if (c.slots.length === 0) g[at] = c.fixed > 0 ? 1 / c.fixed : 0;
      else ways.push({ at, axis, c });
    };
    gx.fill(0);
    if (rows > 1) gy.fill(0);
    // plain ways: both boxes full of one region
    for (let j = 0, at = 0; j < ny; j++)
      for (let i = 0; i < nx; i++, at++) {
        const region = grid.content[at];
        if (region < 0) continue;
        const p = fill[region];
        if (!p) continue;
        if (i + 1 < nx && grid.content[at + 1] === region) {
          if (p.constantConductivity)
            gx[at] = (p.k * grid.ly[j]) / (grid.toRight[i] + grid.toLeft[i + 1]);
          else {
            const c = none();
            addPart(c, p, at, grid.toRight[i] / grid.ly[j], 0);
            addPart(c, p, at + 1, grid.toLeft[i + 1] / grid.ly[j], 1);
            setWay(at, 0, c);
          }
        }
        if (j + 1 < ny && grid.content[at + nx] === region) {
          const lower = (0.5 * grid.ly[j]) / grid.vx[i];
          const upper = (0.5 * grid.ly[j + 1]) / grid.vx[i];
          if (p.constantConductivity) gy[at] = p.k / (lower + upper);
          else {
            const c = none();
            addPart(c, p, at, lower, 0);
            addPart(c, p, at + nx, upper, 1);
            setWay(at, 1, c);
          }
        }
      }
    for (const link of grid.links) {
      const { parts, joints, a, b, axis } = link;
      const whole = parts.every((p) => fill[p.region]);
      if (whole) {
        const c = none();
        parts.forEach((part, k) => {
          addPart(c, fill[part.region] as Properties, part.end === 0 ? a : b, part.shape, part.end);
          if (k < joints.length && joints[k] > 0) {
            const h = setting.contact(part.region, parts[k + 1].region);
            if (h < Number.POSITIVE_INFINITY) c.fixed += 1 / (h * joints[k]);
          }
        });
        setWay(a, axis, c);
        continue;
      }
      // something on the way is empty: each side that holds matter looks out through the outline
      const look = (box: number, from: number, step: 1 | -1): Collected | undefined => {
        if (!fill[parts[from].region]) return undefined;
        const c = none();
        let k = from;
        for (; k >= 0 && k < parts.length && fill[parts[k].region]; k += step)
          addPart(c, fill[parts[k].region] as Properties, box, parts[k].shape, 0);
        const joint = step === 1 ? joints[k - 1] : joints[k];
        if (joint > 0)
          faces.push({ box, area: joint, kind: EXPOSED, c, link, end: step === 1 ? 0 : 1 });
        return c;
      };
      const fromA = look(a, 0, 1);
      const fromB = look(b, parts.length - 1, -1);
      // a sliver whose center is empty hangs on the neighbor whose center isn't
      if (fromA && !fromB && active[b] === 1) setWay(a, axis, fromA);
      else if (fromB && !fromA && active[a] === 1) {
        setWay(a, axis, { ...fromB, ends: fromB.ends.map(() => 1) });
      }
    }
    for (const link of grid.faces) {
      const { parts, joints, a, side } = link;
      if (!fill[parts[0].region]) continue;
      const c = none();
      let k = 0;
      for (; k < parts.length && fill[parts[k].region]; k++) {
        addPart(c, fill[parts[k].region] as Properties, a, parts[k].shape, 0);
        if (k + 1 < parts.length && joints[k] > 0 && fill[parts[k + 1].region]) {
          const h = setting.contact(parts[k].region, parts[k + 1].region);
          if (h < Number.POSITIVE_INFINITY) c.fixed += 1 / (h * joints[k]);
        }
      }
      if (k === parts.length)
        faces.push({ box: a, area: link.area, kind: SIDES.indexOf(side as Side), c, link, end: 0 });
      else if (joints[k - 1] > 0)
        faces.push({ box: a, area: joints[k - 1], kind: EXPOSED, c, link, end: 0 });
    }
    const open = faces.filter((f) => boundaries[f.kind].kind !== "insulated");
    slotBox = Int32Array.from(boxesOfSlots);
    slotProps = propsOfSlots;
    slotK = new Float64Array(slotBox.length);
    slotSlope = new Float64Array(slotBox.length);
    wayAt = Int32Array.from(ways, (w) => w.at);
    wayAxis = Uint8Array.from(ways, (w) => w.axis);
    wayFixed = Float64Array.from(ways, (w) => w.c.fixed);
    wayFirst = starts(ways.map((w) => w.c.slots.length));
    partSlot = Int32Array.from(ways.flatMap((w) => w.c.slots));
    partShape = Float64Array.from(ways.flatMap((w) => w.c.shapes));
    partEnd = Uint8Array.from(ways.flatMap((w) => w.c.ends));
    faceBox = Int32Array.from(open, (f) => f.box);
    faceArea = Float64Array.from(open, (f) => f.area);
    faceKind = Uint8Array.from(open, (f) => f.kind);
    faceFixed = Float64Array.from(open, (f) => f.c.fixed);
    faceFirst = starts(open.map((f) => f.c.slots.length));
    facePartSlot = Int32Array.from(open.flatMap((f) => f.c.slots));
    facePartShape = Float64Array.from(open.flatMap((f) => f.c.shapes));
    faceSurface = Float64Array.from(open, (f) => T[f.box]);
    lossy = Int32Array.from(
      endG ? Array.from({ length: n }, (_, i) => i) : new Set(open.map((f) => f.box)),
    );
    loss = new Float64Array(lossy.length);
    const entry = new Map(Array.from(lossy, (box, k) => [box, k]));
    faceLoss = Int32Array.from(open, (f) => entry.get(f.box) ?? 0);
    faceOf = [new Map(), new Map()];
    open.forEach((f, k) => {
      faceOf[f.end].set(f.link, k);
    });
    const varies = ways.length > 0;
    upX = varies ? new Float64Array(n) : gx;
    loX = varies && exactSlopes ? new Float64Array(n) : upX;
    stiffY = varies && rows > 1 ? new Float64Array(n) : gy;
  }

  /** T of every box from its energy. */
  function temperatures(u: Float64Array): void {
    const t = T;
    const c = C;
    for (let i = 0; i < n; i++) t[i] = ZERO_CELSIUS + u[i] / c[i];
    for (let m = 0; m < varying.length; m++)
      vary(varying[m].props, varying[m].boxes, varying[m].V, u);
    for (let b = 0; b < varyingMix.length; b++) {
      const i = varyingMix[b];
      // a straight line from the last one known is a close first guess
      const guess = mixT[b] + (u[i] - mixE[b]) / C[i];
      t[i] = mixTemperature(i, u[i], guess);
      mixT[b] = t[i];
      mixE[b] = u[i];
    }
  }

  function vary(props: Properties, boxes: Int32Array, V: Float64Array, u: Float64Array): void {
    const { T0, perKelvin, last, cTable, hTable, startOf, perEnthalpy } = props;
    const step = 1 / perKelvin;
    const h0 = hTable[0];
    const end = startOf.length - 1;
    for (let b = 0; b < boxes.length; b++) {
      const i = boxes[b];
      const h = u[i] / V[b];
      const at = (h - h0) * perEnthalpy;
      let k = startOf[at > 0 ? (at < end ? at | 0 : end) : 0];
      while (k < last - 1 && h > hTable[k + 1]) k++;
      // c is linear in the interval, so h is a parabola: its root, in the form without cancellation
      const c0 = cTable[k];
      const more = h - hTable[k];
      const bend = (cTable[k + 1] - c0) * perKelvin;
      T[i] = T0 + k * step + (2 * more) / (c0 + Math.sqrt(c0 * c0 + 2 * bend * more));
    }
  }
  let mixT = new Float64Array(0);
  let mixE = new Float64Array(0);

  function mixTemperature(box: number, E: number, guess: number): number {
    let t = guess;
    for (let tries = 0; tries < 40; tries++) {
      const d = (E - energyAt(box, t)) / capacityOf(box, t);
      t += d;
      if (d < 1e-8 && d > -1e-8) break;
    }
    return t;
  }

  /** Energy of a mixed box at one temperature, J. */
  function energyAt(box: number, t: number): number {
    const m = -1 - grid.content[box];
    let h = 0;
    for (let k = grid.mixStart[m]; k < grid.mixStart[m + 1]; k++) {
      const p = fill[grid.mixRegion[k]];
      if (p !== undefined) h += grid.mixShare[k] * enthalpyAt(p, t);
    }
    return h * volume(box);
  }

  /** Heat capacity of a mixed box, J/K. */
  function capacityOf(box: number, t: number): number {
    const m = -1 - grid.content[box];
    let c = 0;
    for (let k = grid.mixStart[m]; k < grid.mixStart[m + 1]; k++) {
      const p = fill[grid.mixRegion[k]];
      if (p !== undefined) c += grid.mixShare[k] * capacityAt(p, t);
    }
    return c * volume(box);
  }

  function capacities(): void {
    for (let m = 0; m < varying.length; m++) {
      const { props, boxes, V } = varying[m];
      for (let b = 0; b < boxes.length; b++) {
        const i = boxes[b];
        C[i] = V[b] * capacityAt(props, T[i]);
      }
    }
    for (let b = 0; b < varyingMix.length; b++) {
      const i = varyingMix[b];
      C[i] = capacityOf(i, T[i]);
    }
  }

  /** Conductances that depend on T. */
  function conductances(): void {
    for (let s = 0; s < slotBox.length; s++) slotK[s] = conductivityAt(slotProps[s], T[slotBox[s]]);
    for (let w = 0; w < wayAt.length; w++) {
      let R = wayFixed[w];
      for (let k = wayFirst[w]; k < wayFirst[w + 1]; k++) R += partShape[k] / slotK[partSlot[k]];
      if (wayAxis[w] === 0) gx[wayAt[w]] = 1 / R;
      else gy[wayAt[w]] = 1 / R;
    }
  }

  /** Takes the implicit part where k varies; with its slopes in a grid of one row. */
  function conductanceSlopes(): void {
    if (upX === gx) return;
    upX.set(gx);
    if (rows > 1) stiffY.set(gy);
    if (!exactSlopes) return;
    loX.set(gx);
    for (let s = 0; s < slotBox.length; s++)
      slotSlope[s] = conductivitySlopeAt(slotProps[s], T[slotBox[s]]);
    for (let w = 0; w < wayAt.length; w++) {
      const at = wayAt[w];
      const g = gx[at];
      const drop = T[at + 1] - T[at];
      for (let k = wayFirst[w]; k < wayFirst[w + 1]; k++) {
        const s = partSlot[k];
        const dg = g * g * (partShape[k] / (slotK[s] * slotK[s])) * slotSlope[s];
        if (partEnd[k] === 0) loX[at] -= dg * drop;
        else upX[at] += dg * drop;
      }
    }
  }

  function faceResistance(f: number): number {
    let R = faceFixed[f];
    for (let k = faceFirst[f]; k < faceFirst[f + 1]; k++)
      R += facePartShape[k] / slotK[facePartSlot[k]];
    return R;
  }

  /** Power through all faces into the boxes, W; adds it to `out`. */
  function faceFlows(t: number, out: Float64Array): number {
    for (let b = 0; b < boundaries.length; b++) boundaryNow(boundaries[b], t, now[b]);
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

  function faceSlopes(): void {
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

  function rates(t: number, u: Float64Array, out: Float64Array): void {
    temperatures(u);
    if (slotBox.length > 0) conductances();
    const t0 = T;
    const gX = gx;
    const gY = gy;
    for (let row = 0; row < n; row += nx) {
      let before = 0;
      let here = t0[row];
      for (let i = row; i < row + nx - 1; i++) {
        const next = t0[i + 1];
        const q = gX[i] * (next - here);
        out[i] = q - before;
        before = q;
        here = next;
      }
      out[row + nx - 1] = -before;
    }
    for (let i = 0, k = nx; k < n; i++, k++) {
      const q = gY[i] * (t0[k] - t0[i]);
      out[i] += q;
      out[k] -= q;
    }
    let incoming = 0;
    if (source !== undefined)
      for (let i = 0; i < n; i++) {
        out[i] += source[i];
        incoming += source[i];
      }
    if (endG !== undefined)
      for (let i = 0; i < n; i++) {
        const q = endG[i] * (endAmbient - T[i]);
        out[i] += q;
        incoming += q;
      }
    incoming += faceFlows(t, out);
    if (hasCure) {
      for (let i = cureAt; i < cureAt + n; i++) out[i] = 0;
      for (let c = 0; c < curing.length; c++) {
        const { law, boxes } = curing[c];
        for (let b = 0; b < boxes.length; b++) {
          const i = boxes[b];
          law.evaluate(u[cureAt + i], T[i], rateOut);
          out[cureAt + i] = rateOut[0];
          out[i] += qV[i] * rateOut[0];
        }
      }
    }
    out[Qat] = incoming;
  }

  let early = new Float64Array(0);
  function timeSlope(
    t: number,
    h: number,
    u: Float64Array,
    _f: Float64Array,
    out: Float64Array,
  ): boolean {
    if (!moving) return false;
    // after a refused step the temperatures are those of its last stage
    temperatures(u);
    if (slotBox.length > 0) conductances();
    const d = h * 1e-3;
    out.fill(0);
    if (early.length === 0) early = new Float64Array(n);
    early.fill(0);
    const later = faceFlows(t + d, out);
    const nowSum = faceFlows(t, early);
    for (let i = 0; i < n; i++) out[i] = (out[i] - early[i]) / d;
    out[Qat] = (later - nowSum) / d;
    return true;
  }

  function linearize(_t: number, u: Float64Array): void {
    capacities();
    conductanceSlopes();
    if (endG !== undefined) loss.set(endG);
    else loss.fill(0);
    faceSlopes();
    for (let c = 0; c < curing.length; c++) {
      const { law, boxes } = curing[c];
      for (let b = 0; b < boxes.length; b++) {
        const i = boxes[b];
        law.evaluate(u[cureAt + i], T[i], rateOut);
        rateCure[i] = rateOut[1];
        rateT[i] = rateOut[2];
      }
    }
  }

  let perStep = 0; // 1 / (gamma h)
  function factor(gammaH: number): boolean {
    const w = 1 / gammaH;
    perStep = w;
    const d = D;
    const capacity = C;
    for (let i = 0; i < n; i++) d[i] = capacity[i] * w;
    for (let k = 0; k < lossy.length; k++) d[lossy[k]] += loss[k];
    for (let c = 0; c < curing.length; c++) {
      const { boxes } = curing[c];
      for (let b = 0; b < boxes.length; b++) {
        const i = boxes[b];
        const den = w - rateCure[i];
        if (!(den > 0.2 * w)) return false;
        D[i] -= (qV[i] * rateT[i] * w) / den;
        if (!(D[i] > 0.2 * C[i] * w)) return false;
      }
    }
    const lo = loX;
    const up = upX;
    const inv = invX;
    for (let row = 0; row < n; row += nx) {
      let carried = 0;
      let left = 0;
      const end = row + nx - 1;
      for (let i = row; i < end; i++) {
        const r = 1 / (d[i] + lo[i] + left - carried);
        inv[i] = r;
        left = up[i];
        carried = lo[i] * left * r;
      }
      inv[end] = 1 / (d[end] + left - carried);
    }
    if (rows > 1) {
      const g = stiffY;
      const invC = invY;
      for (let i = 0; i < nx; i++) invC[i] = 1 / (d[i] + g[i]);
      for (let i = nx, k = 0; i < n; i++, k++) {
        const below = g[k];
        invC[i] = 1 / (d[i] + g[i] + below - below * below * invC[k]);
      }
    }
    return true;
  }

  function solve(x: Float64Array): void {
    // conversion is eliminated box by box
    for (let c = 0; c < curing.length; c++) {
      const { boxes } = curing[c];
      for (let b = 0; b < boxes.length; b++) {
        const i = boxes[b];
        x[i] += (qV[i] * rateCure[i] * x[cureAt + i]) / (perStep - rateCure[i]);
      }
    }
    sweepRows(x);
    if (rows > 1) sweepColumns(x);
    let taken = 0;
    for (let k = 0; k < lossy.length; k++) taken += loss[k] * x[lossy[k]];
    x[Qat] = (x[Qat] - taken) / perStep;
    for (let c = 0; c < curing.length; c++) {
      const { boxes } = curing[c];
      for (let b = 0; b < boxes.length; b++) {
        const i = boxes[b];
        x[cureAt + i] = (x[cureAt + i] + rateT[i] * x[i]) / (perStep - rateCure[i]);
      }
    }
    const c = C;
    for (let i = 0; i < n; i++) x[i] *= c[i];
  }

  /** Solves along every row. Two rows at a time: each waits for its own last result, so both hide the other's wait. */
  function sweepRows(out: Float64Array): void {
    const lo = loX;
    const up = upX;
    const inv = invX;
    let row = 0;
    for (; row + 2 * nx <= n; row += 2 * nx) {
      let z = out[row] * inv[row];
      let y = out[row + nx] * inv[row + nx];
      out[row] = z;
      out[row + nx] = y;
      for (let i = row + 1, k = row + nx + 1; i < row + nx; i++, k++) {
        z = (out[i] + lo[i - 1] * z) * inv[i];
        y = (out[k] + lo[k - 1] * y) * inv[k];
        out[i] = z;
        out[k] = y;
      }
      for (let i = row + nx - 2, k = row + 2 * nx - 2; i >= row; i--, k--) {
        z = out[i] + up[i] * inv[i] * z;
        y = out[k] + up[k] * inv[k] * y;
        out[i] = z;
        out[k] = y;
      }
    }
    if (row < n) {
      let z = out[row] * inv[row];
      out[row] = z;
      for (let i = row + 1; i < n; i++) {
        z = (out[i] + lo[i - 1] * z) * inv[i];
        out[i] = z;
      }
      for (let i = n - 2; i >= row; i--) {
        z = out[i] + up[i] * inv[i] * z;
        out[i] = z;
      }
    }
  }

  /** Multiplies by D and solves along every column, all columns side by side. */
  function sweepColumns(out: Float64Array): void {
    const g = stiffY;
    const inv = invY;
    const d = D;
    for (let i = 0; i < nx; i++) out[i] = out[i] * d[i] * inv[i];
    for (let i = nx, k = 0; i < n; i++, k++) out[i] = (out[i] * d[i] + g[k] * out[k]) * inv[i];
    for (let i = n - nx - 1, k = n - 1; i >= 0; i--, k--) out[i] += g[i] * inv[i] * out[k];
  }

  function refresh(u: Float64Array): void {
    temperatures(u);
    capacities();
    if (slotBox.length > 0) conductances();
  }

  return {
    grid,
    boxes: n,
    size,
    moves,
    T,
    C,
    active,
    hasCure,
    qV,
    configure,
    energyOf,
    refresh,
    rates,
    timeSlope,
    linearize,
    factor,
    solve,
    conductance: (box, axis) => (axis === 0 ? gx[box] : gy[box]),
    surface: (link, end) => {
      const face = faceOf[end].get(link);
      return face === undefined ? T[end === 0 ? link.a : link.b] : faceSurface[face];
    },
    partResistance: (link, k) => {
      const part = link.parts[k];
      const p = fill[part.region];
      const box = part.end === 0 || link.b < 0 ? link.a : link.b;
      return p ? part.shape / conductivityAt(p, T[box]) : Number.POSITIVE_INFINITY;
    },
  };
}

function starts(lengths: readonly number[]): Int32Array<ArrayBuffer> {
  const out = new Int32Array(lengths.length + 1);
  lengths.forEach((l, i) => {
    out[i + 1] = out[i] + l;
  });
  return out;
}
