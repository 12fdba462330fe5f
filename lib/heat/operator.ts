/**
 * The heat balance of every cell, as the stiff system that the time stepper solves.
 *
 * State u: the energy E of each cell in J (from 0 degC), then the cure of each region of each cell (only where something
 * cures; a cut cell has one for each of its regions), last the energy Q that has come in through the faces and from
 * sources, less what left over the ends, in J. E and Q are stepped by the same linear equations, so what the
 * cells gain is what came in and what curing released, to rounding: the energy audit checks just that.
 *
 *     dE/dt = sum of g (T_neighbor - T) + faces + qV d(cure)/dt,    T = T(E)
 *
 * Symbols: T K, C = volume c J/K, g W/K, qV J set free by full cure of one region of a cell.
 *
 * Implicit part: D - Lx - Ly, D = C/(gamma h) + losses - reaction: see `split-solver.ts`.
 */

import type { Material } from "../materials/material.ts";
import { evaluateAt } from "../materials/rate-places.ts";
import type { StiffSystem } from "../numerics/rosenbrock.ts";
import { doubles, NO_DOUBLES, vectorsOf } from "../numerics/typed-lists.ts";
import { ZERO_CELSIUS } from "../units/constants.ts";
import { type Connections, makeConnections } from "./connections.ts";

import { type Contents, makeContents } from "./contents.ts";
import { type Faces, makeFaces } from "./faces.ts";
import type { Link } from "./grid-links.ts";
import type { Grid } from "./grid-type.ts";
import { conductivityAt, type Properties } from "./properties.ts";
import type { Setting } from "./setting.ts";
import { SplitSolver } from "./split-solver.ts";

export interface Operator extends StiffSystem {
  readonly grid: Grid;
  readonly cells: number;
  /** Temperatures of the last `rates`, `timeSlope` or `refresh`, K. */
  readonly T: Float64Array;
  /** Heat capacity of each cell at the last `linearize`, `refresh` or `capacities`, J/K; 1 for an empty cell. */
  readonly C: Float64Array;
  /** 1 where a cell holds something. */
  readonly active: Uint8Array;
  readonly hasCure: boolean;
  /** Properties of what fills each region; undefined: empty space. */
  readonly fill: Contents["fill"];
  /** J set free by full cure, for each entry of the cure in the state: see `cureEntry`. */
  readonly qV: Float64Array;
  configure(setting: Setting): void;
  /** Whether a section's linear systems are solved as they are from now on, or factored by its axes. */
  solveDirectly(yes: boolean): void;
  /** From now on the laws of time are those of the piece between two of their jumps. */
  within(from: number, to: number): void;
  /** @throws BeyondTables when a cell is hotter or colder than the tables of what fills it */
  checkTables(): void;
  /** u = energy of every cell, where regions have new temperatures and all else its cell's: K. */
  energies: Contents["energies"];
  /** Takes T and C from the state. */
  refresh(u: Float64Array): void;
  /** Takes C at the present T: what rates of energy are divided by for rates of temperature. */
  capacities(): void;
  /** How fast the quickest reaction feeds itself, by its cure and by its heat, as last evaluated, 1/s; 0 where none does. */
  growth(): number;
  /** out = what curing can still set free in each cell, J. */
  heatLeft(u: Float64Array, out: Float64Array): void;
  /** Power through a side (or `EXPOSED` faces) as last evaluated, W. */
  inflow(kind: number): number;
  /** Conductance from a cell to the next along an axis, W/K, as last evaluated. */
  conductance(cell: number, axis: 0 | 1): number;
  /**
   * Surface temperature at the outer end of a face or, where the other side of a link is empty, of the side that
   * isn't (`end` 0: the side of cell a); as last evaluated. NaN-free: the cell's own where nothing is exchanged.
   */
  surface(link: Link, end: 0 | 1): number;
  /** Its rate of change, K/s, while its cell's is `cellRate`. */
  surfaceRate(link: Link, end: 0 | 1, cellRate: number): number;
  /** Resistance of a part of a link at the present temperatures, K/W; Infinity where it is empty. */
  partResistance(link: Link, part: number): number;
}

