/**
 * Feeding of a bait through its sprue, in numbers: when sprue and gate close, what the bodies still shrink then, and
 * how long they would have to be fed.
 */

import { type StandIn, setTemperature } from "../../models/bait/bar.ts";
import { plastisolOf } from "../../models/plastisol.ts";
import type { EffortSum } from "../../models/ranged.ts";
import type { Scenario } from "../../models/scenario.ts";
import { fattestOf, gateHollow, type StationPart, stationParts } from "../../models/sprue/body.ts";
import {
  type CoolingOptions,
  LONGEST_SETTING,
  type Shells,
  stateAt,
  timeBelow,
} from "../../models/sprue/cooling.ts";
import { monotoneCubic } from "../../numerics/monotone.ts";
import { findRoot } from "../../numerics/roots.ts";
import { shrinkLeft, skinShare, type Unfed, unfedShare } from "./shrink-left.ts";

export interface FeedOptions extends CoolingOptions {
  /** A short gate closes later than a long bar of its width by this factor; left out: 1. */
  readonly gateFactor?: number;
  /** The effort is added to this. */
  readonly effort?: EffortSum;
  /** Moments at which the fattest part is looked at, too: `looksAt`. */
  readonly looks?: readonly number[];
}

interface FedPart extends Unfed {
  readonly part: StationPart;
  readonly mean: number; // K
  readonly center: number; // K
  /** Share of half the thickness that no longer flows. */
  readonly skin: number;
  /** Drawn in through the sprue so far, share of its volume, as hot plastic. */
  readonly drawn: number;
}

export interface Feed {
  /** s; Infinity where the mold is too warm for it to set. */
  readonly sprueCloses: number;
  readonly gateCloses: number;
  readonly closes: number;
  /** Feeding ends: closed, or the injector taken away and the sprue not topped off, s. */
  readonly ends: number;
  /** Every station at the moment that feeding ends. */
  readonly parts: readonly FedPart[];
  readonly fattest: FedPart;
  /** Drawn in by all parts until the end of feeding, m3 of hot plastic. */
  readonly drawnVolume: number;
  /** Drawn in by the sprue itself, share of its volume. */
  readonly sprueDrawn: number;
  /** Never fed, of all parts, m3. */
  readonly unfedVolume: number;
  /** The fattest part at each of the looks that were asked for. */
  readonly looked: readonly Shells[];
}

/** Mean share of volume drawn in while a full hollow cooled from `shot` to its temperature now. */
function drawnIn({ share, T }: Shells, expansion: number, shot: number): number {
  let drawn = 0;
  for (let i = 0; i < share.length; i++) drawn += share[i] * Math.expm1(expansion * (shot - T[i]));
  return drawn;
}

function closesAt(scenario: Scenario, hollow: StandIn, options: FeedOptions): number {
  const reached = timeBelow(scenario, hollow, "center", setTemperature(scenario.job), options);
  options.effort?.add(reached);
  return reached.time;
}

/** Feeding of a job as one scenario has it. */
export function feedOf(scenario: Scenario, options: FeedOptions = {}): Feed {
  const { job } = scenario;
  const sprue: StandIn = { form: "round", across: job.sprue.diameter };
  const gate = gateHollow(job.sprue);
  // as wide as the sprue: the bar that stands for an oval is only good to 1e-4
  const alike = gate.form === sprue.form && Math.abs(gate.across / sprue.across - 1) < 1e-3;
  const sprueCloses = closesAt(scenario, sprue, options);
  const gateCloses = alike
    ? sprueCloses
    : closesAt(scenario, gate, options) * (options.gateFactor ?? 1);
  const closes = Math.min(sprueCloses, gateCloses);
  const ends = Math.min(closes, job.sprue.hold ?? closes);
  const all = stationParts(job);
  const fattest = all.indexOf(fattestOf(all));
  const looks = options.looks ?? [];
  const fed = all.map((part, k) =>
    fedPart(scenario, part, [ends, ...(k === fattest ? looks : [])], options),
  );
  const parts = fed.map(([part]) => part);
  const sum = (of: (part: FedPart) => number) =>
    parts.reduce((total, part) => total + part.part.volume * of(part), 0);
  return {
    sprueCloses,
    gateCloses,
    closes,
    ends,
    parts,
    fattest: parts[fattest],
    drawnVolume: sum(({ drawn }) => drawn),
    sprueDrawn: drawnAt(scenario, sprue, ends, options),
    unfedVolume: sum(({ unfed }) => unfed),
    looked: fed[fattest][1],
  };
}

function drawnAt(s: Scenario, hollow: StandIn, ends: number, options: FeedOptions): number {
  const { shells } = stateAt(s, hollow, [momentOf(ends)], options);
  return drawnIn(shells[0], plastisolOf(s.job).expansion.value, s.job.shot.temperature);
}

/** A moment that can be simulated. */
const momentOf = (ends: number) => Math.min(Math.max(ends, 0.01), LONGEST_SETTING);

