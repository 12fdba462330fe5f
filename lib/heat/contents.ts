/**
 * What fills the cells during a stage: which material, how much heat it holds, what cures. Turns the energy of a cell into
 * its temperature.
 *
 * Symbols: T K, C = volume c J/K, E J (from 0 degC), qV J set free by full cure of one region of a cell.
 */

import type { Material, RateLaw, RatePlaces } from "../materials/material.ts";
import { makeRatePlaces } from "../materials/rate-places.ts";
import {
  bytes,
  doubles,
  doublesOf,
  integersOf,
  NO_DOUBLES,
  vectorsOf,
} from "../numerics/typed-lists.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import { cureEntries, cureEntry } from "./grid-content.ts";
import type { Grid } from "./grid-type.ts";
import { type MixedCell, MixedCells } from "./mixed-cells.ts";
import { capacityAt, conductivityAt, enthalpyAt, type Properties, riseIn } from "./properties.ts";
import { BeyondTables } from "./reach.ts";
import type { Setting } from "./setting.ts";

/** What cures by one law. */
interface Curing {
  readonly law: RateLaw;
  /**
   * The places of its cure in the state, their cells, and the rates as last evaluated: an object of its own, so that a law sees
   * one kind of them wherever it is asked.
   */
  readonly places: RatePlaces;
  /** Entries of the cure. */
  readonly entries: Int32Array;
  /** J set free at each by full cure. */
  readonly heat: Float64Array;
}

/** Loss through the two ends of a section: W/K of each cell, and K. */
interface Ends {
  readonly conductance: Float64Array;
  readonly ambient: number;
}

export interface Contents {
  /** Temperatures as last evaluated, K. */
  readonly T: Float64Array;
  /** Heat capacities as last evaluated, J/K; 1 for an empty cell. */
  readonly C: Float64Array;
  /** 1 where a cell holds something. */
  readonly active: Uint8Array;
  readonly hasCure: boolean;
  /** For each entry of the cure: see `cureEntry`. */
  readonly qV: Float64Array;
  /** Properties of what fills each region; undefined: empty space. */
  readonly fill: readonly (Properties | undefined)[];
  readonly curing: readonly Curing[];
  readonly ends: Ends | undefined;
  /** W of each cell; undefined when nothing is a source. */
  readonly source: Float64Array | undefined;
  configure(setting: Setting): void;
  /** Starts again from the present T, filled as before. */
  restart(): void;
  /** u = energy of every cell, J, where regions have new temperatures and all else its cell's: K. */
  energies(newT: readonly (number | undefined)[], cellT: ArrayLike<number>, u: Float64Array): void;
  /** @throws BeyondTables when a cell is hotter or colder than the tables of what fills it */
  checkTables(): void;
  /** T of every cell from its energy. */
  temperatures(u: Float64Array): void;
  /** C of every cell at its T; nothing to do where it is so already. */
  capacities(): void;
}

/** Cells full of one material whose capacity varies, with their volumes and one over each. */
interface Varying {
  readonly props: Properties;
  readonly cells: Int32Array;
  readonly V: Float64Array;
  readonly perV: Float64Array;
}

/** @param T of the cells, K: one list for all that the grid is filled with in turn */
export function makeContents(
  grid: Grid,
  materials: Readonly<Record<string, Material>>,
  properties: ReadonlyMap<string, Properties>,
  T: Float64Array,
): Contents {
  return new CellContents(grid, materials, properties, T);
}

class CellContents implements Contents {
  readonly T: Float64Array;
  readonly C: Float64Array;
  readonly active: Uint8Array;
  readonly hasCure: boolean;
  readonly qV: Float64Array;
  fill: readonly (Properties | undefined)[] = [];
  curing: readonly Curing[] = [];
  ends: Ends | undefined = undefined;
  source: Float64Array | undefined = undefined;
  /** In one row, of cells whose capacity is constant: one over it. In a section memory is dearer than divisions. */
  private readonly perC: Float64Array;
  private readonly grid: Grid;
  private readonly materials: Readonly<Record<string, Material>>;
  private readonly properties: ReadonlyMap<string, Properties>;
  private varying: readonly Varying[] = [];
  private mixed = new MixedCells([]);
  // temperature of the mixed cells when last evaluated
  private mixT: Float64Array = NO_DOUBLES;
  /** T has moved since C was taken. */
  private stale = true;

  constructor(
    grid: Grid,
    materials: Readonly<Record<string, Material>>,
    properties: ReadonlyMap<string, Properties>,
    T: Float64Array,
  ) {
    const n = grid.nx * grid.ny;
    this.grid = grid;
    this.materials = materials;
    this.properties = properties;
    this.hasCure = Object.values(materials).some((m) => m.cure !== undefined);
    this.T = T;
    [this.C, this.perC] = grid.ny === 1 ? vectorsOf(2, n) : [doubles(n), NO_DOUBLES];
    this.active = bytes(n);
    this.qV = this.hasCure ? doubles(cureEntries(grid)) : NO_DOUBLES;
  }

