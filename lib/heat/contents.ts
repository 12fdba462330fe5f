/**
 * What fills the boxes during a stage: which material, how much heat it holds, what cures. Turns the energy of a box into
 * its temperature.
 *
 * Symbols: T K, C = volume c J/K, E J (from 0 degC), qV J set free by full cure of the box.
 */
import type { Material, RateLaw } from "../materials/material.ts";
import type { Grid } from "./grid.ts";
import {
  capacityAt,
  conductivityAt,
  enthalpyAt,
  type Properties,
  ZERO_CELSIUS,
} from "./properties.ts";
import type { Own, Setting } from "./setting.ts";

export interface Curing {
  readonly law: RateLaw;
  readonly boxes: Int32Array;
}

/** Loss through the two ends of a section: W/K of each box, and K. */
export interface Ends {
  readonly conductance: Float64Array;
  readonly ambient: number;
}

export interface Contents {
  /** Temperatures as last evaluated, K. */
  readonly T: Float64Array;
  /** Heat capacities as last evaluated, J/K; 1 for an empty box. */
  readonly C: Float64Array;
  /** 1 where a box holds something. */
  readonly active: Uint8Array;
  readonly hasCure: boolean;
  readonly qV: Float64Array;
  /** Properties of what fills each region; undefined: empty space. */
  readonly fill: readonly (Properties | undefined)[];
  readonly curing: readonly Curing[];
  readonly ends: Ends | undefined;
  /** W of each box; undefined when nothing is a source. */
  readonly source: Float64Array | undefined;
  configure(setting: Setting): void;
  /** Energy of a box whose regions have these temperatures, J. */
  energyOf(box: number, regionT: (region: number) => number): number;
  /** T of every box from its energy. */
  temperatures(u: Float64Array): void;
  /** C of every box at its T. */
  capacities(): void;
}

export function makeContents(
  grid: Grid,
  materials: Readonly<Record<string, Material>>,
  properties: ReadonlyMap<string, Properties>,
): Contents {
  const { nx } = grid;
  const n = nx * grid.ny;
  const hasCure = Object.values(materials).some((m) => m.cure !== undefined);
  const T = new Float64Array(n).fill(ZERO_CELSIUS + 20);
  const C = new Float64Array(n);
  const active = new Uint8Array(n);
  const qV = new Float64Array(hasCure ? n : 0);
  const volume = (box: number) => grid.vx[box % nx] * grid.ly[(box / nx) | 0];

  const own: Own<Contents> = {
    T,
    C,
    active,
    hasCure,
    qV,
    fill: [],
    curing: [],
    ends: undefined,
    source: undefined,
    configure,
    energyOf,
    temperatures,
    capacities,
  };

  let varying: { props: Properties; boxes: Int32Array; V: Float64Array }[] = [];
  let varyingMix: Int32Array = new Int32Array(0);
  // temperature and energy of the mixed boxes when last evaluated
  let mixT = new Float64Array(0);
  let mixE = new Float64Array(0);

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
      const p = own.fill[region];
      if (p) E += share * volume(box) * enthalpyAt(p, regionT(region));
    });
    return E;
  }

  function configure(setting: Setting): void {
    own.fill = setting.fill.map((name) => (name === undefined ? undefined : properties.get(name)));
    fillBoxes(setting);
    own.ends = endsOf(setting);
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
        const p = own.fill[region];
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
        const p = own.fill[grid.content[at]] as Properties;
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
    own.curing = [...cures].map(([law, boxes]) => ({ law, boxes: Int32Array.from(boxes) }));
    own.source = anySource ? sources : undefined;
  }

  /** The ends see less than the mean temperature: half the length conducts, 1/3 of it for a parabola. */
  function endsOf({ ends: given }: Setting): Ends | undefined {
    if (!given) return undefined;
    const conductance = new Float64Array(n);
    for (let at = 0; at < n; at++) {
      const p = own.fill[grid.center[at]];
      if (active[at] === 0 || !p) continue;
      const k = conductivityAt(p, ZERO_CELSIUS + 50);
      conductance[at] = (2 * volume(at)) / given.length / (1 / given.h + given.length / 6 / k);
    }
    return { conductance, ambient: given.ambient };
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
      const p = own.fill[grid.mixRegion[k]];
      if (p !== undefined) h += grid.mixShare[k] * enthalpyAt(p, t);
    }
    return h * volume(box);
  }

  /** Heat capacity of a mixed box, J/K. */
  function capacityOf(box: number, t: number): number {
    const m = -1 - grid.content[box];
    let c = 0;
    for (let k = grid.mixStart[m]; k < grid.mixStart[m + 1]; k++) {
      const p = own.fill[grid.mixRegion[k]];
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

  return own;
}
