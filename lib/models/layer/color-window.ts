/**
 * The span in which the next color may follow: the one before no longer flows, and the interface still bonds.
 *
 * The same for one dimension and two: a sequence of colors names its regions and probes. The color that lies open is integrated once,
 * with its profile recorded at a few dozen times; what happens when the next one meets it is integrated from such a profile
 * for half a minute, and the latest time that still bonds is searched for.
 *
 * Symbols: T K, t s from the pour of the color that lies open.
 */
import { degreeOfHealing, type HealingTime } from "../../cure/healing.ts";
import { contactTemperature, type ThickBody } from "../../formulas/contact.ts";
import type { Boundary, HeatProblem, Stage } from "../../heat/problem.ts";
import { lawAt } from "../../heat/properties.ts";
import { makeRepeat } from "../../heat/repeat.ts";
import type { RunRecord } from "../../heat/run-record.ts";
import type { Material } from "../../materials/material.ts";
import { linearAt } from "../../numerics/linear.ts";
import type { Solving } from "../cooling.ts";
import { type Ended, latestTime, NEARLY, ROUGHLY, USUAL_SLOPE } from "./latest-time.ts";

/** One color as it is poured: thickness m, temperature K. */
export interface Color {
  readonly name: string;
  readonly depth: number;
  readonly temperature: number;
  readonly material: Material;
}

/** Colors that are put into a mold one after the other. */
export interface ColorSequence {
  readonly poured: readonly Color[];
  readonly problem: Omit<HeatProblem, "stages">;
  /** Regions of each color, in order: one for each cavity. */
  readonly colors: readonly (readonly string[])[];
  /** Regions of the mold half that is put on with the last color. */
  readonly upper: readonly string[];
  /** What an open color looks at. */
  readonly exposed: Boundary;
  /** Probes on the interface between color k and the next, from its middle outwards. */
  readonly interfaces: readonly (readonly string[])[];
}

export interface ColorRules {
  /** No longer flows below this, K. */
  readonly setBelow: number;
  /** Hottest temperature that the interface must reach, K. */
  readonly bondAbove: number;
  /** Degree of healing that it must reach, 0 to 1. */
  readonly leastHealing: number;
  readonly healingTime: HealingTime;
}

/** The interface when the next color comes at some time, place by place; each is the weakest up to there. */
interface InterfaceState {
  /** Hottest that it gets, K. */
  readonly peaks: readonly number[];
  /** Degree of healing, 0 to 1. */
  readonly healings: readonly number[];
}

export interface ColorWindow {
  /** All of the color has set, s; Infinity: not within the time looked at. */
  readonly setAt: number;
  /** It has set as deep as a skin must be, s. */
  readonly skin: number;
  /**
   * Latest time at which the interface still gets hot enough and heals enough, up to place `upTo` of its probes (the last
   * when left out), s; 0: never, Infinity: as long as looked at.
   */
  close(upTo?: number): number;
  /** The same within a percent, along the slope of what was looked at. */
  closeRoughly(upTo: number): number;
  /** What ends it up to there: too little heat, or too little healing. */
  closesBy(upTo: number): "bond" | "healing";
  /** What the interface lacks more, K, or what weighs as much, when that wait grows by a factor of e. */
  slope(upTo?: number): number;
  /** The same for either alone, healing within a percent. */
  lastBond(upTo?: number): number;
  lastHealing(upTo?: number): number;
  interfaceAt(t: number): InterfaceState;
  /** Where the search for the latest time starts, s: when the color is too cold for an even meeting. */
  readonly evenUntil: number;
  /** Steps taken so far. */
  steps(): number;
}

/** What a search for the end of a window takes from that of a similar case. */
export interface Near extends Pick<ColorWindow, "close" | "slope" | "evenUntil"> {
  /** One look beside the end will do, by the slope of the similar case: within half a percent of the time. */
  readonly roughly?: boolean;
}

interface Profile {
  readonly time: number;
  readonly temperature: Float32Array;
}