export function makeOperator(
  grid: Grid,
  materials: Readonly<Record<string, Material>>,
  properties: ReadonlyMap<string, Properties>,
  moves: boolean,
): Operator {
  const T = doubles(grid.nx * grid.ny).fill(ZERO_CELSIUS + 20);
  return new HeatBalance(grid, moves, () => makeContents(grid, materials, properties, T));
}

/** How the cells are filled and connected in one setting. */
interface Filled {
  readonly contents: Contents;
  readonly connections: Connections;
  readonly faces: Faces;
}

/** A mold in use goes through the same few settings shot after shot: so many are kept as they were connected. */
const MOST_KEPT = 4;

class HeatBalance implements Operator {
  readonly grid: Grid;
  readonly cells: number;
  readonly size: number;
  readonly moves: boolean;
  readonly T: Float64Array;
  C: Float64Array;
  active: Uint8Array;
  readonly hasCure: boolean;
  qV: Float64Array;
  /** What it is configured for. */
  private setting: Setting | undefined = undefined;
  private contents: Contents;
  private connections: Connections;
  private faces: Faces;
  private readonly kept = new Map<Setting, Filled>();
  private readonly newContents: () => Contents;
  private readonly solver: SplitSolver;
  /** Diagonal of the implicit part. */
  private readonly D: Float64Array;
  // cure is eliminated entry by entry: 1 / (1/gammaH - its slope), what it hands on to its cell, and the cell to it
  private readonly perCure: Float64Array;
  private readonly handed: Float64Array;
  private readonly back: Float64Array;
  private early = NO_DOUBLES;
  // 1 / (gamma h)
  private perStep = 0;

  constructor(grid: Grid, moves: boolean, newContents: () => Contents) {
    const n = grid.nx * grid.ny;
    const contents = newContents();
    this.grid = grid;
    this.newContents = newContents;
    this.contents = contents;
    const { active } = contents;
    const connections = makeConnections(grid, contents);
    this.connections = connections;
    this.faces = makeFaces(contents, connections);
    this.T = contents.T;
    this.C = contents.C;
    this.active = active;
    this.hasCure = contents.hasCure;
    this.qV = contents.qV;
    const curing = contents.qV.length;
    this.cells = n;
    this.size = n + curing + 1;
    this.moves = moves;
    this.D = doubles(n);
    this.solver = new SplitSolver(grid.nx, grid.ny, this.D, connections, active);
    [this.perCure, this.handed, this.back] = vectorsOf(3, curing);
  }

  get fill(): Contents["fill"] {
    return this.contents.fill;
  }

  configure(setting: Setting): void {
    if (setting === this.setting) {
      this.contents.restart();
      this.faces.restart();
      return;
    }
    const known = this.kept.get(setting);
    if (known !== undefined) {
      this.take(known);
      known.contents.restart();
      known.faces.restart();
    } else {
      // the first setting has what was made with the operator
      if (this.setting !== undefined) this.take(this.newlyFilled());
      const { contents, connections, faces } = this;
      contents.configure(setting);
      faces.configure(setting, connections.connect(setting));
      if (this.kept.size >= MOST_KEPT) this.kept.clear();
      this.kept.set(setting, { contents, connections, faces });
    }
    this.solver.use(this.connections, this.active);
    this.setting = setting;
  }

  private newlyFilled(): Filled {
    const contents = this.newContents();
    const connections = makeConnections(this.grid, contents);
    return { contents, connections, faces: makeFaces(contents, connections) };
  }

  /** From now on the cells are these. */
  private take({ contents, connections, faces }: Filled): void {
    this.contents = contents;
    this.connections = connections;
    this.faces = faces;
    this.C = contents.C;
    this.active = contents.active;
    this.qV = contents.qV;
  }

  solveDirectly(yes: boolean): void {
    this.solver.solveDirectly(yes);
  }

  within(from: number, to: number): void {
    this.faces.within(from, to);
  }

