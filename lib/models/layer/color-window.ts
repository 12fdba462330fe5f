/**
 * The span in which the next color may follow: the one before no longer flows, and the interface still bonds. The latest time that
 * still bonds is searched for among meetings.
 *
 * Symbols: T K, t s from the pour of the color that lies open.
 */
import { type Ended, latestTime, NEARLY, ROUGHLY, USUAL_SLOPE } from "./latest-time.ts";
import { type InterfaceState, meetingsOf, type Tells, whole } from "./meetings.ts";
import { FIRST_PROFILE, MEETING_SLACK, type OpenColor } from "./open-color.ts";

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

/** Full healing weighs as much as this in the search. */
const KELVIN_PER_HEALING = 50;

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
  const tooCold = firstBelow(openColor, even - MEETING_SLACK);
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
