/**
 * The span in which the next color may follow: the one before no longer flows, and the joint still bonds.
 *
 * The same for one dimension and two: a pouring names its regions and probes. The color that lies open is marched once,
 * with its profile kept at a few dozen times; what happens when the next one meets it is marched from such a profile
 * for a few seconds, and the latest time that still bonds is searched for.
 *
 * Symbols: T K, t s from the pour of the color that lies open.
 */
import { degreeOfHealing, type HealingTime } from "../../cure/healing.ts";
import type { Boundary, HeatProblem, Stage } from "../../heat/problem.ts";
import type { Marched } from "../../heat/record.ts";
import { makeRepeat } from "../../heat/repeat.ts";
import type { Solving } from "../cooling.ts";

/** Colors that are put into a mold one after the other. */
export interface Pouring {
  readonly problem: Omit<HeatProblem, "stages">;
  /** Regions of each color, in order: one for each cavity. */
  readonly colors: readonly (readonly string[])[];
  /** Each color as it comes in, K. */
  readonly temperatures: readonly number[];
  /** Regions of the mold half that is put on with the last color. */
  readonly upper: readonly string[];
  /** What an open color looks at. */
  readonly exposed: Boundary;
  /** Probes on the joint between color k and the next, from its middle outwards. */
  readonly joints: readonly (readonly string[])[];
}

export interface ColorRules {
  /** No longer flows below this, K. */
  readonly set: number;
  /** Hottest temperature that the joint must reach, K. */
  readonly bond: number;
  /** Degree of healing that it must reach, 0 to 1. */
  readonly healing: number;
  readonly healingTime: HealingTime;
}

/** The joint when the next color comes at some time, place by place; each is the weakest up to there. */
export interface Joint {
  /** Hottest that it gets, K. */
  readonly peaks: readonly number[];
  /** Degree of healing, 0 to 1. */
  readonly healings: readonly number[];
}

export interface ColorWindow {
  /** All of the color has set, s; Infinity: not within the time looked at. */
  readonly set: number;
  /** It has set as deep as a skin must be, s. */
  readonly skin: number;
  /**
   * Latest time at which the joint still gets hot enough and heals enough, up to place `upTo` of its probes (the last
   * when left out), s; 0: never, Infinity: as long as looked at.
   */
  close(upTo?: number): number;
  /** The same for either alone. */
  bond(upTo?: number): number;
  healing(upTo?: number): number;
  jointAt(t: number): Joint;
  /** Steps taken so far. */
  steps(): number;
}

interface Profile {
  readonly time: number;
  readonly temperature: Float32Array;
}

/** First profile that is kept, s, and the ratio from each to the next. */
const FIRST_PROFILE = 0.4;
const PROFILE_RATIO = 1.16;
/** A joint is judged from here on, s: before, the grid does not resolve it. */
const SETTLING = 0.2;
/** Meeting of two colors is followed for this long, s: after that the joint is too cold to heal on. */
const MEETING = 25;
/** Full healing weighs as much as this in the search. */
const KELVIN_PER_HEALING = 50;
/** What the colder color may lack of the temperature that an even meeting needs, K, before it is given up. */
const SLACK = 12;

export interface WindowOptions {
  readonly solving?: Solving;
  /** Longest that a color is left open, s. */
  readonly horizon?: number;
  /** Temperatures of all boxes as color k is poured; left out: the mold as it starts. */
  readonly start?: Float64Array;
}

/** Times at which profiles are kept. */
function profileTimes(horizon: number): number[] {
  const times: number[] = [];
  for (let t = FIRST_PROFILE; t < horizon; t *= PROFILE_RATIO) times.push(t);
  return [...times, horizon];
}

function stageOf(pouring: Pouring, k: number): Pick<Stage, "absent" | "exposed"> {
  const later = pouring.colors.slice(k + 1).flat();
  const closed = k === pouring.colors.length - 1;
  return { absent: closed ? later : [...later, ...pouring.upper], exposed: pouring.exposed };
}

function refillOf(pouring: Pouring, k: number, temperature: number): NonNullable<Stage["refill"]> {
  return pouring.colors[k].map((name) => ({ name, temperature }));
}

