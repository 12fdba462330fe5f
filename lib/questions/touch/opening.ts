/**
 * How the bait is as its mold is opened, and the bar or sheet that is like it then. Temperatures K, times s.
 *
 * The bar has no neighbors and no corners. It is opened when its core is as hot as the section's, and where its mean is
 * cooler by then than the section's, or than that of its half with the hottest skin, its mold is as much warmer as takes it there.
 */
import type { Probe } from "../../heat/problem.ts";
import { simulate } from "../../heat/simulate.ts";
import type { Job } from "../../job/types.ts";
import { barModel, type StandIn, standInOf } from "../../models/bait/bar.ts";
import { sectionModel } from "../../models/bait/section.ts";
import { cool, LONGEST_COOLING, SEARCHING, type Solving } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import type { Scenario } from "../../models/scenario.ts";
import { fattestOf, stationParts } from "../../models/sprue/body.ts";
import { meanOfHalves } from "../../models/start.ts";
import { findRoot } from "../../numerics/roots.ts";
import type { Outline } from "../../shape/outline.ts";
import { demold } from "../demold/demold.ts";
import { inMold, type MoldOfBar } from "./cooling.ts";

/** A section as its mold is opened, K; `skin` at its hottest place. */
interface AtOpening {
  readonly core: number;
  readonly mean: number;
  readonly skin: number;
  /** Through the thickness of a flat one in its middle, which a sheet stands for: its edges are cooler. */
  readonly middle?: number;
}

/** A bar or sheet that is as far as a section is when that is opened. */
interface BarOpened {
  /** s after the shot. */
  readonly openingOfBar: number;
  readonly moldOfBar: MoldOfBar;
  /** How far the section tells of the bar, 0 to 1: soon after the shot all are alike, and its faces are read off coarse cells. */
  readonly told: number;
}

/** When the mold is opened, s, how the section is then (`section`: null for the quick look), and the bar that is like it. */
interface Opening extends BarOpened {
  readonly opening: number;
  readonly section: AtOpening | null;
}

/** The station that keeps its heat longest, with its place among them and its long side. */
export function stationThatDecides(job: Job) {
  const part = fattestOf(stationParts(job));
  const { width, height } = part.station;
  return {
    ...part,
    index: job.bait.stations.indexOf(part.station),
    wide: Math.max(width, height),
  };
}

/** By the timer, or when `demold` says. */
export function openingOf(scenario: Scenario, options: QuestionOptions): Opening {
  const { job } = scenario;
  const { timer } = job.run;
  const solving: Solving = options.shouldStop ? { shouldStop: options.shouldStop } : {};
  const { station, index } = stationThatDecides(job);
  const body = standInOf(station);
  if (options.quick) {
    const opening = Math.min(LONGEST_COOLING, timer ?? quickTime(scenario));
    return { opening, openingOfBar: opening, moldOfBar: AS_IT_IS, told: 0, section: null };
  }
  if (timer !== null) {
    const section = sectionAt(scenario, index, timer, solving);
    return { opening: timer, section, ...barLike(scenario, body, section, timer) };
  }
  // its range is not asked for
  const { time, stations } = demold(job, { ...options, likelyOnly: true }).answer;
  const opening = Math.min(LONGEST_COOLING, time.value);
  const own = stations[index];
  const section =
    own.time === time.value && opening < LONGEST_COOLING && station.form !== "flat"
      ? { core: job.limits.demold, mean: own.mean, skin: own.skin }
      : sectionAt(scenario, index, opening, solving);
  return { opening, section, ...barLike(scenario, body, section, opening) };
}

function quickTime(scenario: Scenario): number {
  const { bait, limits } = scenario.job;
  const times = bait.stations.map(
    (station) => cool(barModel(scenario, standInOf(station)), limits.demold).time,
  );
  return Math.max(...times);
}

/** Places through a thickness of 2, and their weights: five points of Gauss and Legendre, Abramowitz & Stegun table 25.4. */
const THROUGH = [
  [-0.9061798459, 0.2369268851],
  [-0.5384693101, 0.4786286705],
  [0, 0.5688888889],
  [0.5384693101, 0.4786286705],
  [0.9061798459, 0.2369268851],
] as const;

