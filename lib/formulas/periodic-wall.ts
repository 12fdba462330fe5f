/**
 * A layered wall under a temperature that swings: how much gets through, how late, and how much heat it takes up.
 *
 * Symbols: k W/(m K), rho kg/m3, cp J/(kg K), R m2K/W, period s. Complex numbers as [real, imaginary].
 */
import { Checks } from "../units/check.ts";

/** A layer of a wall: thickness in m, conductivity W/(m K), density kg/m3, specific heat J/(kg K). */
export interface WallLayer {
  readonly thickness: number; // m
  readonly k: number;
  readonly density: number;
  readonly specificHeat: number;
}

/** How a wall of layers answers a steady swing of temperature. */
export interface PeriodicWall {
  /** Steady conductance, W/(m2 K). */
  readonly steady: number;
  /** Swing of the heat flux at the inside for 1 K of swing outside, W/(m2 K). */
  readonly transmitted: number;
  /** `transmitted` over `steady`. */
  readonly decrement: number;
  /** By which the swing inside comes later, s, within one period. */
  readonly delay: number;
  /** Heat taken up in half a period for 1 K of swing, inside and outside, J/(m2 K). */
  readonly inside: number;
  readonly outside: number;
}

type Complex = readonly [number, number];
type Matrix = readonly [Complex, Complex, Complex, Complex];

const add = (a: Complex, b: Complex): Complex => [a[0] + b[0], a[1] + b[1]];
const mul = (a: Complex, b: Complex): Complex => [
  a[0] * b[0] - a[1] * b[1],
  a[0] * b[1] + a[1] * b[0],
];
const div = (a: Complex, b: Complex): Complex => {
  const n = b[0] * b[0] + b[1] * b[1];
  return [(a[0] * b[0] + a[1] * b[1]) / n, (a[1] * b[0] - a[0] * b[1]) / n];
};
const size = (a: Complex) => Math.hypot(a[0], a[1]);
const times = (a: Matrix, b: Matrix): Matrix => [
  add(mul(a[0], b[0]), mul(a[1], b[2])),
  add(mul(a[0], b[1]), mul(a[1], b[3])),
  add(mul(a[2], b[0]), mul(a[3], b[2])),
  add(mul(a[2], b[1]), mul(a[3], b[3])),
];

/** Depth over which a swing of temperature falls to 1/e, m. */
function penetration(layer: WallLayer, period: number): number {
  return Math.sqrt((layer.k * period) / (Math.PI * layer.density * layer.specificHeat));
}

function layerMatrix(layer: WallLayer, period: number): Matrix {
  const depth = penetration(layer, period);
  const x = layer.thickness / depth;
  const ch = Math.cosh(x);
  const sh = Math.sinh(x);
  const cos = Math.cos(x);
  const sin = Math.sin(x);
  const z11: Complex = [ch * cos, sh * sin];
  const f = -depth / (2 * layer.k);
  const z12: Complex = [f * (sh * cos + ch * sin), f * (ch * sin - sh * cos)];
  const g = -layer.k / depth;
  const z21: Complex = [g * (sh * cos - ch * sin), g * (sh * cos + ch * sin)];
  return [z11, z12, z21, z11];
}

const film = (R: number): Matrix => [
  [1, 0],
  [-R, 0],
  [0, 0],
  [1, 0],
];

/**
 * Answer of a layered wall to a sine of temperature.
 *
 * Each layer and film is a 2 x 2 matrix between temperature and flux; their product is the wall.
 *
 * @param layers from the inside outwards
 * @param insideFilm resistance of the film or contact inside, m2K/W, >= 0
 * @param outsideFilm outside, m2K/W, >= 0
 * @param period s, > 0
 * @throws InputError when an input is out of range
 * @example periodicWall([{ thickness: 0.2, k: 1.8, density: 2400, specificHeat: 1000 }], 0.13, 0.04, 86400).decrement // 0.5136099963
 * @source EN ISO 13786:2017
 */
export function periodicWall(
  layers: readonly WallLayer[],
  insideFilm: number,
  outsideFilm: number,
  period: number,
): PeriodicWall {
  const checks = new Checks();
  layers.forEach((layer, i) => {
    for (const path of ["thickness", "k", "density", "specificHeat"] as const)
      checks.number(`layers[${i}].${path}`, layer[path], { above: 0 });
  });
  checks.number("insideFilm", insideFilm, { least: 0 });
  checks.number("outsideFilm", outsideFilm, { least: 0 });
  checks.number("period", period, { above: 0 });
  if (layers.length === 0) checks.add({ code: "missing", path: "layers" });
  checks.done();
  // outermost matrix first
  let Z = film(outsideFilm);
  for (const layer of [...layers].reverse()) Z = times(Z, layerMatrix(layer, period));
  Z = times(Z, film(insideFilm));
  const [z11, z12, , z22] = Z;
  const through = div([-1, 0], z12);
  const resistance = layers.reduce((sum, { thickness, k }) => sum + thickness / k, 0);
  const steady = 1 / (insideFilm + resistance + outsideFilm);
  const turn = Math.atan2(through[1], through[0]) / (2 * Math.PI); // of a period, negative: later
  const half = period / (2 * Math.PI);
  return {
    steady,
    transmitted: size(through),
    decrement: size(through) / steady,
    delay: (((-turn * period) % period) + period) % period,
    inside: half * size(div(add(z11, [-1, 0]), z12)),
    outside: half * size(div(add(z22, [-1, 0]), z12)),
  };
}