  checkTables(): void {
    this.contents.checkTables();
  }

  energies(newT: readonly (number | undefined)[], cellT: ArrayLike<number>, u: Float64Array): void {
    this.contents.energies(newT, cellT, u);
  }

  refresh(u: Float64Array): void {
    this.contents.temperatures(u);
    this.contents.capacities();
    this.connections.conductances();
  }

  capacities(): void {
    this.contents.capacities();
  }

  rates(t: number, u: Float64Array, out: Float64Array, inStep = false): void {
    const { T, cells: n, contents } = this;
    contents.temperatures(u);
    this.connections.conductances();
    this.exchange(out);
    let incoming = 0;
    const { source, ends } = contents;
    if (source !== undefined)
      for (let i = 0; i < n; i++) {
        out[i] += source[i];
        incoming += source[i];
      }
    if (ends !== undefined)
      for (let i = 0; i < n; i++) {
        const q = ends.conductance[i] * (ends.ambient - T[i]);
        out[i] += q;
        incoming += q;
      }
    incoming += this.faces.flows(t, out);
    if (this.hasCure) this.cureRates(u, out, !inStep);
    out[this.size - 1] = incoming;
  }

  /** out = what the cells exchange with each other, W. */
  private exchange(out: Float64Array): void {
    const { T, cells: n } = this;
    const { nx } = this.grid;
    const { gx, gy } = this.connections;
    for (let row = 0; row < n; row += nx) {
      const end = row + nx - 1;
      let before = 0;
      let here = T[row];
      if (row === 0 || row + nx === n) {
        for (let i = row; i < end; i++) {
          const next = T[i + 1];
          const q = gx[i] * (next - here);
          out[i] = q - before;
          before = q;
          here = next;
        }
        out[end] = -before;
        if (row > 0)
          for (let i = row, k = row - nx; i <= end; i++, k++) out[i] -= gy[k] * (T[i] - T[k]);
        else if (n > nx)
          for (let i = row, k = row + nx; i <= end; i++, k++) out[i] += gy[i] * (T[k] - T[i]);
        continue;
      }
      // a row with others below and above
      for (let i = row, b = row - nx, a = row + nx; i <= end; i++, b++, a++) {
        const next = T[i + 1];
        // the last of a row has nothing at its right: its conductance is 0
        const q = gx[i] * (next - here);
        out[i] = q - before + gy[i] * (T[a] - here) - gy[b] * (here - T[b]);
        before = q;
        here = next;
      }
    }
  }

  /** Rates of cure, and their slopes where they are wanted. */
  private cureRates(u: Float64Array, out: Float64Array, withSlopes: boolean): void {
    const { T, cells: n, size } = this;
    const { curing } = this.contents;
    for (let i = n; i < size; i++) out[i] = 0;
    for (let c = 0; c < curing.length; c++) {
      const { law, places, heat } = curing[c];
      places.withSlopes = withSlopes;
      evaluateAt(law, u, T, places);
      const { at, cells, rate } = places;
      const count = at.length;
      for (let b = 0; b < count; b++) {
        out[at[b]] = rate[b];
        out[cells[b]] += heat[b] * rate[b];
      }
    }
  }

  growth(): number {
    const { C } = this;
    const { curing } = this.contents;
    let most = 0;
    for (let c = 0; c < curing.length; c++) {
      const { heat, places } = curing[c];
      const { cells, byCure, byT } = places;
      const count = cells.length;
      for (let b = 0; b < count; b++)
        most = Math.max(most, byCure[b] + (heat[b] * byT[b]) / C[cells[b]]);
    }
    return most;
  }

  heatLeft(u: Float64Array, out: Float64Array): void {
    const { cells: n, qV } = this;
    out.fill(0);
    for (const { entries, places } of this.contents.curing)
      for (let b = 0; b < entries.length; b++)
        out[places.cells[b]] += qV[entries[b]] * (1 - u[n + entries[b]]);
  }