/** A station's section so long after the shot. */
function sectionAt(scenario: Scenario, index: number, time: number, solving: Solving): AtOpening {
  const { problem, bodies } = sectionModel(scenario, scenario.job.bait.stations[index]);
  const outline = problem.shapes?.find(({ name }) => name === bodies[0])?.outline;
  const through = outline?.kind === "rectangle" ? throughMiddle(outline) : [];
  const { probes } = simulate({
    ...problem,
    probes: { ...problem.probes, ...Object.fromEntries(through.map((p, k) => [`${k}`, p])) },
    ...solving,
    stages: [{ until: time }],
    times: [time],
  });
  const at = (name: string) => probes[name][0];
  const middle = THROUGH.reduce(
    (sum, [, weight], k) => sum + (k < through.length ? (weight / 2) * at(`${k}`) : 0),
    0,
  );
  return {
    core: at("hottest"),
    mean: at("mean"),
    skin: Math.max(at("skin"), probes["skin above"]?.[0] ?? 0),
    ...(through.length > 0 && { middle }),
  };
}

/** Places through the thin side of a rectangle in its middle; beyond a mirror lies what lies before it. */
function throughMiddle({ size, center }: Extract<Outline, { kind: "rectangle" }>): Probe[] {
  const along = size[0] < size[1] ? 0 : 1;
  return THROUGH.map(([share]) => {
    const [x, y] = center.map((c, axis) =>
      Math.abs(axis === along ? c + (share * size[axis]) / 2 : c),
    );
    return { kind: "point", x, y };
  });
}

/** A core that has lost this share of what it can lose tells how far a bar is, and one that has lost the least tells nothing. */
const TELLS = 0.01;
const TELLS_NOTHING = 0.001;
/** A mold starts no cooler than by this, K, and touches its bar no less than by this share. */
const COOLEST = 100;
const LEAST_CONTACT = 1e-3;
const AS_IT_IS: MoldOfBar = { warmer: 0, contactShare: 1 };
/** Means nearer to each other are alike, K. */
const ALIKE = 0.01;

/**
 * The bar with the section's core, and on average as hot at least as the section and its hotter half; the sheet as hot on
 * average as a flat one in its middle.
 */
function barLike(
  scenario: Scenario,
  body: StandIn,
  { core, mean, skin, middle }: AtOpening,
  opening: number,
): BarOpened {
  const { job } = scenario;
  const start = meanOfHalves(job);
  const range = job.shot.temperature - start;
  const lost = (job.shot.temperature - core) / range;
  const told = Math.min(1, Math.max(0, (lost - TELLS_NOTHING) / (TELLS - TELLS_NOTHING)));
  const same: BarOpened = { openingOfBar: opening, moldOfBar: AS_IT_IS, told };
  if (!(told > 0)) return same;
  const { problem, bodies } = barModel(scenario, body);
  // from -1 to 0 its mold starts cooler, to 1 warmer, up to the core; from there to 2 it touches its bar less
  const moldAt = (x: number): MoldOfBar => ({
    warmer: x < 0 ? x * COOLEST : Math.min(x, 1) * Math.max(0, core - start),
    contactShare: LEAST_CONTACT ** Math.max(0, x - 1),
  });
  const cooled = (x: number) =>
    cool({ problem: inMold(problem, moldAt(x)), bodies }, core, SEARCHING);
  const own = cooled(0);
  if (!Number.isFinite(own.time)) return same;
  // the half beside a neighbor lies between the mean and its hottest face
  const wanted = Math.max(middle ?? mean, (mean + skin) / 2);
  const off = (x: number) => {
    const bar = cooled(x);
    // a mold that keeps the core warmer for good is too warm
    return Number.isFinite(bar.time) ? bar.mean - wanted : range;
  };
  const place = (): number => {
    const apart = own.mean - wanted;
    if (Math.abs(apart) < ALIKE) return 0;
    // of a bar that is hotter than the section's mean nothing is taken off: it stands for the thick middle of an oval
    const cooler = middle === undefined ? [] : [-1];
    const end = (apart > 0 ? cooler : [1, 2]).find((x) => off(x) * apart < 0);
    return end === undefined ? 0 : findRoot(off, 0, end, 1e-3);
  };
  const x = told * place();
  const { time } = x === 0 ? own : cooled(x);
  if (!Number.isFinite(time)) return same;
  return { openingOfBar: told * time + (1 - told) * opening, moldOfBar: moldAt(x), told };
}
