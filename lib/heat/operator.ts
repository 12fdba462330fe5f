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
import type { Material } from "../materials/material.ts";
import type { StiffSystem } from "../numerics/rosenbrock.ts";
import { makeWays } from "./connections.ts";
import { makeContents } from "./contents.ts";
import { makeFaces } from "./faces.ts";
import type { Grid, Link } from "./grid.ts";
import { conductivityAt, type Properties } from "./properties.ts";
import type { Setting } from "./setting.ts";

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

export function makeOperator(
  grid: Grid,
  materials: Readonly<Record<string, Material>>,
  properties: ReadonlyMap<string, Properties>,
  moves: boolean,
): Operator {
  const { nx, ny } = grid;
  const n = nx * ny;
  const contents = makeContents(grid, materials, properties);
  const ways = makeWays(grid, contents);
  const faces = makeFaces(contents, ways);
  const { T, C, active, hasCure, qV } = contents;
  const { gx, gy } = ways;
  const cureAt = n;
  const size = n + (hasCure ? n : 0) + 1;
  const Qat = size - 1;
  const D = new Float64Array(n);
  const invX = new Float64Array(n);
  const invY = ny > 1 ? new Float64Array(n) : invX;
  const rateCure = new Float64Array(hasCure ? n : 0);
  const rateT = new Float64Array(hasCure ? n : 0);
  // 1 / (1/gammaH - rateCure), for conversion that is eliminated box by box
  const perCure = new Float64Array(hasCure ? n : 0);
  const rateOut = new Float64Array(3);
  let early = new Float64Array(0);

  function configure(setting: Setting): void {
    contents.configure(setting);
    faces.configure(setting, ways.connect(setting));
  }

  function refresh(u: Float64Array): void {
    contents.temperatures(u);
    contents.capacities();
    ways.conductances();
  }

  function rates(t: number, u: Float64Array, out: Float64Array): void {
    contents.temperatures(u);
    ways.conductances();
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
    const { source, ends, curing } = contents;
    if (source !== undefined)
      for (let i = 0; i < n; i++) {
        out[i] += source[i];
        incoming += source[i];
      }
    if (ends !== undefined)
      for (let i = 0; i < n; i++) {
        const q = ends.conductance[i] * (ends.ambient - t0[i]);
        out[i] += q;
        incoming += q;
      }
    incoming += faces.flows(t, out);
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

  function timeSlope(
    t: number,
    h: number,
    u: Float64Array,
    _f: Float64Array,
    out: Float64Array,
  ): boolean {
    if (!faces.moving) return false;
    // after a refused step the temperatures are those of its last stage
    contents.temperatures(u);
    ways.conductances();
    const d = h * 1e-3;
    out.fill(0);
    if (early.length === 0) early = new Float64Array(n);
    early.fill(0);
    const later = faces.flows(t + d, out);
    const nowSum = faces.flows(t, early);
    for (let i = 0; i < n; i++) out[i] = (out[i] - early[i]) / d;
    out[Qat] = (later - nowSum) / d;
    return true;
  }

  function linearize(_t: number, u: Float64Array): void {
    contents.capacities();
    ways.linearize();
    faces.linearize();
    const { curing } = contents;
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
    const { lossy, loss } = faces;
    const { curing } = contents;
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
        perCure[i] = 1 / den;
        D[i] -= qV[i] * rateT[i] * w * perCure[i];
        if (!(D[i] > 0.2 * C[i] * w)) return false;
      }
    }
    const lo = ways.loX;
    const up = ways.upX;
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
    if (ny > 1) {
      const g = ways.stiffY;
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
    const { lossy, loss } = faces;
    const { curing } = contents;
    // conversion is eliminated box by box
    for (let c = 0; c < curing.length; c++) {
      const { boxes } = curing[c];
      for (let b = 0; b < boxes.length; b++) {
        const i = boxes[b];
        x[i] += qV[i] * rateCure[i] * x[cureAt + i] * perCure[i];
      }
    }
    sweepRows(x);
    if (ny > 1) sweepColumns(x);
    let taken = 0;
    for (let k = 0; k < lossy.length; k++) taken += loss[k] * x[lossy[k]];
    x[Qat] = (x[Qat] - taken) / perStep;
    for (let c = 0; c < curing.length; c++) {
      const { boxes } = curing[c];
      for (let b = 0; b < boxes.length; b++) {
        const i = boxes[b];
        x[cureAt + i] = (x[cureAt + i] + rateT[i] * x[i]) * perCure[i];
      }
    }
    const c = C;
    for (let i = 0; i < n; i++) x[i] *= c[i];
  }

  /** Solves along every row. Two rows at a time: each waits for its own last result, so both hide the other's wait. */
  function sweepRows(out: Float64Array): void {
    const lo = ways.loX;
    const up = ways.upX;
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
    const g = ways.stiffY;
    const inv = invY;
    const d = D;
    for (let i = 0; i < nx; i++) out[i] = out[i] * d[i] * inv[i];
    for (let i = nx, k = 0; i < n; i++, k++) out[i] = (out[i] * d[i] + g[k] * out[k]) * inv[i];
    for (let i = n - nx - 1, k = n - 1; i >= 0; i--, k--) out[i] += g[i] * inv[i] * out[k];
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
    energyOf: contents.energyOf,
    refresh,
    rates,
    timeSlope,
    linearize,
    factor,
    solve,
    conductance: (box, axis) => (axis === 0 ? gx[box] : gy[box]),
    surface: (link, end) => faces.surface(link, end) ?? T[end === 0 ? link.a : link.b],
    partResistance: (link, k) => {
      const part = link.parts[k];
      const p = contents.fill[part.region];
      const box = part.end === 0 || link.b < 0 ? link.a : link.b;
      return p ? part.shape / conductivityAt(p, T[box]) : Number.POSITIVE_INFINITY;
    },
  };
}