  timeSlope(t: number, h: number, u: Float64Array, _f: Float64Array, out: Float64Array): boolean {
    const { faces, cells: n } = this;
    if (!faces.moving) return false;
    // after a refused step the temperatures are those of its last stage
    this.contents.temperatures(u);
    this.connections.conductances();
    const d = h * 1e-3;
    out.fill(0);
    if (this.early.length === 0) this.early = doubles(n);
    const { early } = this;
    early.fill(0);
    const later = faces.flows(t + d, out);
    const nowSum = faces.flows(t, early);
    for (let i = 0; i < n; i++) out[i] = (out[i] - early[i]) / d;
    out[this.size - 1] = (later - nowSum) / d;
    return true;
  }

  linearize(): void {
    // the slopes of the rates of cure were found with the rates
    this.contents.capacities();
    this.connections.linearize();
    this.faces.linearize();
  }

  factor(gammaH: number): boolean {
    const { D, C, cells: n } = this;
    const w = 1 / gammaH;
    this.perStep = w;
    const { lossy, loss } = this.faces;
    for (let i = 0; i < n; i++) D[i] = C[i] * w;
    for (let k = 0; k < lossy.length; k++) D[lossy[k]] += loss[k];
    return (!this.hasCure || this.factorCure(w)) && this.solver.factor();
  }

  /** Eliminates the cure; false when the reaction grows too fast for the step. */
  private factorCure(w: number): boolean {
    const { D, C, perCure, handed, back } = this;
    const { curing } = this.contents;
    for (let c = 0; c < curing.length; c++) {
      const { entries, heat, places } = curing[c];
      const { cells, byCure, byT } = places;
      const count = cells.length;
      for (let b = 0; b < count; b++) {
        const i = cells[b];
        const r = entries[b];
        const den = w - byCure[b];
        if (!(den > 0.2 * w)) return false;
        const per = 1 / den;
        D[i] -= heat[b] * byT[b] * w * per;
        if (!(D[i] > 0.2 * C[i] * w)) return false;
        perCure[r] = per;
        handed[r] = heat[b] * byCure[b] * per;
        back[r] = (byT[b] * per) / C[i];
      }
    }
    return true;
  }

  solve(x: Float64Array): void {
    const { C, perCure, handed, back } = this;
    const { lossy, loss } = this.faces;
    const { curing } = this.contents;
    for (let c = 0; c < curing.length; c++) {
      const { entries, places } = curing[c];
      const { at, cells } = places;
      const count = at.length;
      for (let b = 0; b < count; b++) x[cells[b]] += handed[entries[b]] * x[at[b]];
    }
    // as energies: what has moved in T, times C
    this.solver.solve(x, C);
    let taken = 0;
    for (let k = 0; k < lossy.length; k++) taken += (loss[k] / C[lossy[k]]) * x[lossy[k]];
    const last = this.size - 1;
    x[last] = (x[last] - taken) / this.perStep;
    for (let c = 0; c < curing.length; c++) {
      const { entries, places } = curing[c];
      const { at, cells } = places;
      const count = at.length;
      for (let b = 0; b < count; b++) {
        const r = entries[b];
        x[at[b]] = x[at[b]] * perCure[r] + back[r] * x[cells[b]];
      }
    }
  }

  inflow(kind: number): number {
    return this.faces.inflow[kind];
  }

  conductance(cell: number, axis: 0 | 1): number {
    return (axis === 0 ? this.connections.gx : this.connections.gy)[cell];
  }

  surface(link: Link, end: 0 | 1): number {
    return this.faces.surface(link, end) ?? this.T[end === 0 ? link.a : link.b];
  }

  surfaceRate(link: Link, end: 0 | 1, cellRate: number): number {
    return this.faces.surfaceRate(link, end, cellRate) ?? cellRate;
  }

  partResistance(link: Link, k: number): number {
    const part = link.parts[k];
    const p = this.contents.fill[part.region];
    const cell = part.end === 0 || link.b < 0 ? link.a : link.b;
    return p ? part.shape / conductivityAt(p, this.T[cell]) : Number.POSITIVE_INFINITY;
  }
}
