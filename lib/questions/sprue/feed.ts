/**
 * Feeding of a bait through its sprue, in numbers: when sprue and gate close, what the bodies still shrink then, and
 * how long they would have to be fed.
 */

import { type StandIn, setTemperature } from "../../models/bait/bar.ts";
import type { EffortSum } from "../../models/ranged.ts";
import type { Scenario } from "../../models/scenario.ts";
import { fattestOf, gateHollow, type Part, partsOf, traitsOf } from "../../models/sprue/body.ts";
import {
  type CoolingOptions,
  LONGEST,
  type Shells,
  stateAt,
  timeBelow,
} from "../../models/sprue/cooling.ts";
import { findRoot } from "../../numerics/roots.ts";
import { shrinkLeft, skinShare, type Unfed } from "./shrink-left.ts";

export interface FeedOptions extends CoolingOptions {
  /** A short gate closes later than a long bar of its width by this factor; left out: 1. */
  readonly gateFactor?: number;
  /** The effort is added to this. */
  readonly effort?: EffortSum;
}

interface FedPart extends Unfed {
  readonly part: Part;
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
  const all = partsOf(job);
  const parts = all.map((part) => fedPart(scenario, part, ends, options));
  const sum = (of: (part: FedPart) => number) =>
    parts.reduce((total, part) => total + part.part.volume * of(part), 0);
  return {
    sprueCloses,
    gateCloses,
    closes,
    ends,
    parts,
    fattest: parts[all.indexOf(fattestOf(all))],
    drawnVolume: sum(({ drawn }) => drawn),
    sprueDrawn: drawnAt(scenario, sprue, ends, options),
    unfedVolume: sum(({ unfed }) => unfed),
  };
}

function drawnAt(s: Scenario, hollow: StandIn, ends: number, options: FeedOptions): number {
  const { shells } = stateAt(s, hollow, [momentOf(ends)], options);
  return drawnIn(shells[0], traitsOf(s.job).expansion.value, s.job.shot.temperature);
}

/** A moment that can be simulated. */
const momentOf = (ends: number) => Math.min(Math.max(ends, 0.01), LONGEST);

function fedPart(scenario: Scenario, part: Part, ends: number, options: FeedOptions): FedPart {
  const { job } = scenario;
  const expansion = traitsOf(job).expansion.value;
  const state = stateAt(scenario, part.hollow, [momentOf(ends)], options);
  options.effort?.add(state);
  const unfed = shrinkLeft(state.shells[0], expansion, setTemperature(job), job.room.temperature);
  return {
    part,
    ...unfed,
    mean: state.mean[0],
    center: state.center[0],
    skin: skinShare(unfed.fluid, part.hollow.form),
    drawn: drawnIn(state.shells[0], expansion, job.shot.temperature),
  };
}

const LOOKS = 60;
/** Of members of a range: what fewer looks miss is alike in all. */
const DRAFT_LOOKS = 30;

/**
 * Time in s until which a part would have to be fed: from then on what it still calls for is not seen.
 *
 * @returns 0 when it needs no feeding at all, Infinity when the mold is too warm for it to set
 */
export function feedNeeded(scenario: Scenario, part: Part, options: CoolingOptions = {}): number {
  const { job } = scenario;
  const quick = { ...options, quick: true };
  const set = setTemperature(job);
  const { expansion: spread } = traitsOf(job);
  const expansion = spread.value;
  const { tolerated } = job.sprue;
  const full = -Math.expm1(-expansion * (job.shot.temperature - set));
  if (full <= tolerated) return 0;
  const through = closesAt(scenario, part.hollow, quick);
  if (!Number.isFinite(through)) return through;
  const looks = options.draft ? DRAFT_LOOKS : LOOKS;
  const times = Array.from({ length: looks }, (_, i) => (through * (i + 1)) / looks);
  const calls = stateAt(scenario, part.hollow, times, quick).shells.map(
    (shells) => shrinkLeft(shells, expansion, set, job.room.temperature).unfed,
  );
  const i = calls.findIndex((unfed) => unfed <= tolerated);
  if (i < 0) return through;
  const [before, t] = i === 0 ? [full, 0] : [calls[i - 1], times[i - 1]];
  return t + ((times[i] - t) * (before - tolerated)) / (before - calls[i]);
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