/**
 * First profile that is recorded, s, and the ratio from each to the next: each ends a step. Against a ratio of 1.04 no end of a
 * window moves by more than 0.03 %, with 1.35 by 0.11 % (measured on four example jobs).
 */
const FIRST_PROFILE = 0.4;
const PROFILE_RATIO = 1.25;
/** No cell beside an interface is larger than about this share of a color's thickness, at resolution 1. */
const CELL_SHARE = 1 / 8;
/** Hottest is what lasts for this long after the meeting, s: a shorter moment bonds nothing. */
const LASTS = 0.2;
/** Colors meet near this temperature: where their properties are taken, K. */
const MEETING_TEMPERATURE = 400;
/** Meeting of two colors is followed for this long, s: after that the interface is too cold to heal on. */
const MEETING = 25;
/** An interface that has cooled for this long since it was hottest gets no hotter, s. */
const COOLING_FOR = 1;
/** Full healing weighs as much as this in the search. */
const KELVIN_PER_HEALING = 50;
/** What the colder color may lack of the temperature that an even meeting needs, K, before it is given up. */
const SLACK = 12;

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

function stageOf(sequence: ColorSequence, k: number): Pick<Stage, "absent" | "exposed"> {
  const later = sequence.colors.slice(k + 1).flat();
  const closed = k === sequence.colors.length - 1;
  return { absent: closed ? later : [...later, ...sequence.upper], exposed: sequence.exposed };
}

function refillOf(
  sequence: ColorSequence,
  k: number,
  temperature: number,
): NonNullable<Stage["refill"]> {
  return sequence.colors[k].map((name) => ({ name, temperature }));
}

/** What an answer draws of the color that lies open. */
const COURSE = ["surface", "wall"] as const;

/** The problem of a sequence with some of its probes: each one that is read costs a little at every step. */
function reading(
  { problem }: ColorSequence,
  names: readonly string[],
): Omit<HeatProblem, "stages"> {
  const probes = Object.fromEntries(names.map((name) => [name, problem.probes[name]]));
  return { ...problem, probes };
}

/** Stages from the moment the color after k comes in until the hottest point of them all is at the limit. */
export function closedStages(
  sequence: ColorSequence,
  k: number,
  limit: number,
  until: number,
): Stage[] {
  const still = stageOf(sequence, k + 1);
  const colors = sequence.colors.slice(0, k + 2).map((_, c) => c);
  // the newest is the hottest, and once it is cool enough the others are asked
  return colors.reverse().map((c, i) => ({
    until: until * (1 + 1e-6 * i),
    ...(i === 0 && { refill: refillOf(sequence, k + 1, sequence.poured[k + 1].temperature) }),
    ...still,
    stop: { probe: `hottest ${c}`, below: limit },
  }));
}

/**
 * Stages of the first two colors: the first lies open for `wait` s, then the second comes in and both cool until the
 * hottest point of them is at the limit.
 */
