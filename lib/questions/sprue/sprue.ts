/** Feeding: when the sprue closes, what the bait still shrinks then, and whether a thin tail fills. T K, lengths m. */

import type {
  Answer,
  Cause,
  CautionCode,
  IgnoredCode,
  Lever,
  Quantified,
  Reason,
} from "../../answers/answer.ts";
import { movedTo, type Spreading, scaledTo } from "../../confidence/spread.ts";
import type { Form, Job } from "../../job/types.ts";
import { propertyAt } from "../../materials/to-material.ts";
import { setTemperature } from "../../models/bait/bar.ts";
import { moldCautions, plasticCautions, waterCautions } from "../../models/cautions.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { causeOf, EffortSum, spreadOf } from "../../models/ranged.ts";
import { type Scenario, scenarioOf } from "../../models/scenario.ts";
import {
  fattestOf,
  gateBar,
  gateHollow,
  stationParts,
  thinnestOf,
  widestSprue,
} from "../../models/sprue/body.ts";
import { timeBelow } from "../../models/sprue/cooling.ts";
import { ignoredByPreheat } from "../../models/start.ts";
import { formatQuantity } from "../../units/format.ts";
import type { Kind } from "../../units/kinds.ts";
import { InputError } from "../../units/problem.ts";
import {
  diameterFor,
  type Feed,
  type FeedOptions,
  feedNeeded,
  feedNeededBy,
  feedOf,
  looksAt,
} from "./feed.ts";
import { fillsUntil } from "./fill.ts";
import { type FillAnswer, fillAnswer } from "./fill-answer.ts";
import { sprueLevers } from "./levers.ts";
import { neckOf } from "./neck.ts";
import { type SectionFeed, sectionFeed } from "./section.ts";
import { type Defect, defectOf } from "./shrink-left.ts";
import { uncertainFeeding } from "./uncertain.ts";

/** A station at the moment that feeding ends. SI and K. */
export interface StationFeed {
  readonly name: string;
  readonly form: Form;
  /** Of the bar or sheet that stands for it, m. */
  readonly thickness: number;
  /** At the moment that feeding ends, K. */
  readonly mean: number;
  readonly center: number;
  /** Set skin then, m, and as a share of half the thickness. */
  readonly skin: number;
  readonly skinShare: number;
  /** Volume share that it still shrinks then, and of it what a sprue that stayed open would have fed. */
  readonly shrinkLeft: number;
  readonly unfed: number;
  readonly defect: Defect;
}

/** How long the sprue feeds, what is left to shrink then, and whether the tail fills. SI and K. */
export interface SprueContent {
  /** Sprue or gate, whichever first stops flowing at its center, s after filling. */
  readonly closes: Quantified;
  readonly sprueCloses: Quantified;
  readonly gateCloses: Quantified;
  readonly decidedBy: Reason;
  /** Mean of the fattest station when feeding ends, K. */
  readonly bodyMean: Quantified;
  /** Volume share that the fattest station still shrinks when feeding ends. */
  readonly shrinkLeft: Quantified;
  /** Of it: called for by plastic that still flows, and not fed. */
  readonly unfed: Quantified;
  /** Never fed, of the whole bait, m3. */
  readonly unfedVolume: Quantified;
  readonly defect: Defect;
  readonly stations: readonly StationFeed[];
  /** The fattest station would have to be fed until then, s. */
  readonly feedUntil: Quantified;
  /** Thinnest sprue that feeds it, m; null when it would be wider than the gate spot allows or the body is thick. */
  readonly diameterNeeded: Quantified | null;
  /** Why none is wide enough; null when one is. */
  readonly noneSuffices: Reason | null;
  /** The diameter that would be needed all the same, m. */
  readonly diameterInPrinciple: number;
  /** Keep the injector on for this long, s. */
  readonly hold: Quantified;
  /** Drawn in by bait and sprue after they are full: to have ready, m3 and kg. */
  readonly topOffVolume: Quantified;
  readonly topOffMass: Quantified;
  readonly baitMass: number; // kg
  readonly sprueMass: number; // kg
  readonly fill: FillAnswer;
  /** What was guessed, by its path in the job. */
  readonly guesses: readonly string[];
  /** What makes most of the range of `closes` and of `unfed`; null when nothing is uncertain. */
  readonly cause: Cause | null;
  readonly causeOfUnfed: Cause | null;
  readonly levers: readonly Lever[];
  /** The fattest station in two dimensions; null in a quick answer. */
  readonly section: SectionFeed | null;
}

/** The answer to `sprue`. */
export type SprueAnswer = Answer<"sprue", SprueContent>;