  private volume(cell: number): number {
    const { vx, ly, nx } = this.grid;
    return vx[cell % nx] * ly[(cell / nx) | 0];
  }

  private regionsIn(cell: number, visit: (region: number, share: number) => void): void {
    const { content: contents, mixStart, mixRegion, mixShare } = this.grid;
    const content = contents[cell];
    if (content >= 0) visit(content, 1);
    else
      for (let k = mixStart[-1 - content]; k < mixStart[-content]; k++)
        visit(mixRegion[k], mixShare[k]);
  }

  energies(newT: readonly (number | undefined)[], cellT: ArrayLike<number>, u: Float64Array): void {
    const { grid, fill, active } = this;
    const { nx, ny, vx, ly, content, center, mixStart, mixRegion, mixShare } = grid;
    for (let j = 0, at = 0; j < ny; j++)
      for (let i = 0; i < nx; i++, at++) {
        const T = cellT[at];
        if (active[at] === 0) {
          u[at] = (newT[center[at]] ?? T) - ZERO_CELSIUS;
          continue;
        }
        const region = content[at];
        let h = 0;
        if (region >= 0) h = enthalpyAt(fill[region] as Properties, newT[region] ?? T);
        else
          for (let k = mixStart[-1 - region]; k < mixStart[-region]; k++) {
            const p = fill[mixRegion[k]];
            if (p !== undefined) h += mixShare[k] * enthalpyAt(p, newT[mixRegion[k]] ?? T);
          }
        u[at] = vx[i] * ly[j] * h;
      }
  }

  configure(setting: Setting): void {
    this.fill = setting.fill.map((name) =>
      name === undefined ? undefined : this.properties.get(name),
    );
    this.fillCells();
    this.findSources();
    this.findCuring(setting);
    this.ends = this.endsOf(setting);
    this.restart();
  }

  restart(): void {
    const { C, T, mixed } = this;
    this.mixT = mixed.read(T);
    mixed.capacities(T, C);
    this.stale = true;
  }

  checkTables(): void {
    const { T, active, fill } = this;
    let farthest: number | undefined;
    for (let at = 0; at < active.length; at++)
      if (active[at] === 1)
        this.regionsIn(at, (region) => {
          const p = fill[region];
          if (p === undefined || (T[at] >= p.least && T[at] <= p.most)) return;
          farthest =
            T[at] > p.most ? Math.max(farthest ?? 0, T[at]) : Math.min(farthest ?? T[at], T[at]);
        });
    if (farthest !== undefined) throw new BeyondTables(farthest);
  }

  private fillCells(): void {
    const { grid, fill, C, active } = this;
    const { nx, ny, vx, ly, content } = grid;
    const pure = fill.map((): number[] => []);
    const mixed: MixedCell[] = [];
    for (let j = 0, at = 0; j < ny; j++)
      for (let i = 0; i < nx; i++, at++) {
        const region = content[at];
        active[at] = 1;
        if (region < 0) this.fillMixed(at, vx[i] * ly[j], mixed);
        else {
          const p = fill[region];
          if (p === undefined) {
            active[at] = 0;
            C[at] = 1;
          } else if (p.constantCapacity) C[at] = vx[i] * ly[j] * p.c;
          else pure[region].push(at);
        }
      }
    const varying: Varying[] = [];
    for (let region = 0; region < pure.length; region++) {
      const cells = pure[region];
      if (cells.length > 0)
        varying.push({
          props: fill[region] as Properties,
          cells: integersOf(cells, (cell) => cell),
          V: doublesOf(cells, (cell) => this.volume(cell)),
          perV: doublesOf(cells, (cell) => 1 / this.volume(cell)),
        });
    }
    this.varying = varying;
    this.mixed = new MixedCells(mixed);
    // those that vary are taken from their tables
    const { perC } = this;
    for (let at = 0; at < perC.length; at++) perC[at] = C[at] > 0 ? 1 / C[at] : 0;
  }

  /** Fills a cut cell; notes it where its capacity varies. */
  private fillMixed(at: number, volume: number, mixed: MixedCell[]): void {
    const { fill, C, active, grid } = this;
    const { content, mixStart, mixRegion, mixShare } = grid;
    const m = -1 - content[at];
    const parts: { props: Properties; volume: number }[] = [];
    let constant = 0;
    let present = 0;
    for (let k = mixStart[m]; k < mixStart[m + 1]; k++) {
      const props = fill[mixRegion[k]];
      if (props === undefined) continue;
      present++;
      if (props.constantCapacity) constant += mixShare[k] * volume * props.c;
      else parts.push({ props, volume: mixShare[k] * volume });
    }
    if (present === 0) active[at] = 0;
    C[at] = present === 0 ? 1 : constant;
    if (parts.length > 0) mixed.push({ cell: at, constant, parts });
  }

