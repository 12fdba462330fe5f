/** How fast a bait sinks or rises once drag and weight balance. SI. */
import { cylinderDrag, cylinderEnds, ovalDrag, streamlinedDrag } from "../../formulas/drag.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import { findRoot } from "../../numerics/roots.ts";
import type { Body } from "../../shape/body.ts";
import type { Balance } from "./balance.ts";

/** What the flow meets of a body. */
interface Silhouette {
  readonly length: number;
  /** Area seen from above, m2, and where its middle lies, m from the nose. */
  readonly area: number;
  readonly center: number;
  /** Mean width and height, m. */
  readonly width: number;
  readonly height: number;
  readonly surface: number;
}

/** The body seen from above and from the side. */
export function silhouetteOf(body: Body, surface: number): Silhouette {
  const n = 200;
  let [area, moment, side] = [0, 0, 0];
  for (let k = 0; k < n; k++) {
    const at = ((k + 0.5) / n) * body.length;
    const { width, height } = body.sizeAt(at);
    area += (width * body.length) / n;
    moment += (width * at * body.length) / n;
    side += (height * body.length) / n;
  }
  return {
    length: body.length,
    area,
    center: moment / area,
    width: area / body.length,
    height: side / body.length,
    surface,
  };
}

/** Standard gravity, m/s2: 3rd CGPM, 1901. */
const GRAVITY = 9.80665;
/** Faster than most that sinks, m/s; a heavy hook in a thin bait is looked for beyond. */
const FAST = 30;

interface Water {
  readonly density: number; // kg/m3
  readonly viscosity: number; // Pa s
}

/**
 * Speed at which drag balances the weight in water, m/s; negative for a bait that rises.
 *
 * Flow across and along the body are taken by themselves: across as a cylinder with ends and an oval section, along as a
 * slender body.
 *
 * @param netMass weight in water, kg
 * @param pitch nose down, rad
 * @param factor drag over that of the formulas
 */
function terminalSpeed(
  netMass: number,
  pitch: number,
  shape: Silhouette,
  water: Water,
  factor: number,
): number {
  const pull = Math.abs(netMass) * GRAVITY;
  if (pull === 0) return 0;
  const drag = (speed: number) => dragAt(speed, pitch, shape, water) * factor;
  if (drag(1e-6) >= pull) return 0;
  let fastest = FAST;
  while (drag(fastest) < pull) fastest *= 2;
  const speed = findRoot(
    (log) => Math.log(drag(Math.exp(log)) / pull),
    Math.log(1e-6),
    Math.log(fastest),
    1e-9,
  );
  return Math.sign(netMass) * Math.exp(speed);
}

/** How a body sinks or rises steadily. */
interface Fall {
  /** Down, m/s. */
  readonly speed: number;
  /** Nose down, rad. */
  readonly pitch: number;
}

/**
 * Attitude and speed at which nothing changes any more.
 *
 * What lies ahead turns the nose down; what lies below the axis, and the flow around a long body, which turns it across
 * its way, hold it level:
 *
 *     g (ahead cos p - below sin p) = rho v^2/2 V (k2 - k1) sin 2p cos((90 deg - p)/2)
 *
 * @source flow: Allen & Perkins, A study of effects of viscosity on flow over slender inclined bodies of revolution,
 * NACA Report 1048, 1951, with Munk's factor k2 - k1 of ellipsoids (Lamb, Hydrodynamics, art. 114); recalled
 */
export function steadyFall(
  { netMass, ahead, below, volume }: Balance,
  shape: Silhouette,
  water: Water,
  factor: number,
): Fall {
  const fallAt = (pitch: number): Fall => ({
    pitch,
    speed: terminalSpeed(netMass, pitch, shape, water, factor),
  });
  const arm = Math.abs(ahead);
  if (!(arm > 1e-9 * shape.length * Math.abs(netMass))) return fallAt(0);
  const turning = munk(shape.length / Math.sqrt(shape.width * shape.height));
  const moment = (pitch: number) => {
    const { speed } = fallAt(pitch);
    const flow =
      0.5 *
      water.density *
      speed ** 2 *
      volume *
      turning *
      Math.sin(2 * pitch) *
      Math.cos((Math.PI / 2 - pitch) / 2);
    return GRAVITY * (arm * Math.cos(pitch) - Math.abs(below) * Math.sin(pitch)) - flow;
  };
  const steepest = Math.PI / 2 - 1e-3;
  const pitch = moment(steepest) >= 0 ? Math.PI / 2 : findRoot(moment, 0, steepest, 1e-6);
  return fallAt(Math.sign(ahead) * pitch);
}

/** Added mass across less that along, over the mass displaced, of an ellipsoid of this length to its diameter. */
const munk = monotoneCubic([1, 2, 4, 6, 10, 20], [0, 0.49, 0.778, 0.873, 0.939, 0.98]);

/** Drag against the way down, N. */
function dragAt(speed: number, pitch: number, shape: Silhouette, water: Water): number {
  const across = speed * Math.abs(Math.cos(pitch));
  const along = speed * Math.abs(Math.sin(pitch));
  const { density, viscosity } = water;
  const { length, width, height, area, surface } = shape;
  const diameter = Math.sqrt(width * height);
  const slenderness = length / diameter;
  const round = across === 0 ? 0 : cylinderDrag((density * across * width) / viscosity);
  const normal =
    0.5 *
    density *
    across ** 2 *
    area *
    round *
    cylinderEnds(length / width) *
    ovalDrag(width / height);
  const axial =
    along === 0
      ? 0
      : 0.5 *
        density *
        along ** 2 *
        surface *
        streamlinedDrag((density * along * length) / viscosity, slenderness);
  return normal * Math.abs(Math.cos(pitch)) + axial * Math.abs(Math.sin(pitch));
}