const RESULTS = [
  ["closes", "duration"],
  ["sprueCloses", "duration"],
  ["gateCloses", "duration"],
  ["mean", "temperature"],
  ["left", "ratio"],
  ["unfed", "ratio"],
  ["unfedVolume", "volume"],
  ["drawn", "volume"],
  ["fill", "duration"],
  ["feedUntil", "duration"],
  ["diameter", "length"],
] as const satisfies readonly (readonly [string, Kind])[];
/**
 * Members that are computed for the ranges, each some ten solves: always as many, for with fewer the time that a tail stays
 * open to flow is not followed, and where they were doubled its range leapt.
 */
const MEMBERS = 64;
type Result = (typeof RESULTS)[number][0];

/**
 * When sprue and gate close, in s, and what the bait still shrinks then, as a share of its volume.
 *
 * The center of the sprue falls under the set temperature: a round bar in the mold wall, as if it were long. Then each
 * station is looked at: what is hotter than the set temperature still calls for plastic and does not get it.
 * Unless `quick`, the fattest station is solved in its real block, and a gate that is narrower than the sprue together
 * with the hot plastic on its two ends.
 *
 * @param given the job
 * @param options `quick`: bars and sheets only
 * @returns times in s after the mold is full; a time that never comes is Infinity
 * @throws InputError when the job can't be computed
 * @example Math.round(sprue(readJob("bait: { thickness: 16 mm }").job, { quick: true }).answer.closes.value) // 43
 */
export function sprue(given: Job, options: QuestionOptions = {}): SprueAnswer {
  const scenario = scenarioOf(given, options);
  const { job } = scenario;
  checkFlows(job);
  const stop = options.shouldStop && { shouldStop: options.shouldStop };
  const effort = new EffortSum();
  const parts = stationParts(job);
  const thin = thinnestOf(parts);
  // a short gate has to be seen with what is on its ends
  const gateFactor = options.quick ? 1 : gateFactorOf(scenario, { ...stop, effort });
  const feed = feedOf(scenario, {
    ...stop,
    ...(options.quick && { quick: true }),
    effort,
    gateFactor,
  });
  const fast = { ...stop, quick: true, gateFactor };
  const quickFeed = feedOf(scenario, fast);
  const draft = { ...fast, draft: true };
  const numbers = (s: Scenario): number[] => {
    const looks = looksAt(s, fattestOf(stationParts(s.job)), draft);
    if (typeof looks === "number") return resultsOf(s, feedOf(s, draft), looks, draft);
    // one solve for what the fattest part has at the end of feeding and what it calls for until it sets
    const fed = feedOf(s, { ...draft, looks });
    return resultsOf(s, fed, feedNeededBy(s, looks, fed.looked), draft);
  };
  const drawing = { least: MEMBERS, most: MEMBERS };
  const spreadings = spreadOf(scenario, numbers, uncertainFeeding(job), drawing);
  const needed = feedNeeded(scenario, quickFeed.fattest.part, fast);
  const quickly = resultsOf(scenario, quickFeed, needed, fast);
  const of = (name: Result): Spreading => spreadings[RESULTS.findIndex(([key]) => key === name)];
  const section = options.quick ? null : sectionFeed(scenario, feed, { ...stop, effort });
  // ranges are those of the quick model, around the value of the better one
  const range = (name: Result, better?: number): Quantified => {
    const kind = RESULTS.find(([key]) => key === name)![1];
    const own = of(name).range;
    const likely = quickly[RESULTS.findIndex(([key]) => key === name)];
    const shift = kind === "temperature" ? movedTo : scaledTo;
    const { low, high, value: middle } = shift(own, better ?? likely);
    // shares, volumes and times end at nothing
    return { kind, value: middle, low: kind === "temperature" ? low : Math.max(0, low), high };
  };
  const unfed = range("unfed", section?.unfed ?? feed.fattest.unfed);
  const { sprue: own } = job;
  const inPrinciple = range("diameter").value;
  const suffices = inPrinciple <= widestSprue(job);
  const density = propertyAt(job.shot.material.density, job.shot.temperature);
  const volume = parts.reduce((sum, part) => sum + part.volume, 0);
  const drawn = range("drawn");
  const mass = (v: Quantified): Quantified => ({
    kind: "mass",
    value: v.value * density,
    low: v.low * density,
    high: v.high * density,
  });
  const closes = range("closes", feed.closes);
  const fillsFor = fillsUntil(scenario, thin.hollow, options.quick ? fast : stop);
  const fill = fillAnswer(scenario, thin, range("fill", fillsFor), fast);
  const content: SprueContent = {
    closes,
    sprueCloses: range("sprueCloses", feed.sprueCloses),
    gateCloses: range("gateCloses", feed.gateCloses),
    decidedBy:
      feed.gateCloses < feed.sprueCloses * (1 - 1e-6)
        ? { code: "gate_closes" }
        : { code: "sprue_closes" },
    bodyMean: range("mean", section?.mean ?? feed.fattest.mean),
    shrinkLeft: range("left", section?.left ?? feed.fattest.left),
    unfed,
    unfedVolume: range("unfedVolume", feed.unfedVolume),
    defect: defectOf(Math.min(1, unfed.value), section?.skin ?? feed.fattest.skin, own),
    stations: feed.parts.map((fed) => stationOf(fed, own)),
    feedUntil: range("feedUntil"),
    diameterNeeded: suffices ? range("diameter") : null,
    noneSuffices: suffices ? null : { code: "body_too_fat", name: feed.fattest.part.name },
    diameterInPrinciple: inPrinciple,
    hold: closes,
    topOffVolume: drawn,
    topOffMass: mass(drawn),
    baitMass: volume * propertyAt(job.shot.material.density, feed.fattest.mean),
    sprueMass: (Math.PI / 4) * own.diameter ** 2 * own.length * density,
    fill,
    guesses: guessesOf(job),
    cause: causeOf(of("closes"), job),
    causeOfUnfed: causeOf(of("unfed"), job),
    levers: sprueLevers(scenario, quickFeed, unfed.value, { suffices, fills: fill.fills }, fast),
    section,
  };
  return {
    question: "sprue",
    answer: content,
    cautions: cautionsFor(job, content.fill.preheat),
    ignored: [...ignoredOf(options.quick === true), ...ignoredByPreheat(given)],
    effort: effort.done(),
  };
}

