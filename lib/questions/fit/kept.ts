/**
 * What stands in a job after a log: the ensemble as one normal curve in the deviates of the job's inputs. At its middle the
 * time to opening is the ensemble's, for that is what a question calls most likely; drawn from, it has the ensemble's width.
 *
 * The ensemble holds more than the job's inputs: that all times are off by some share. And a normal curve is no bent one.
 * Both are put right along the way that moves the time most for the least that inputs have to move.
 */

import { onCurve, triangleOf } from "../../confidence/learn.ts";
import { sobolSequence } from "../../confidence/sobol-sequence.ts";
import { FARTHEST, type FittedInput } from "../../job/input-names.ts";
import { slopesAt } from "../../numerics/slopes.ts";
import { normalQuantile } from "../../numerics/special-functions.ts";
import type { Ends, Weighed } from "./weighed.ts";

const STEP = 0.05;
const DRAWN = 512;
const ROUNDS = 6;
/** A narrower curve than this share of what it was is not sought: what bends is left. */
const NARROWEST = 0.25;

/** The same by its covariance, which can be stretched one way. */
interface Cloud {
  readonly middle: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

/** Change of inputs that moves the logarithm of time by one, and its slopes. */
interface Way {
  readonly slopes: readonly number[];
  readonly way: readonly number[];
}

function wayOf(logTime: (z: Float64Array) => number, at: readonly number[]): Way | null {
  const slopes = slopesAt(logTime, at, STEP);
  const square = slopes.reduce((sum, s) => sum + s * s, 0);
  return square > 1e-12 ? { slopes, way: slopes.map((s) => s / square) } : null;
}

/** Members as inputs alone, which have the time that each had with what was off beside them. */
function cloudOf(
  { members, weights }: Weighed,
  way: readonly number[],
  off: (z: Float64Array) => number,
): Cloud {
  const n = way.length;
  const moved = members.map((z) => way.map((w, i) => z[i] + w * off(z)));
  const middle = way.map((_, i) => moved.reduce((sum, z, m) => sum + weights[m] * z[i], 0));
  const covariance = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) =>
      moved.reduce((sum, z, m) => sum + weights[m] * (z[i] - middle[i]) * (z[j] - middle[j]), 0),
    ),
  );
  return { middle, covariance };
}

/** Covariance with what lies along the way made larger by a factor: (I + (f - 1) w s') C (I + (f - 1) s w'). */
function stretched({ covariance: c }: Cloud, { slopes, way }: Way, factor: number): number[][] {
  const by = factor - 1;
  const cs = c.map((row) => row.reduce((sum, x, j) => sum + x * slopes[j], 0));
  const scs = cs.reduce((sum, x, i) => sum + x * slopes[i], 0);
  return c.map((row, i) =>
    row.map((x, j) => x + by * (way[i] * cs[j] + cs[i] * way[j]) + by * by * way[i] * way[j] * scs),
  );
}

/**
 * The curve that is kept.
 *
 * @param logTime logarithm of the time by the job's inputs
 * @param off by how much a member's time is longer than its inputs make it, as a logarithm
 * @param ends of the ensemble's time: what the curve is to give
 */
export function keptInputs(
  weighed: Weighed,
  logTime: (z: Float64Array) => number,
  off: (z: Float64Array) => number,
  ends: Ends,
): FittedInput[] {
  const n = weighed.inputs.length;
  const sequence = sobolSequence(n, 31);
  const normals = Array.from({ length: DRAWN }, (_, k) => sequence.point(k).map(normalQuantile));
  const way = wayOf(logTime, weighed.middle.slice(0, n));
  let cloud = cloudOf(weighed, way?.way ?? new Array<number>(n).fill(0), off);
  let triangle = triangleOf(cloud.covariance);
  for (let round = 0; way !== null && round < ROUNDS; round++) {
    const times = normals
      .map((u) => logTime(onCurve({ middle: cloud.middle, triangle }, u)))
      .sort((a, b) => a - b);
    const [low, high] = [0.1, 0.9].map((share) => times[Math.floor(share * DRAWN)]);
    const shift = Math.log(ends.value) - logTime(Float64Array.from(cloud.middle));
    const width = Math.log(ends.high / ends.low) / Math.max(1e-9, high - low);
    cloud = {
      middle: cloud.middle.map((m, i) => m + shift * way.way[i]),
      covariance: stretched(cloud, way, Math.min(2, Math.max(NARROWEST, width))),
    };
    triangle = triangleOf(cloud.covariance);
  }
  return weighed.inputs.map(({ name }, i) => ({
    name,
    middle: Math.min(FARTHEST, Math.max(-FARTHEST, cloud.middle[i])),
    row: triangle[i].slice(0, i + 1),
  }));
}
