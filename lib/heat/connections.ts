/**
 * The ways heat takes between the boxes and out of them: conductances of the present filling, those that depend on T, and
 * their slopes for the implicit step.
 *
 * Symbols: T K, g W/K, R K/W.
 */
import type { Contents } from "./contents.ts";
import type { Grid, Link } from "./grid.ts";
import type { Side } from "./problem.ts";
import { conductivityAt, conductivitySlopeAt, type Properties } from "./properties.ts";
import { EXPOSED, type Own, type Setting, SIDES } from "./setting.ts";

/** Resistance of a way: a fixed part, and parts `shape / k` whose k depends on the temperature of a box. */
interface Resistance {
  fixed: number;
  readonly slots: number[];
  readonly shapes: number[];
  readonly ends: number[];
}

/** A place where a box faces its surroundings. */
export interface OpenFace {
  readonly box: number;
  readonly area: number;
  /** Index of its boundary: the four sides, then what is exposed. */
  readonly kind: number;
  readonly link: Link;
  /** Box of the link that it belongs to: 0 the first, 1 the second. */
  readonly end: 0 | 1;
  readonly resistance: Pick<Resistance, "fixed" | "slots" | "shapes">;
}

export interface Ways {
  /** Conductance to the next box along x and along y; one and the same array when there is one row. */
  readonly gx: Float64Array;
  readonly gy: Float64Array;
  /** Implicit part: slope of the flow along x by the T of either end, and conductance along y, at the last `linearize`. */
  readonly upX: Float64Array;
  readonly loX: Float64Array;
  readonly stiffY: Float64Array;
  /** Resistivities that vary, one for each (box, material), m K/W. */
  readonly slotR: Float64Array;
  /** Connects the boxes as they are filled now; returns the faces toward the surroundings. */
  connect(setting: Setting): OpenFace[];
  /** Takes what depends on T again. */
  conductances(): void;
  /** Takes the implicit part at the present T. */
  linearize(): void;
}