export function colorStages(
  sequence: ColorSequence,
  wait: number,
  limit: number,
  longest: number,
): Stage[] {
  return [
    {
      until: wait,
      refill: refillOf(sequence, 0, sequence.poured[0].temperature),
      ...stageOf(sequence, 0),
    },
    ...closedStages(sequence, 0, limit, wait + longest),
  ];
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
        stop: { probe: `hottest ${k}`, below: 2 * rules.bondAbove - next - SLACK },
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

/** Two colors as thick bodies that touch: what the interface is until the cold and the hot have gone further than a cell. */
function touchOf({ sequence, k, solving }: OpenColor) {
  const [first, second] = [sequence.poured[k], sequence.poured[k + 1]];
  const bodyOf = ({ material: m }: Color, T: number): ThickBody => ({
    k: lawAt(m.conductivity, MEETING_TEMPERATURE),
    c: lawAt(m.density, MEETING_TEMPERATURE) * lawAt(m.specificHeat, MEETING_TEMPERATURE),
    T,
  });
  const { k: conductivity, c } = bodyOf(first, MEETING_TEMPERATURE);
  const cell = (CELL_SHARE * first.depth) / (solving.resolution ?? 1);
  return {
    /** From here on the grid resolves it, s. */
    resolved: (c * (cell / 2) ** 2) / conductivity,
    temperature: (surface: number, next: number) =>
      contactTemperature(bodyOf(first, surface), bodyOf(second, next)),
  };
}

/** An interface as far as its meeting was followed. */
interface Met extends InterfaceState {
  /** So long ago the last of its places was hottest, s. */
  readonly cooling: number;
}

/** Whether an interface that is cooling tells enough already. */
type Tells = (state: InterfaceState) => boolean;

/** Followed to the end of its meeting. */
const whole: Tells = () => false;

/** Meetings of a color that lies open with the next one, which comes in at `next` K. */
function meetingsOf(openColor: OpenColor, next: number) {
  const { sequence, k, rules, solving, record } = openColor;
  const meets: HeatProblem = {
    ...reading(sequence, sequence.interfaces[k]),
    ...solving,
    estimateGrid: false,
    stages: [
      { until: MEETING, refill: refillOf(sequence, k + 1, next), ...stageOf(sequence, k + 1) },
    ],
  };
  const [meeting] = makeRepeat(meets).integrators;
  const places = sequence.interfaces[k].map((name) => ({
    column: meeting.reader.names.indexOf(name) + 1,
    open: openColor.names.indexOf(name) + 1,
  }));
  const touch = touchOf(openColor);
  const surfaceAt = (column: number, t: number) =>
    linearAt(record.trace.column(0), record.trace.column(column), t);
  const since = Math.max(touch.resolved, LASTS);
  const judge = ({ trace }: RunRecord, t: number): Met => {
    const times = trace.column(0);
    let from = 0;
    while (from < times.length - 1 && times[from] < since) from++;
    const judged = Float64Array.of(LASTS, ...times.subarray(from));
    let peak = Number.POSITIVE_INFINITY;
    let healing = 1;
    const state = { peaks: [] as number[], healings: [] as number[], cooling: MEETING };
    for (const { column, open } of places) {
      // from two touching bodies on to what the grid resolves
      const read = trace.column(column).subarray(from);
      const touching = touch.temperature(surfaceAt(open, t), next);
      const share = touch.resolved > LASTS ? LASTS / judged[1] : 1;
      const T = Float64Array.of(touching + share * (read[0] - touching), ...read);
      const hottest = T.reduce((best, value, i) => (value > T[best] ? i : best), 0);
      peak = Math.min(peak, T[hottest]);
      state.cooling = Math.min(state.cooling, judged[judged.length - 1] - judged[hottest]);
      healing = Math.min(healing, degreeOfHealing(judged, T, rules.healingTime));
      state.peaks.push(peak);
      state.healings.push(healing);
    }
    return state;
  };
  /** Those that were not followed to their end may heal further, and get no hotter. */
  const known = new Map<number, Met & { readonly isWhole: boolean }>();
  let steps = record.steps;
  return {
    steps: () => steps,
    places: places.length,
    /** Those that tell so much. */
    told: (tells: Tells) =>
      [...known].filter(([, state]) => state.isWhole || tells(state)).map(([t]) => t),
    /** The interface when the next color comes at t; followed until it tells enough. */
    at(t: number, tells: Tells): InterfaceState {
      const before = known.get(t);
      if (before && (before.isWhole || tells(before))) return before;
      meeting.cellT.set(openColor.stateAt(t));
      let last: Met | undefined;
      const isEnough = (found: RunRecord, passed: number) => {
        if (passed < since + COOLING_FOR) return false;
        last = judge(found, t);
        return last.cooling >= COOLING_FOR && tells(last);
      };
      const found = meeting.run(false, tells === whole ? undefined : isEnough);
      steps += found.steps;
      const state = { ...(last ?? judge(found, t)), isWhole: !found.stopped };
      known.set(t, state);
      return state;
    },
  };
}

/**
 * The window after a color that lies open, when the next one comes in at `next` K.
 *
 * @param near the window of a similar case: where it closes, this one is looked for first
 */
export function windowOf(
  openColor: OpenColor,
  next = openColor.sequence.poured[openColor.k + 1].temperature,
  near?: Near,
): ColorWindow {
  const { rules, record } = openColor;
  const meetings = meetingsOf(openColor, next);
  const outermost = meetings.places - 1;
  const surplus = {
    bond: (state: InterfaceState, place: number) => state.peaks[place] - rules.bondAbove,
    healing: (state: InterfaceState, place: number) =>
      KELVIN_PER_HEALING * (state.healings[place] - rules.leastHealing),
    either: (state: InterfaceState, place: number) =>
      Math.min(surplus.bond(state, place), surplus.healing(state, place)),
  };
  const healed = KELVIN_PER_HEALING * (1 - rules.leastHealing);
  // what heals further no longer decides once it has healed as much as the heat allows for
  const tells: Record<keyof typeof surplus, Tells> = {
    bond: () => true,
    healing: whole,
    either: (state) =>
      state.peaks.every(
        (_, p) => surplus.healing(state, p) >= Math.min(surplus.bond(state, p), healed),
      ),
  };
  const even = 2 * rules.bondAbove - next;
  const evenUntil = firstBelow(openColor, even);
  const tooCold = firstBelow(openColor, even - SLACK);
  // surplus in kelvin, or what weighs as much, that falls with t
  const latest = (
    by: keyof typeof surplus,
    upTo: number,
    { guess = evenUntil, slope = USUAL_SLOPE, nearly = near?.roughly ? NEARLY : 0 } = {},
  ): Ended =>
    latestTime((t) => surplus[by](meetings.at(t, tells[by]), upTo), {
      known: meetings.told(tells[by]),
      guess,
      slope,
      nearly,
      from: FIRST_PROFILE,
      to: tooCold,
      ends: tooCold < openColor.horizon,
    });
  const closes = new Map<number, Ended>();
  const closeOf = (upTo: number): Ended => {
    const before = closes.get(upTo);
    if (before !== undefined) return before;
    const ratio = near ? near.close(upTo) / near.evenUntil : 1;
    const guess = Number.isNaN(ratio) ? evenUntil : ratio * evenUntil;
    const slope = near?.slope(upTo) ?? USUAL_SLOPE;
    const found = latest("either", upTo, { guess, slope });
    closes.set(upTo, found);
    return found;
  };
  return {
    setAt: record.crossings[0] ?? Number.POSITIVE_INFINITY,
    skin: record.crossings[1] ?? Number.POSITIVE_INFINITY,
    close: (upTo = outermost) => closeOf(Math.min(upTo, outermost)).t,
    closeRoughly: (upTo) => closes.get(upTo)?.t ?? latest("either", upTo, { nearly: ROUGHLY }).t,
    closesBy(upTo) {
      const off = (t: number) => Math.abs(surplus.either(meetings.at(t, tells.either), upTo));
      const nearest = meetings.told(tells.either).reduce((a, b) => (off(b) < off(a) ? b : a));
      const state = meetings.at(nearest, tells.either);
      return surplus.healing(state, upTo) < surplus.bond(state, upTo) ? "healing" : "bond";
    },
    slope: (upTo = outermost) => closeOf(Math.min(upTo, outermost)).slope,
    lastBond: (upTo = outermost) => latest("bond", upTo).t,
    lastHealing: (upTo = outermost) => latest("healing", upTo, { nearly: ROUGHLY }).t,
    interfaceAt: (t) => meetings.at(t, whole),
    evenUntil,
    steps: meetings.steps,
  };
}

/** When the hottest place of the open color falls below a temperature: where the search starts. */
function firstBelow({ record, names, k }: OpenColor, T: number): number {
  const times = record.trace.column(0);
  const hottest = record.trace.column(names.indexOf(`hottest ${k}`) + 1);
  const i = hottest.findIndex((v) => v < T);
  if (i < 0) return record.end;
  if (i === 0) return times[0];
  const share = (hottest[i - 1] - T) / (hottest[i - 1] - hottest[i]);
  return times[i - 1] + share * (times[i] - times[i - 1]);
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