/** @param preheat what the mold is advised to be, K: it burns as one that is */
const cautionsFor = (job: Job, preheat: number | null): CautionCode[] => [
  ...plasticCautions(job, [job.shot]),
  ...moldCautions(job, preheat ?? undefined),
  ...waterCautions(job),
];

/** One station as feeding leaves it. */
function stationOf(fed: Feed["parts"][number], rules: Job["sprue"]): StationFeed {
  const { part, mean, center, skin, left, unfed } = fed;
  const { form, across } = part.hollow;
  return {
    name: part.name,
    form,
    thickness: across,
    mean,
    center,
    skin: (skin * across) / 2,
    skinShare: skin,
    shrinkLeft: left,
    unfed,
    defect: defectOf(unfed, skin, rules),
  };
}

/** @param need the fattest part would have to be fed until then, s */
function resultsOf(s: Scenario, feed: Feed, need: number, fast: FeedOptions): number[] {
  const parts = stationParts(s.job);
  const thin = thinnestOf(parts);
  const { diameter, length } = s.job.sprue;
  const sprueVolume = (Math.PI / 4) * diameter ** 2 * length;
  const values: Record<Result, number> = {
    closes: feed.closes,
    sprueCloses: feed.sprueCloses,
    gateCloses: feed.gateCloses,
    mean: feed.fattest.mean,
    left: feed.fattest.left,
    unfed: feed.fattest.unfed,
    unfedVolume: feed.unfedVolume,
    drawn: feed.drawnVolume + sprueVolume * feed.sprueDrawn,
    fill: fillsUntil(s, thin.hollow, fast),
    feedUntil: need,
    diameter: diameterFor(s, need, feed.sprueCloses, fast),
  };
  return RESULTS.map(([name]) => values[name]);
}

function guessesOf({ limits, shot }: Job): string[] {
  const traits = shot.material.plastisol;
  return [
    ...(limits.set === null && traits?.setTemperature.guess ? ["limits.set"] : []),
    ...(limits.fill === null ? ["limits.fill"] : []),
    "sprue.tolerated",
    "sprue.stiffSkin",
    "sprue.widest",
  ];
}

/** A shot that has set already, by its own material, flows nowhere. */
function checkFlows(job: Job): void {
  const set = setTemperature(job);
  if (set < job.shot.temperature) return;
  throw new InputError([
    {
      code: "limit_above_shot",
      path: "limits.set",
      given: formatQuantity(set, "temperature"),
      most: formatQuantity(job.shot.temperature, "temperature"),
    },
  ]);
}

/** How much later the gate closes than a long bar of its width; a gate that is no narrower than the sprue is one with it. */
function gateFactorOf(scenario: Scenario, options: FeedOptions): number {
  const { job } = scenario;
  const gate = gateHollow(job.sprue);
  if (gateBar(job.sprue).across >= job.sprue.diameter * (1 - 1e-3)) return 1;
  const long = timeBelow(scenario, gate, "center", setTemperature(job), options).time;
  const { gateCloses } = neckOf(scenario, fattestOf(stationParts(job)), options);
  return Number.isFinite(gateCloses) && Number.isFinite(long) ? gateCloses / long : 1;
}

function ignoredOf(quick: boolean): IgnoredCode[] {
  return [
    ...(quick ? (["one_dimension", "sprue_ends"] as const) : []),
    "fill_time",
    "flow_heat",
    "shrink_gap",
    "constant_contact",
    "uneven_fill",
    "void_or_dent_place",
  ];
}