/** Stages from the moment the color after k comes in until the hottest point of them all is at the limit. */
export function closedStages(pouring: Pouring, k: number, limit: number, until: number): Stage[] {
  const still = stageOf(pouring, k + 1);
  const colors = pouring.colors.slice(0, k + 2).map((_, c) => c);
  // the newest is the hottest, and once it is cool enough the others are asked
  return colors.reverse().map((c, i) => ({
    until: until * (1 + 1e-6 * i),
    ...(i === 0 && { refill: refillOf(pouring, k + 1, pouring.temperatures[k + 1]) }),
    ...still,
    stop: { probe: `hottest ${c}`, below: limit },
  }));
}

/** A color that lies open, with its profiles. */
export interface Lying {
  readonly pouring: Pouring;
  readonly k: number;
  readonly rules: ColorRules;
  readonly solving: Solving;
  readonly horizon: number;
  readonly march: Marched;
  readonly names: readonly string[];
  readonly boxes: number;
  /** Temperatures of all boxes when the color has lain open for t. */
  stateAt(t: number): Float64Array;
}

/**
 * Lets color k lie open in its half of the mold.
 *
 * @param next hottest that the following color may be asked for with, K
 */
export function lieOpen(
  pouring: Pouring,
  k: number,
  rules: ColorRules,
  options: WindowOptions = {},
  next = pouring.temperatures[k + 1],
): Lying {
  const { solving = {}, horizon = 3600, start } = options;
  const lies: HeatProblem = {
    ...pouring.problem,
    ...solving,
    estimateGrid: false,
    stages: [
      {
        until: horizon,
        refill: refillOf(pouring, k, pouring.temperatures[k]),
        ...stageOf(pouring, k),
        // below that no meeting can bond: what follows needs no profiles
        stop: { probe: `hottest ${k}`, below: 2 * rules.bond - next - SLACK },
      },
    ],
    crossings: [
      { probe: `hottest ${k}`, below: rules.set },
      { probe: `skin ${k}`, below: rules.set },
    ],
    snapshots: profileTimes(horizon),
  };
  const [openMarch] = makeRepeat(lies).marches;
  if (start) openMarch.boxT.set(start);
  const march = openMarch.run(start === undefined);
  const profiles: Profile[] = [...march.snapshots];
  const last = profiles[profiles.length - 1];
  if (last === undefined || last.time < march.end * (1 - 1e-9))
    profiles.push({ time: march.end, temperature: Float32Array.from(openMarch.boxT) });
  return {
    pouring,
    k,
    rules,
    solving,
    horizon,
    march,
    names: openMarch.reader.names,
    boxes: openMarch.op.boxes,
    stateAt: (t) => profileAt(profiles, t),
  };
}

