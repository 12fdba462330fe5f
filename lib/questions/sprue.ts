/** Feeding: when the sprue closes, what the bait still shrinks then, and whether a thin tail fills. T K, lengths m. */
import { type Spreading, scaledTo } from "../confidence/spread.ts";
import { propertyAt } from "../materials/to-material.ts";
import type { Kind } from "../units/kinds.ts";
import type {
  Answer,
  Cause,
  CautionCode,
  IgnoredCode,
  Lever,
  Quantified,
  QuestionOptions,
  Reason,
} from "./answer.ts";
import { type StandIn, setTemperature } from "./bait-bar.ts";
import type { Form, Job } from "./job-types.ts";
import { causeOf, EffortSum, spreadOf } from "./ranged.ts";
import { fattestOf, fillTemperature, partsOf, thinnestOf } from "./sprue-body.ts";
import { type CoolingOptions, timeBelow, withMold } from "./sprue-cooling.ts";
import { diameterFor, type Feed, feedNeeded, feedOf } from "./sprue-feed.ts";
import { FILL_SHEETS, type FillTable, fillsUntil, fillTable, preheatFor } from "./sprue-fill.ts";
import { type SectionFeed, sectionFeed } from "./sprue-section.ts";
import { type Defect, defectOf } from "./sprue-shrink.ts";
import { unsureFeeding } from "./sprue-unsure.ts";
import type { Supposed } from "./supposed.ts";

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

export interface FillAnswer {
  /** The thinnest station. */
  readonly station: string;
  /** s; later than that it no longer fills. */
  readonly until: Quantified;
  /** Time that the job takes to fill, s. */
  readonly need: number;
  readonly fills: "surely" | "perhaps" | "hardly";
  /** Mold temperature that buys half as much time again as is needed, K; null: none that the mold bears. */
  readonly preheat: number | null;
  /** The fattest station can be opened after this, in the mold as it is and preheated, s. */
  readonly opensAt: number;
  readonly opensPreheated: number | null;
  /** A section that is colder on average no longer fills, K: a guess unless it was set. */
  readonly below: number;
  readonly table: FillTable;
}

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
type Result = (typeof RESULTS)[number][0];

/**
 * When sprue and gate close, in s, and what the bait still shrinks then, as a share of its volume.
 *
 * The center of the sprue falls under the set temperature: a round bar in the mold wall, as if it were long. Then each
 * station is looked at: what is hotter than the set temperature still calls for plastic and does not get it.
 *
 * @param job the job
 * @param options `quick`: bars and sheets only, one grid; else the fattest station in two dimensions as well
 * @returns times in s after the mold is full; a time that never comes is Infinity
 * @throws InputError when the job can't be computed
 */
export function sprue(job: Job, options: QuestionOptions = {}): SprueAnswer {
  const { around } = options;
  const supposed: Supposed = { job, airFactor: 1, ...(around && { around }) };
  const stop = options.shouldStop && { shouldStop: options.shouldStop };
  const effort = new EffortSum();
  const careful = { ...stop, ...(options.quick && { quick: true }), effort };
  const feed = feedOf(supposed, careful);
  const parts = partsOf(job);
  const thin = thinnestOf(parts);
  const fast = { ...stop, quick: true };
  const numbers = (s: Supposed): number[] =>
    resultsOf(s, s === supposed ? feed : feedOf(s, fast), fast);
  const spreadings = spreadOf(supposed, numbers, unsureFeeding(job));
  const of = (name: Result): Spreading => spreadings[RESULTS.findIndex(([key]) => key === name)];
  const section = options.quick ? null : sectionFeed(supposed, feed, { ...stop, effort });
  const range = (name: Result, value?: number): Quantified => {
    const kind = RESULTS.find(([key]) => key === name)![1];
    const own = of(name).range;
    const { low, high, value: middle } = value === undefined ? own : scaledTo(own, value);
    // shares, volumes and times end at nothing
    return { kind, value: middle, low: kind === "temperature" ? low : Math.max(0, low), high };
  };
  const unfed = range("unfed", section?.unfed);
  const { sprue: own } = job;
  const stations = feed.parts.map((fed): StationFeed => {
    const { part, mean, center, skin, left } = fed;
    const { form, thickness } = part.hollow;
    return {
      name: part.name,
      form,
      thickness,
      mean,
      center,
      skin: (skin * thickness) / 2,
      skinShare: skin,
      shrinkLeft: left,
      unfed: fed.unfed,
      defect: defectOf(fed.unfed, skin, own),
    };
  });
  const inPrinciple = of("diameter").range.value;
  const widest = Math.min(own.widest, job.bait.thickness);
  const suffices = inPrinciple <= widest;
  const density = propertyAt(job.shot.material.density, job.shot.temperature);
  const volume = parts.reduce((sum, part) => sum + part.volume, 0);
  const drawn = range("drawn");
  const mass = (v: Quantified): Quantified => ({
    kind: "mass",
    value: v.value * density,
    low: v.low * density,
    high: v.high * density,
  });
  const closes = range("closes");
  const content: SprueContent = {
    closes,
    sprueCloses: range("sprueCloses"),
    gateCloses: range("gateCloses"),
    decidedBy:
      feed.gateCloses < feed.sprueCloses * (1 - 1e-6)
        ? { code: "gate_closes" }
        : { code: "sprue_closes" },
    bodyMean: range("mean", section?.mean),
    shrinkLeft: range("left", section?.left),
    unfed,
    unfedVolume: range("unfedVolume"),
    defect: defectOf(Math.min(1, unfed.value), section?.skin ?? feed.fattest.skin, own),
    stations,
    feedUntil: range("feedUntil"),
    diameterNeeded: suffices ? range("diameter") : null,
    noneSuffices: suffices ? null : { code: "body_too_fat", name: feed.fattest.part.name },
    diameterInPrinciple: inPrinciple,
    hold: closes,
    topOffVolume: drawn,
    topOffMass: mass(drawn),
    baitMass: volume * propertyAt(job.shot.material.density, feed.fattest.mean),
    sprueMass: (Math.PI / 4) * own.diameter ** 2 * own.length * density,
    fill: fillAnswer(supposed, thin.name, thin.hollow, range("fill"), {
      ...stop,
      quick: options.quick ?? false,
    }),
    guesses: guessesOf(job),
    cause: causeOf(of("closes").shifts),
    causeOfUnfed: causeOf(of("unfed").shifts),
    levers: leversOf(supposed, feed, suffices, unfed.value > own.tolerated, fast),
    section,
  };
  return {
    question: "sprue",
    answer: content,
    cautions: ["hot_plastisol", "plastisol_fumes"] satisfies CautionCode[],
    ignored: ignoredOf(section !== null),
    effort: effort.done(),
  };
}

