/**
 * What verdicts will leave of what is not known of a time, before one is given: shops are invented whose baits take a time that
 * is as likely as what is known says; each opens, gropes and judges, and is weighed as `fit` weighs it. Logarithms of s.
 *
 * How far verdicts part what may be hangs on how they fall: a shop that opens well beside the truth learns little, and one whose
 * short ones were good and long ones soft by chance has its scatter raised. And what they tell is of a mold that gets warmer.
 *
 *     time of shot k = t + s (b t + g v),   t = before u;   u, v standard normal, s share of the warming by then
 */

import { sobolSequence } from "../../confidence/sobol-sequence.ts";
import { normalQuantile } from "../../numerics/special-functions.ts";
import { LINE_SCATTER, logChance, raisedScatter, type Told } from "./verdicts.ts";

/** A mold reads warmer by this after the first shots of an evening, K; it gets there within about so many. From memory. */
export const WARMS = 12;
const WARMING_SHOTS = 4;
/** What is read of a mold is off by this from shot to shot, K. From memory. */
const READ_OFF = 2;
/** A shop opens this much earlier or later than what is likely by then, as a share: it gropes. From memory. */
const BESIDE = 0.08;
const SHOPS = 32;
const SEED = 15;
/** Deviates u and v that a shop's may be. */
const TIMES = Array.from({ length: 41 }, (_, k) => (k - 20) / 5);
const WARM_TIMES = Array.from({ length: 7 }, (_, k) => k - 3);

/** What is known before of the logarithm of time in the job's mold, and in one that is warmer by `WARMS`. */
export interface BeforeVerdicts {
  /** Deviation of the first. */
  readonly before: number;
  /** How the second less the first goes with the first, and its deviation otherwise. */
  readonly along: number;
  readonly apart: number;
  /** The second less the first where all is likely. */
  readonly shift: number;
  /** Of the surface by which verdicts are weighed. */
  readonly error: number;
}

/**
 * Standard deviation of the logarithm of time after so many verdicts, on the mean of shops.
 *
 * @param counts numbers of verdicts, rising
 */
export function leftByVerdicts(counts: readonly number[], given: BeforeVerdicts): number[] {
  const most = counts[counts.length - 1];
  const draws = sobolSequence(2 + most, SEED);
  const gropes = sobolSequence(1, SEED);
  const besides = Array.from({ length: most }, (_, k) => normalQuantile(gropes.point(k)[0]));
  const left = counts.map(() => 0);
  for (let shop = 0; shop < SHOPS; shop++) {
    const [u, v, ...scattered] = draws.point(shop).map(normalQuantile);
    const logs = nothingTold();
    const lines: Told[] = [];
    scattered.forEach((z, shot) => {
      // opened at about what is likely by then
      const beside = knownBy(logs, given).middle + BESIDE * besides[shot];
      const line = lineOf(beside, timeAt(shot, u, v, given), z, given);
      take(logs, line, shot, given);
      lines.push(line);
      const i = counts.indexOf(lines.length);
      if (i < 0) return;
      const raised = raisedScatter(lines);
      const all = raised === 1 ? logs : weighed(lines, raised, given);
      left[i] += knownBy(all, given).deviation / SHOPS;
    });
  }
  return left;
}

/** The verdict of a bait that takes so long on the whole, and by a deviate more or less. */
function lineOf(beside: number, time: number, z: number, given: BeforeVerdicts): Told {
  const { shift, error } = given;
  const needed = time + Math.hypot(LINE_SCATTER, (shift / WARMS) * READ_OFF) * z;
  return { late: beside >= needed ? 1 : -1, beside, scatter: Math.hypot(LINE_SCATTER, error) };
}

/** How much longer than likely a bait takes at a shot. */
function timeAt(shot: number, u: number, v: number, { before, along, apart }: BeforeVerdicts) {
  return before * u + warmBy(shot) * (along * before * u + apart * v);
}

const warmBy = (shot: number) => 1 - Math.exp(-shot / WARMING_SHOTS);

/** Logarithm of what each u and v weigh, v within u. */
function nothingTold(): Float64Array {
  return Float64Array.from(TIMES.flatMap((u) => WARM_TIMES.map((v) => -(u * u + v * v) / 2)));
}

function take(logs: Float64Array, line: Told, shot: number, given: BeforeVerdicts): void {
  const { late, beside, scatter } = line;
  let i = 0;
  for (const u of TIMES)
    for (const v of WARM_TIMES)
      logs[i++] += logChance(late, beside - timeAt(shot, u, v, given), scatter);
}

function weighed(lines: readonly Told[], raised: number, given: BeforeVerdicts): Float64Array {
  const logs = nothingTold();
  lines.forEach((line, shot) => {
    take(logs, { ...line, scatter: raised * line.scatter }, shot, given);
  });
  return logs;
}

/** What is known of the time in the job's mold. */
function knownBy(logs: Float64Array, { before }: BeforeVerdicts) {
  const most = logs.reduce((a, b) => Math.max(a, b));
  let [whole, first, second] = [0, 0, 0];
  logs.forEach((log, i) => {
    const weight = Math.exp(log - most);
    const u = TIMES[Math.floor(i / WARM_TIMES.length)];
    whole += weight;
    first += weight * u;
    second += weight * u * u;
  });
  const middle = first / whole;
  return {
    middle: before * middle,
    deviation: before * Math.sqrt(second / whole - middle * middle),
  };
}