  private findSources(): void {
    this.source = undefined;
    if (!this.fill.some((p) => p !== undefined && p.source !== 0)) return;
    const sources = new Float64Array(this.active.length);
    for (let at = 0; at < sources.length; at++)
      this.regionsIn(at, (region, share) => {
        const p = this.fill[region];
        if (p && p.source !== 0) sources[at] += share * this.volume(at) * p.source;
      });
    this.source = sources;
  }

  private findCuring(setting: Setting): void {
    if (!this.hasCure) return;
    const { qV, grid, fill } = this;
    const cureOf = fill.map((p, region) => {
      const name = setting.fill[region];
      return p === undefined || name === undefined ? undefined : this.materials[name].cure;
    });
    const cures = new Map<RateLaw, { entries: number[]; cells: number[] }>();
    qV.fill(0);
    let at = 0;
    // one for all cells: most of them do not cure
    const find = (region: number, share: number) => {
      const cure = cureOf[region];
      if (cure === undefined) return;
      const list = cures.get(cure.law) ?? { entries: [], cells: [] };
      const entry = cureEntry(grid, at, region);
      list.entries.push(entry);
      list.cells.push(at);
      cures.set(cure.law, list);
      qV[entry] = share * this.volume(at) * (fill[region] as Properties).density * cure.heat;
    };
    for (; at < this.active.length; at++) this.regionsIn(at, find);
    const n = this.active.length;
    this.curing = [...cures].map(([law, { entries, cells }]) => ({
      law,
      entries: integersOf(entries, (r) => r),
      heat: doublesOf(entries, (r) => qV[r]),
      places: makeRatePlaces(
        integersOf(entries, (r) => n + r),
        integersOf(cells, (cell) => cell),
      ),
    }));
  }

  /** The ends see less than the mean temperature: half the length conducts, 1/3 of it for a parabola. */
  private endsOf({ ends: given }: Setting): Ends | undefined {
    if (!given) return undefined;
    const { active, fill, grid } = this;
    const conductance = new Float64Array(active.length);
    for (let at = 0; at < active.length; at++) {
      const p = fill[grid.center[at]];
      if (active[at] === 0 || !p) continue;
      const k = conductivityAt(p, ZERO_CELSIUS + 50);
      conductance[at] = (2 * this.volume(at)) / given.length / (1 / given.h + given.length / 6 / k);
    }
    return { conductance, ambient: given.ambient };
  }

  /** T of every cell from its energy. */
  temperatures(u: Float64Array): void {
    const { T, C, perC, varying } = this;
    this.stale = true;
    const n = T.length;
    if (perC.length > 0) for (let i = 0; i < n; i++) T[i] = ZERO_CELSIUS + u[i] * perC[i];
    else for (let i = 0; i < n; i++) T[i] = ZERO_CELSIUS + u[i] / C[i];
    for (let m = 0; m < varying.length; m++) temperaturesOf(varying[m], u, T);
    this.mixed.temperatures(u, T, this.mixT);
  }

  capacities(): void {
    const { C, T, varying } = this;
    if (!this.stale) return;
    this.stale = false;
    for (let m = 0; m < varying.length; m++) {
      const { props, cells, V } = varying[m];
      const count = cells.length;
      for (let b = 0; b < count; b++) {
        const i = cells[b];
        C[i] = V[b] * capacityAt(props, T[i]);
      }
    }
    this.mixed.capacities(T, C);
  }
}

/** T of cells from their energies, straight from the tables of their material. */
function temperaturesOf({ props, cells, perV }: Varying, u: Float64Array, T: Float64Array): void {
  const { T0, perKelvin, last, cTable, hTable, startOf, perEnthalpy } = props;
  const step = 1 / perKelvin;
  const h0 = hTable[0];
  const end = startOf.length - 1;
  const count = cells.length;
  for (let b = 0; b < count; b++) {
    const i = cells[b];
    const h = u[i] * perV[b];
    const at = (h - h0) * perEnthalpy;
    let k = startOf[at > 0 ? (at < end ? at | 0 : end) : 0];
    while (k < last - 1 && h > hTable[k + 1]) k++;
    const c0 = cTable[k];
    T[i] = T0 + k * step + riseIn(c0, (cTable[k + 1] - c0) * perKelvin, h - hTable[k]);
  }
}