/** A part at the end of feeding, and its shells at each of the other moments. */
function fedPart(
  scenario: Scenario,
  part: StationPart,
  [ends, ...looks]: readonly number[],
  options: FeedOptions,
): [FedPart, Shells[]] {
  const { job } = scenario;
  const expansion = plastisolOf(job).expansion.value;
  const moment = momentOf(ends);
  const times = [...new Set([moment, ...looks])].sort((a, b) => a - b);
  const state = stateAt(scenario, part.hollow, times, options);
  options.effort?.add(state);
  const now = times.indexOf(moment);
  const shells = state.shells[now];
  const unfed = shrinkLeft(shells, expansion, setTemperature(job), job.room.temperature);
  const fed = {
    part,
    ...unfed,
    mean: state.mean[now],
    center: state.center[now],
    skin: skinShare(unfed.fluid, part.hollow.form),
    drawn: drawnIn(shells, expansion, job.shot.temperature),
  };
  return [fed, looks.map((t) => state.shells[times.indexOf(t)])];
}

const LOOKS = 30;
/** Of members of a range: on a smooth curve they give the time to 0.2 % (measured on six example jobs). */
const DRAFT_LOOKS = 10;
/** Of the time until it is set through. */
const SAME_TIME = 1e-6;

/**
 * Moments, s, at which a part is looked at to find until when it has to be fed.
 *
 * @returns a number where that is known without a look: 0 when it needs no feeding at all, Infinity when the mold is too
 * warm for it to set
 */
export function looksAt(
  scenario: Scenario,
  part: StationPart,
  options: CoolingOptions = {},
): readonly number[] | number {
  if (fullCall(scenario) <= scenario.job.sprue.tolerated) return 0;
  const through = closesAt(scenario, part.hollow, { ...options, quick: true });
  if (!Number.isFinite(through)) return through;
  const looks = options.draft ? DRAFT_LOOKS : LOOKS;
  return Array.from({ length: looks }, (_, i) => (through * (i + 1)) / looks);
}

/** What a full hollow calls for until it sets, share of its volume. */
function fullCall({ job }: Scenario): number {
  return -Math.expm1(
    -plastisolOf(job).expansion.value * (job.shot.temperature - setTemperature(job)),
  );
}

/**
 * Time in s until which a part would have to be fed, by its shells at the moments of `looksAt`: from then on what it still
 * calls for is not seen.
 */
export function feedNeededBy(
  scenario: Scenario,
  looks: readonly number[],
  looked: readonly Shells[],
): number {
  const { job } = scenario;
  const { tolerated } = job.sprue;
  const expansion = plastisolOf(job).expansion.value;
  const set = setTemperature(job);
  const calls = [fullCall(scenario), ...looked.map((shells) => unfedShare(shells, expansion, set))];
  const times = [0, ...looks];
  const through = looks[looks.length - 1];
  const i = calls.findIndex((unfed) => unfed <= tolerated);
  if (i < 0) return through;
  const curve = monotoneCubic(times, calls);
  return findRoot((t) => curve(t) - tolerated, times[i - 1], times[i], SAME_TIME * through);
}

/**
 * Time in s until which a part would have to be fed.
 *
 * @returns 0 when it needs no feeding at all, Infinity when the mold is too warm for it to set
 */
export function feedNeeded(
  scenario: Scenario,
  part: StationPart,
  options: CoolingOptions = {},
): number {
  const quick = { ...options, quick: true };
  const looks = looksAt(scenario, part, quick);
  if (typeof looks === "number") return looks;
  return feedNeededBy(scenario, looks, stateAt(scenario, part.hollow, looks, quick).shells);
}

/**
 * Diameter in m of the thinnest round sprue that stays open for a time.
 *
 * @param need s; 0 needs none, Infinity has none
 * @param closes when the job's own sprue closes by the same options, s
 */
export function diameterFor(
  scenario: Scenario,
  need: number,
  closes: number,
  options: CoolingOptions = {},
): number {
  if (!Number.isFinite(need)) return need;
  if (!(need > 0)) return 0;
  const quick = { ...options, quick: true };
  const lateness = (closes: number) => Math.log(Math.min(closes, FOREVER) / need);
  const late = (logDiameter: number) =>
    lateness(closesAt(scenario, { form: "round", across: Math.exp(logDiameter) }, quick));
  let x = Math.log(scenario.job.sprue.diameter);
  let f = lateness(closes);
  // a warm mold: down to a sprue that closes at all
  while (x > THINNEST && f === lateness(FOREVER)) {
    x -= STEP;
    f = late(x);
  }
  // the power law is nearly straight in logarithms: secants from it are there in three or four steps
  let power = CLOSING_POWER;
  for (let k = 0; k < 6; k++) {
    if (Math.abs(f) < CLOSE_ENOUGH) return Math.exp(x - f / power);
    const next = Math.min(Math.max(x - f / power, THINNEST), x + 2);
    const fNext = late(next);
    const slope = (fNext - f) / (next - x);
    if (!(slope > 0.5 && slope < 4)) break;
    [x, f, power] = [next, fNext, slope];
  }
  let low = Math.max(x, THINNEST);
  let high = low;
  // in a warm mold even the thinnest stays open that long
  while (late(low) > 0) {
    low -= STEP;
    if (low < THINNEST) return Math.exp(THINNEST);
  }
  while (late(high) < 0) high += STEP;
  return low === high ? Math.exp(low) : Math.exp(findRoot(late, low, high, CLOSE_ENOUGH));
}

/** Of the logarithm of the time. */
const CLOSE_ENOUGH = 5e-3;
/** Stands for a sprue that never closes, s. */
const FOREVER = 1e7;
/** Closing goes with the diameter to about this power. */
const CLOSING_POWER = 1.9;
/** Of the logarithm of the diameter. */
const STEP = 0.3;
/** Logarithm of a tenth of a millimeter. */
const THINNEST = Math.log(1e-4);
