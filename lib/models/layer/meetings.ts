/**
 * Meetings of a color that lies open with the next one: integrated for half a minute from how the open one was found.
 *
 * Symbols: T K, t s from the pour of the color that lies open.
 */
import { degreeOfHealing } from "../../cure/healing.ts";
import { contactTemperature, type ThickBody } from "../../formulas/contact.ts";
import type { HeatProblem } from "../../heat/problem.ts";
import { lawAt } from "../../heat/properties.ts";
import { makeRepeat } from "../../heat/repeat.ts";
import type { RunRecord } from "../../heat/run-record.ts";
import { linearAt } from "../../numerics/linear.ts";
import { type Color, reading, refillOf, stageOf } from "./colors.ts";
import type { OpenColor } from "./open-color.ts";

/** The interface when the next color comes at some time, place by place; each is the weakest up to there. */
export interface InterfaceState {
  /** Hottest that it gets, K. */
  readonly peaks: readonly number[];
  /** Degree of healing, 0 to 1. */
  readonly healings: readonly number[];
}

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
export type Tells = (state: InterfaceState) => boolean;

/** Followed to the end of its meeting. */
export const whole: Tells = () => false;

/** Meetings of a color that lies open with the next one, which comes in at `next` K. */
export function meetingsOf(openColor: OpenColor, next: number) {
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
