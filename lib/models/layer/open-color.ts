/**
 * A color that lies open in its half of the mold: integrated once, with the temperatures of all cells recorded at a few dozen times.
 *
 * Symbols: T K, t s from its pour.
 */
import type { HeatProblem } from "../../heat/problem.ts";
import { makeRepeat } from "../../heat/repeat.ts";
import type { RunRecord } from "../../heat/run-record.ts";
import type { Solving } from "../cooling.ts";
import { type ColorRules, type ColorSequence, reading, refillOf, stageOf } from "./colors.ts";

interface Profile {
  readonly time: number;
  readonly temperature: Float32Array;
}

/**
 * First profile that is recorded, s, and the ratio from each to the next: each ends a step. Against a ratio of 1.04 no end of a
 * window moves by more than 0.03 %, with 1.35 by 0.11 % (measured on four example jobs).
 */
export const FIRST_PROFILE = 0.4;
const PROFILE_RATIO = 1.25;
/** What the colder color may lack of the temperature that an even meeting needs, K, before it is given up. */
export const MEETING_SLACK = 12;
/** What an answer draws of the color that lies open. */
const COURSE = ["surface", "wall"] as const;

export interface WindowOptions {
  readonly solving?: Solving;
  /** Longest that a color is left open, s. */
  readonly horizon?: number;
  /** Temperatures of all cells as color k is poured; left out: the mold as it starts. */
  readonly start?: Float64Array;
}

/** Times at which profiles are recorded. */
function profileTimes(horizon: number): number[] {
  const times: number[] = [];
  for (let t = FIRST_PROFILE; t < horizon; t *= PROFILE_RATIO) times.push(t);
  return [...times, horizon];
}

/** A color that lies open, with its profiles. */
export interface OpenColor {
  readonly sequence: ColorSequence;
  readonly k: number;
  readonly rules: ColorRules;
  readonly solving: Solving;
  readonly horizon: number;
  readonly record: RunRecord;
  readonly names: readonly string[];
  readonly cells: number;
  /** Temperatures of all cells when the color has lain open for t. */
  stateAt(t: number): Float64Array;
}

/**
 * Lets color k lie open in its half of the mold.
 *
 * @param next hottest that the following color may be asked for with, K
 */
export function coolOpenColor(
  sequence: ColorSequence,
  k: number,
  rules: ColorRules,
  options: WindowOptions = {},
  next = sequence.poured[k + 1].temperature,
): OpenColor {
  const { solving = {}, horizon = 3600, start } = options;
  const cooling: HeatProblem = {
    ...reading(sequence, [`hottest ${k}`, `skin ${k}`, ...sequence.interfaces[k], ...COURSE]),
    ...solving,
    estimateGrid: false,
    stages: [
      {
        until: horizon,
        refill: refillOf(sequence, k, sequence.poured[k].temperature),
        ...stageOf(sequence, k),
        // below that no meeting can bond: what follows needs no profiles
        stop: { probe: `hottest ${k}`, below: 2 * rules.bondAbove - next - MEETING_SLACK },
      },
    ],
    crossings: [
      { probe: `hottest ${k}`, below: rules.setBelow },
      { probe: `skin ${k}`, below: rules.setBelow },
    ],
    snapshots: profileTimes(horizon),
  };
  const [open] = makeRepeat(cooling).integrators;
  if (start) open.cellT.set(start);
  const record = open.run(start === undefined);
  const profiles: Profile[] = [...record.snapshots];
  const last = profiles[profiles.length - 1];
  if (last === undefined || last.time < record.end * (1 - 1e-9))
    profiles.push({ time: record.end, temperature: Float32Array.from(open.cellT) });
  return {
    sequence,
    k,
    rules,
    solving,
    horizon,
    record,
    names: open.reader.names,
    cells: open.op.cells,
    stateAt: (t) => profileAt(profiles, t),
  };
}

/**
 * Profile between those recorded: a parabola over the logarithm of the time through the three nearest, between the two beside
 * it. Where a cell only begins to warm the parabola would dip below all that is cold.
 */
function profileAt(profiles: readonly Profile[], t: number): Float64Array {
  const n = profiles.length;
  const exact = profiles.find((p) => p.time === t);
  if (exact || n < 3) return Float64Array.from((exact ?? profiles[n - 1]).temperature);
  const later = profiles.findIndex((p) => p.time > t);
  const i = later < 0 ? n - 1 : Math.max(1, later);
  const first = Math.min(i - 1, n - 3);
  const three = [0, 1, 2].map((k) => profiles[first + k]);
  const s = three.map((p) => Math.log(p.time));
  const at = Math.log(t);
  const w = s.map((own, k) =>
    s.reduce(
      (product, other, q) => (q === k ? product : (product * (at - other)) / (own - other)),
      1,
    ),
  );
  const [before, after] = [profiles[i - 1].temperature, profiles[i].temperature];
  return Float64Array.from(three[0].temperature, (T, cell) => {
    const between =
      w[0] * T + w[1] * three[1].temperature[cell] + w[2] * three[2].temperature[cell];
    const [a, b] = [before[cell], after[cell]];
    return Math.min(Math.max(between, Math.min(a, b)), Math.max(a, b));
  });
}