export function makeWays(grid: Grid, contents: Contents): Ways {
  const { nx, ny } = grid;
  const n = nx * ny;
  const { T, active } = contents;
  const gx = new Float64Array(n);
  const gy = ny > 1 ? new Float64Array(n) : gx;
  const own: Own<Ways> = {
    gx,
    gy,
    // the conductances themselves while k is constant, else as they were at the start of the step
    upX: gx,
    loX: gx,
    stiffY: gy,
    slotR: new Float64Array(0),
    connect,
    conductances,
    linearize,
  };
  let slotBox = new Int32Array(0);
  let slotProps: Properties[] = [];
  let slotSlope = new Float64Array(0);
  // ways whose conductance has to be taken again with each evaluation
  let wayAt = new Int32Array(0);
  let wayAxis = new Uint8Array(0);
  let wayFirst = new Int32Array(1);
  let wayFixed = new Float64Array(0);
  let partSlot = new Int32Array(0);
  let partShape = new Float64Array(0);
  let partEnd = new Uint8Array(0);

  function connect(setting: Setting): OpenFace[] {
    const { fill } = contents;
    const slots = new Map<number, number>();
    const boxesOfSlots: number[] = [];
    const propsOfSlots: Properties[] = [];
    const slotFor = (box: number, p: Properties): number => {
      const key = box * fill.length + fill.indexOf(p);
      let slot = slots.get(key);
      if (slot === undefined) {
        slot = boxesOfSlots.length;
        slots.set(key, slot);
        boxesOfSlots.push(box);
        propsOfSlots.push(p);
      }
      return slot;
    };
    const none = (): Resistance => ({ fixed: 0, slots: [], shapes: [], ends: [] });
    const addPart = (c: Resistance, p: Properties, box: number, shape: number, end: number) => {
      if (p.constantConductivity) c.fixed += shape / p.k;
      else {
        c.slots.push(slotFor(box, p));
        c.shapes.push(shape);
        c.ends.push(end);
      }
    };
    const ways: { at: number; axis: number; c: Resistance }[] = [];
    const faces: OpenFace[] = [];
    const setWay = (at: number, axis: 0 | 1, c: Resistance) => {
      const g = axis === 0 ? gx : gy;
      if (c.slots.length === 0) g[at] = c.fixed > 0 ? 1 / c.fixed : 0;
      else ways.push({ at, axis, c });
    };
    gx.fill(0);
    if (ny > 1) gy.fill(0);
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
      const look = (box: number, from: number, step: 1 | -1): Resistance | undefined => {
        if (!fill[parts[from].region]) return undefined;
        const c = none();
        let k = from;
        for (; k >= 0 && k < parts.length && fill[parts[k].region]; k += step)
          addPart(c, fill[parts[k].region] as Properties, box, parts[k].shape, 0);
        const joint = step === 1 ? joints[k - 1] : joints[k];
        if (joint > 0)
          faces.push({
            box,
            area: joint,
            kind: EXPOSED,
            resistance: c,
            link,
            end: step === 1 ? 0 : 1,
          });
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
        faces.push({
          box: a,
          area: link.area,
          kind: SIDES.indexOf(side as Side),
          resistance: c,
          link,
          end: 0,
        });
      else if (joints[k - 1] > 0)
        faces.push({ box: a, area: joints[k - 1], kind: EXPOSED, resistance: c, link, end: 0 });
    }
    slotBox = Int32Array.from(boxesOfSlots);
    slotProps = propsOfSlots;
    own.slotR = new Float64Array(slotBox.length);
    slotSlope = new Float64Array(slotBox.length);
    wayAt = Int32Array.from(ways, (w) => w.at);
    wayAxis = Uint8Array.from(ways, (w) => w.axis);
    wayFixed = Float64Array.from(ways, (w) => w.c.fixed);
    wayFirst = starts(ways.map((w) => w.c.slots.length));
    partSlot = Int32Array.from(ways.flatMap((w) => w.c.slots));
    partShape = Float64Array.from(ways.flatMap((w) => w.c.shapes));
    partEnd = Uint8Array.from(ways.flatMap((w) => w.c.ends));
    const varies = ways.length > 0;
    own.upX = varies ? new Float64Array(n) : gx;
    own.loX = varies && ny === 1 ? new Float64Array(n) : own.upX;
    own.stiffY = varies && ny > 1 ? new Float64Array(n) : gy;
    return faces;
  }

  function conductances(): void {
    if (slotBox.length === 0) return;
    const { slotR } = own;
    for (let s = 0; s < slotBox.length; s++)
      slotR[s] = 1 / conductivityAt(slotProps[s], T[slotBox[s]]);
    for (let w = 0; w < wayAt.length; w++) {
      let R = wayFixed[w];
      for (let k = wayFirst[w]; k < wayFirst[w + 1]; k++) R += partShape[k] * slotR[partSlot[k]];
      if (wayAxis[w] === 0) gx[wayAt[w]] = 1 / R;
      else gy[wayAt[w]] = 1 / R;
    }
  }

  /** Where k varies: the conductances of now; with their slopes in a grid of one row. */
  function linearize(): void {
    const { upX, loX, stiffY, slotR } = own;
    if (upX === gx) return;
    upX.set(gx);
    if (ny > 1) stiffY.set(gy);
    if (ny > 1) return;
    loX.set(gx);
    for (let s = 0; s < slotBox.length; s++)
      slotSlope[s] = conductivitySlopeAt(slotProps[s], T[slotBox[s]]);
    for (let w = 0; w < wayAt.length; w++) {
      const at = wayAt[w];
      const g = gx[at];
      const drop = T[at + 1] - T[at];
      for (let k = wayFirst[w]; k < wayFirst[w + 1]; k++) {
        const s = partSlot[k];
        const dg = g * g * partShape[k] * slotR[s] * slotR[s] * slotSlope[s];
        if (partEnd[k] === 0) loX[at] -= dg * drop;
        else upX[at] += dg * drop;
      }
    }
  }

  return own;
}

/** First entry of each list when the lists stand one after the other. */
export function starts(lengths: readonly number[]): Int32Array<ArrayBuffer> {
  const out = new Int32Array(lengths.length + 1);
  lengths.forEach((l, i) => {
    out[i + 1] = out[i] + l;
  });
  return out;
}