/** The window after a color that lies open, when the next one comes in at `next` K. */
export function windowOf(
  lying: Lying,
  next = lying.pouring.temperatures[lying.k + 1],
): ColorWindow {
  const { pouring, k, rules, solving, march } = lying;
  const meets: HeatProblem = {
    ...pouring.problem,
    ...solving,
    estimateGrid: false,
    stages: [
      { until: MEETING, refill: refillOf(pouring, k + 1, next), ...stageOf(pouring, k + 1) },
    ],
  };
  const [meeting] = makeRepeat(meets).marches;
  const columns = pouring.joints[k].map((name) => meeting.reader.names.indexOf(name) + 1);
  const known = new Map<number, Joint>();
  let steps = march.steps;
  const jointAt = (t: number): Joint => {
    const before = known.get(t);
    if (before) return before;
    meeting.boxT.set(lying.stateAt(t));
    const { trace, steps: taken } = meeting.run(false);
    steps += taken;
    const times = trace.column(0);
    let from = 0;
    while (from < times.length - 2 && times[from] < SETTLING) from++;
    let peak = Number.POSITIVE_INFINITY;
    let healing = 1;
    const joint = { peaks: [] as number[], healings: [] as number[] };
    for (const column of columns) {
      const T = trace.column(column).subarray(from);
      peak = Math.min(
        peak,
        T.reduce((a, b) => Math.max(a, b)),
      );
      healing = Math.min(healing, degreeOfHealing(times.subarray(from), T, rules.healingTime));
      joint.peaks.push(peak);
      joint.healings.push(healing);
    }
    known.set(t, joint);
    return joint;
  };
  const guess = firstBelow(lying, 2 * rules.bond - next);
  // shortfall in kelvin, or what weighs as much, that falls with t
  const latest = (margin: (joint: Joint) => number) =>
    latestTime(
      (t) => margin(jointAt(t)),
      guess,
      FIRST_PROFILE,
      march.end,
      march.end < lying.horizon,
    );
  const outermost = columns.length - 1;
  const hot = (joint: Joint, place: number) => joint.peaks[place] - rules.bond;
  const healed = (joint: Joint, place: number) =>
    KELVIN_PER_HEALING * (joint.healings[place] - rules.healing);
  return {
    set: march.crossings[0] ?? Number.POSITIVE_INFINITY,
    skin: march.crossings[1] ?? Number.POSITIVE_INFINITY,
    close: (upTo = outermost) => latest((j) => Math.min(hot(j, upTo), healed(j, upTo))),
    bond: (upTo = outermost) => latest((j) => hot(j, upTo)),
    healing: (upTo = outermost) => latest((j) => healed(j, upTo)),
    jointAt,
    steps: () => steps,
  };
}

/** When the hottest place of the open color falls below a temperature: where the search starts. */
function firstBelow({ march, names, k }: Lying, T: number): number {
  const hottest = march.trace.column(names.indexOf(`hottest ${k}`) + 1);
  const i = hottest.findIndex((v) => v < T);
  return i < 0 ? march.end : march.trace.column(0)[i];
}

/** Largest t with f(t) >= 0 of a falling f: from a guess outwards, then by false position. 0: none; Infinity: beyond. */
function latestTime(
  f: (t: number) => number,
  guess: number,
  from: number,
  to: number,
  ends: boolean,
): number {
  let low = Math.min(Math.max(guess, from), to);
  let high = low;
  let fLow = f(low);
  let fHigh = fLow;
  while (fLow < 0) {
    if (low <= from) return 0;
    [high, fHigh] = [low, fLow];
    low = Math.max(from, low / 1.3);
    fLow = f(low);
  }
  while (fHigh >= 0) {
    // once too cold for any meeting, its end is the end
    if (high >= to) return ends ? to : Number.POSITIVE_INFINITY;
    [low, fLow] = [high, fHigh];
    high = Math.min(to, high * 1.3);
    fHigh = f(high);
  }
  for (let turn = 0; turn < 30 && high - low > 2e-3 * high; turn++) {
    const share = fLow / (fLow - fHigh);
    const t = low + Math.min(0.9, Math.max(0.1, share)) * (high - low);
    const value = f(t);
    if (value >= 0) [low, fLow] = [t, value];
    else [high, fHigh] = [t, value];
    if (Math.abs(value) < 0.02) return t;
  }
  return low + (fLow / (fLow - fHigh)) * (high - low);
}

/** Profile between those kept: a parabola over the logarithm of the time through the three nearest. */
function profileAt(profiles: readonly Profile[], t: number): Float64Array {
  const n = profiles.length;
  const exact = profiles.find((p) => p.time === t);
  if (exact || n < 3) return Float64Array.from((exact ?? profiles[n - 1]).temperature);
  let i = profiles.findIndex((p) => p.time > t);
  if (i < 0) i = n - 1;
  const first = Math.min(Math.max(i - 1, 0), n - 3);
  const three = [0, 1, 2].map((k) => profiles[first + k]);
  const s = three.map((p) => Math.log(p.time));
  const at = Math.log(t);
  const w = s.map((own, k) =>
    s.reduce(
      (product, other, q) => (q === k ? product : (product * (at - other)) / (own - other)),
      1,
    ),
  );
  return Float64Array.from(
    three[0].temperature,
    (T, box) => w[0] * T + w[1] * three[1].temperature[box] + w[2] * three[2].temperature[box],
  );
}
