/** The rules of the second color's bond, from job and material, and its window over depth and temperatures: what if. */

import { deepestColor } from "../../job/color-depth.ts";
import type { Job, Station } from "../../job/types.ts";
import { setTemperature, standInOf } from "../../models/bait/bar.ts";
import { type Near, windowOf } from "../../models/layer/color-window.ts";
import type { ColorRules } from "../../models/layer/colors.ts";
import { coolOpenColor, type WindowOptions } from "../../models/layer/open-color.ts";
import { layerStack } from "../../models/layer/stack.ts";
import { plastisolOf } from "../../models/plastisol.ts";
import type { Scenario } from "../../models/scenario.ts";
import { ZERO_CELSIUS } from "../../units/constants.ts";
import { fromUnit } from "../../units/display.ts";

/** The window of a second color for another depth, mold and second color. */
export interface WhatIf {
  readonly depth: number; // m
  readonly moldTemperature: number; // K
  readonly secondTemperature: number; // K
  /** From the pour of the first color, s; Infinity: not within the time looked at. */
  readonly open: number;
  /** 0: never; Infinity: as long as looked at. */
  readonly close: number;
}

/** Depths of the table, m. */
const MILLIMETERS = [0.001, 0.0015, 0.002, 0.0025, 0.003, 0.004, 0.005, 0.006, 0.008, 0.01];
const INCHES = [1, 2, 3, 4, 5, 6].map((n) => fromUnit(n / 16, "in"));
const MOLDS = [5, 20, 30, 45, 55, 65].map((c) => c + ZERO_CELSIUS);
/** Around the job's own second color, K. */
const SECONDS = [-10, 0, 10];
/** No hotter second color stands in the table, K. */
const MOST_SECOND = 478.15;
/** Coarser than an answer: within 1 % of it. */
const TABLE: WindowOptions["solving"] = { resolution: 0.8, tolerance: 1e-3 };

/** What the material and the limits of a job ask of an interface. */
export function colorRules(job: Job): ColorRules {
  const { healingTime, healingAt, healingEnergy, bondTemperature } = plastisolOf(job);
  return {
    setBelow: setTemperature(job),
    bondAbove: job.limits.bond ?? bondTemperature.value,
    leastHealing: job.layer.healing,
    healingTime: { duration: healingTime.value, T: healingAt, energy: healingEnergy.value },
  };
}

/** Longest that a color is looked at, s: long enough for its depth to cool through. */
export function colorHorizon(depth: number): number {
  return Math.min(7200, 60 + (12 * depth * depth) / 7e-8);
}

/** Where a window of the table ended, against the time from which an even meeting is too cold. */
interface Ends {
  readonly depth: number; // m
  readonly ratio: number;
  readonly slope: number;
  /** The same mold and second color at the depth before. */
  readonly before: Ends | undefined;
}

/** From one depth to the next the ratio changes by less than this factor. */
const MOST_ON = 1.5;

/** The nearest of some temperatures replaced by the job's own. */
function withOwn(among: readonly number[], own: number): number[] {
  const off = among.map((T) => Math.abs(T - own));
  const nearest = off.indexOf(Math.min(...off));
  return among.map((T, i) => (i === nearest ? own : T));
}

/**
 * Where the window of a depth is looked for: along the way of those before it.
 *
 * @param roughly the slope is that of the same mold: one look beside the end will do
 */
function nearOf(last: Ends | undefined, depth: number, roughly: boolean): Near | undefined {
  if (last === undefined) return undefined;
  const { before } = last;
  const on = before
    ? (last.ratio / before.ratio) **
      (Math.log(depth / last.depth) / Math.log(last.depth / before.depth))
    : 1;
  const ratio = on > 1 / MOST_ON && on < MOST_ON ? last.ratio * on : last.ratio;
  return { close: () => ratio, slope: () => last.slope, evenUntil: 1, roughly };
}

/**
 * The table of a job, in one dimension: depths that its bait has room for, and its own mold among the others.
 *
 * @param asked `brief` with the job's own second color alone; by sixteenths of an inch where they are read off a rule
 * in `inches`
 */
export function whatIf(
  scenario: Scenario,
  station: Station,
  { brief = false, inches = false }: { readonly brief?: boolean; readonly inches?: boolean } = {},
): WhatIf[] {
  const { job } = scenario;
  const rules = colorRules(job);
  const second = job.layer.second.temperature;
  const secondOf = (by: number) => Math.min(second + by, MOST_SECOND);
  const hottest = secondOf(Math.max(...SECONDS));
  const seconds = (brief ? [0] : SECONDS).map(secondOf);
  const { ready } = job.layer;
  const rows: WhatIf[] = [];
  // deep layers need a body around them: the table is about the layer
  const thickness = Math.max(station.height, standInOf(station).across, 0.012);
  const deepest = deepestColor(job.layer.form, Math.max(...job.bait.stations.map((s) => s.height)));
  const depths = (inches ? INCHES : MILLIMETERS).filter((depth) => depth <= deepest);
  const { temperature, upperTemperature } = job.mold;
  // halves that differ are in no row
  const molds = temperature === upperTemperature ? withOwn(MOLDS, temperature) : MOLDS;
  // from one depth to the next windows end alike, for each mold and second color; a row owes nothing to those of other
  // second colors, so that it is the same whether they are asked for or not
  const nears = new Map<string, Ends>();
  const lasts = new Map<number, Ends>();
  for (const depth of depths)
    for (const moldTemperature of molds) {
      const changed: Job = {
        ...job,
        mold: { ...job.mold, temperature: moldTemperature, upperTemperature: moldTemperature },
        layer: { ...job.layer, depth, more: [] },
      };
      const stack = layerStack({ ...scenario, job: changed }, thickness);
      const options = { solving: { ...TABLE }, horizon: colorHorizon(depth) };
      const openColor = coolOpenColor(stack, 0, rules, options, hottest);
      for (const secondTemperature of seconds) {
        const like = `${moldTemperature} ${secondTemperature}`;
        const before = nears.get(like);
        const near = nearOf(before ?? lasts.get(secondTemperature), depth, before !== undefined);
        const window = windowOf(openColor, secondTemperature, near);
        const close = window.close();
        const ends = { depth, ratio: close / window.evenUntil, slope: window.slope(), before };
        nears.set(like, ends);
        lasts.set(secondTemperature, ends);
        const open = ready === "skin" ? Math.min(window.skin, window.setAt) : window.setAt;
        rows.push({ depth, moldTemperature, secondTemperature, open, close });
      }
    }
  return rows;
}