function resultsOf(s: Supposed, feed: Feed, fast: CoolingOptions): number[] {
  const parts = partsOf(s.job);
  const thin = thinnestOf(parts);
  const need = feedNeeded(s, feed.fattest.part, fast);
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
    diameter: diameterFor(s, need, fast),
  };
  return RESULTS.map(([name]) => values[name]);
}

/** What the mold bears at most while it is preheated, K. */
function warmestMold(job: Job): number {
  const bears = job.limits.wall ?? job.mold.material.wallLimit?.value ?? 393.15;
  return Math.min(bears, setTemperature(job) - 10);
}

/** Filling should take no longer than the time there is, over this: a guess. */
const FILL_MARGIN = 1.5;

function fillAnswer(
  supposed: Supposed,
  station: string,
  hollow: StandIn,
  until: Quantified,
  options: CoolingOptions,
): FillAnswer {
  const { job } = supposed;
  const need = job.shot.fill;
  const start = job.run.preheat ?? job.mold.temperature;
  const preheat = preheatFor(
    supposed,
    hollow,
    need * FILL_MARGIN,
    start,
    warmestMold(job),
    options,
  );
  const sheets: StandIn[] = FILL_SHEETS.map((thickness) => ({ form: "flat", thickness }));
  return {
    station,
    until,
    need,
    fills: until.low >= need ? "surely" : until.high < need ? "hardly" : "perhaps",
    preheat,
    opensAt: opensAt(supposed, start),
    opensPreheated: preheat === null ? null : opensAt(supposed, preheat),
    below: fillTemperature(job),
    table: fillTable(supposed, [...sheets, hollow], { ...options, quick: true }),
  };
}

/** Center of the fattest station down to the limit for opening in a mold that starts at this, s. */
function opensAt(supposed: Supposed, mold: number): number {
  const { job } = supposed;
  const { hollow } = fattestOf(partsOf(job));
  const { demold } = job.limits;
  return timeBelow(withMold(supposed, mold), hollow, "center", demold, { quick: true }).time;
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

/** Sprues come by drill bits: the next one that is tried, m. */
const FATTER = 2e-3;
/** K. */
const COOLER = 10;

function leversOf(
  supposed: Supposed,
  feed: Feed,
  suffices: boolean,
  short: boolean,
  fast: CoolingOptions,
): Lever[] {
  const { job } = supposed;
  const levers: Lever[] = [];
  const tried = (change: Partial<Job>) =>
    feedOf({ ...supposed, job: { ...job, ...change } }, fast).fattest.unfed;
  if (job.sprue.hold !== null && job.sprue.hold < feed.closes)
    levers.push({
      code: "longer_hold",
      change: { path: "sprue.hold", kind: "duration", to: feed.closes },
      gives: { kind: "ratio", value: tried({ sprue: { ...job.sprue, hold: null } }) },
    });
  if (short) {
    const diameter = job.sprue.diameter + FATTER;
    if (diameter <= Math.min(job.sprue.widest, job.bait.thickness)) {
      const { gate } = job.sprue;
      // a gate that is narrower stays the one that closes
      const widen = (x: number) => Math.max(x, diameter);
      levers.push({
        code: "fatter_sprue",
        change: { path: "sprue.diameter", kind: "length", to: diameter },
        gives: {
          kind: "ratio",
          value: tried({
            sprue: {
              ...job.sprue,
              diameter,
              gate: { ...gate, width: widen(gate.width), height: widen(gate.height) },
            },
          }),
        },
      });
    }
    const temperature = job.shot.temperature - COOLER;
    const least = job.shot.material.plastisol?.pourLeast ?? 0;
    if (temperature >= least)
      levers.push({
        code: "cooler_shot",
        change: { path: "shot.temperature", kind: "temperature", to: temperature },
        gives: { kind: "ratio", value: tried({ shot: { ...job.shot, temperature } }) },
      });
    levers.push({ code: "top_off" });
    if (!suffices) levers.push({ code: "thinner_body" });
  }
  return levers;
}

function ignoredOf(section: boolean): IgnoredCode[] {
  return [
    ...(section ? [] : (["one_dimension"] as const)),
    "fill_time",
    "flow_heat",
    "runner_heat",
    "shrink_gap",
    "constant_contact",
    "uneven_fill",
    "void_or_dent_place",
  ];
}
