/** When may the second color follow the first? After it no longer flows, before the interface is too cold. SI and K. */

import type {
  Answer,
  Cause,
  CautionCode,
  IgnoredCode,
  Lever,
  Quantified,
  Reason,
} from "../../answers/answer.ts";
import type { Range } from "../../confidence/range.ts";
import { scaledTo } from "../../confidence/spread.ts";
import type { Job, Station } from "../../job/types.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import {
  faceCautions,
  hotColorsOf,
  moldCautions,
  plasticCautions,
  waterCautions,
} from "../../models/cautions.ts";
import { type Course, cool, SEARCHING } from "../../models/cooling.ts";
import { windowOf } from "../../models/layer/color-window.ts";
import { coolOpenColor } from "../../models/layer/open-color.ts";
import type { Stack } from "../../models/layer/stack.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { causeOf, quantified, spreadOf, withClock } from "../../models/ranged.ts";
import { type Scenario, scenarioOf } from "../../models/scenario.ts";
import { moltenSprueCautions } from "../../models/sprue/molten.ts";
import { ignoredByPreheat } from "../../models/start.ts";
import { type Closed, closeAt, courseOfMarch, openWallPeak, type Remelted } from "./closed.ts";
import { layerLevers } from "./levers.ts";
import { fullLook, type Look, quickAnswer, quickLook } from "./look.ts";
import { bestMoment } from "./moment.ts";
import { opens, windowQuickly } from "./quick.ts";
import { colorHorizon, colorRules, type WhatIf, whatIf } from "./table.ts";
import { uncertainColors } from "./uncertain-colors.ts";

/** The window after one color. Times from its pour, s. */
export interface NextColor {
  readonly number: number;
  readonly open: Quantified;
  readonly close: Quantified;
  /** Best moment for the next injection; null where there is none. */
  readonly injectAt: Quantified | null;
}

/** When the second color may follow the first. Times in s from the pour of the first, temperatures in K. */
export interface Layered {
  /** From the pour of the first color until it may be closed in and the second until it no longer bonds, s. */
  readonly open: Quantified;
  readonly close: Quantified;
  /** Best moment of the second injection, between the earliest and latest that are safe in bad cases too, or in as many as
   * leave what a hand can keep; null: none. */
  readonly injectAt: Quantified | null;
  /** When to start closing for that, s. */
  readonly startClosing: number | null;
  /** What opens and what closes it. */
  readonly opensBy: Reason;
  readonly closesBy: Reason;
  /** Times by each rule, s; healing and bond: latest. */
  readonly reason: {
    readonly set: number;
    readonly skin: number;
    readonly bond: number;
    readonly healing: number;
    /** Depth to which the second color melts the first at the best moment, m. */
    readonly remelt: number;
  };
  /** No moment is right. */
  readonly empty: boolean;
  /** There is one, but it is shorter than closing takes. */
  readonly tooShort: boolean;
  /** Number of the color, 3 or more, that has no moment to follow the one before it; null: each has one, or already the second has none. */
  readonly noMomentFor: number | null;
  /** Safe also with the uncertain inputs at their bad ends. */
  readonly sure: boolean;
  readonly handling: number;
  /** The interface at the best moment: hottest temperature, healing 0 to 1. */
  readonly joint: { readonly temperature: number; readonly healing: number } | null;
  /** Latest injection for which the interface bonds over this share of its width; one entry in one dimension. */
  readonly closeByShare: readonly { readonly share: number; readonly close: number }[];
  readonly remelt: Remelted | null;
  /** From the second injection to opening, s; Infinity: never. */
  readonly demold: Quantified | null;
  /** Hottest that the cavity face gets under any of the colors, K. */
  readonly wallPeak: number;
  readonly causes: { readonly open: Cause | null; readonly close: Cause | null };
  readonly levers: readonly Lever[];
  /** In one dimension, carried over to the window of this answer. */
  readonly whatIf: readonly WhatIf[];
  /** The common 30 to 60 s between colors beside this window. */
  readonly folk: { readonly from: number; readonly to: number; readonly share: number };
  /** One for each color that another follows. */
  readonly colors: readonly NextColor[];
  /** The two models; `full` null for the quick look. */
  readonly quick: { readonly open: number; readonly close: number };
  readonly full: { readonly open: number; readonly close: number } | null;
  /** First color while it lies open; interface and cavity face after the injection. */
  readonly courseOpen: Course;
  readonly courseClosed: Course | null;
}

/** The answer to `layer`. */
export type LayerAnswer = Answer<"layer", Layered>;

/** What `layer` may leave out. */
export interface LayerOptions extends QuestionOptions {
  /** The what-if table and the levers; false leaves them empty, for what follows a changing dial. */
  readonly further?: boolean;
}

/** Members of the ranges, always as many: where they were added as wanted, ends would leap. Some that never close need more. */
const MEMBERS = 48;
const MEMBERS_ENDLESS = 96;
/** Time between two colors as it is told at the bench: common practice, no source. */
const FOLK = { from: 30, to: 60 } as const;
/** A color poured on others is taken this thick when the longest wait is chosen, m. */
const THICK_NEXT = 0.005;
const QUICK = { resolution: 2 } as const;

/**
 * Window for the second color, in s from the pour of the first: it opens when the first color's hottest place has
 * set (or a skin of `layer.skin` has, as `layer.ready` says), and closes when the interface would no longer reach the bond
 * temperature or heal as far as `layer.healing`.
 *
 * What the interface becomes is the full solve of both colors meeting, not only the mean of their temperatures. In two
 * dimensions the interface is judged over the inner half of its width: beside the mold it is always too cold; the latest
 * times for other shares of the width are given beside it.
 *
 * @param given from `readJob`; `layer` says what is poured
 * @returns times s, temperatures K; an empty window is an answer with the levers that open it
 * @throws InputError when the job makes no solvable problem; NoConvergence when the solver fails
 * @example layer(readJob("bait: { thickness: 16 mm }").job, { quick: true, further: false }).answer.empty // false
 */
export function layer(given: Job, options: LayerOptions = {}): LayerAnswer {
  const { quick = false, brief = false, further = options.likelyOnly !== true } = options;
  const scenario = scenarioOf(given, options);
  const { job } = scenario;
  const station = layeredStation(job);
  const flat = quickLook(scenario, station);
  const { stack } = flat;
  const quickly = quickAnswer(flat, station, job);
  const look = quick ? quickly : fullLook(scenario, station, flat.window);
  const { openColor, window, open, close } = look;
  const ranges = rangesOf(scenario, station, look, flat);
  const { handling } = job.layer;
  const empty = !(close > open);
  const tooShort = !empty && close - open < handling;
  const moment = bestMoment(ranges.open, ranges.close, job);
  const closed = moment && closeAt(look.stack, openColor, moment.value, job.limits.demold);
  const chain = chainOf(stack, job, { look, flat, ranges, moment });
  const last = chain.closed ?? closed;
  const opening = last && demoldRange(last, quick || chain.closed !== undefined, scenario, station);
  const wallPeak = Math.max(
    openWallPeak(openColor),
    ...[closed, chain.closed].map((one) => one?.wallPeak ?? Number.NEGATIVE_INFINITY),
  );
  const levers = further ? layerLevers(given, scenario, { station, look, quick, wallPeak }) : [];
  return {
    question: "layer",
    answer: {
      open: quantified(ranges.open, "duration"),
      close: quantified(ranges.close, "duration"),
      injectAt: moment && quantified(moment, "duration"),
      startClosing: moment && moment.value - handling,
      ...reasonsOf(look, job, closed),
      empty,
      tooShort,
      noMomentFor: chain.noMomentFor,
      // what one dimension leaves out may be more than bad luck takes
      sure: !quick && (moment?.sure ?? false),
      handling,
      joint: moment && jointAt(look, moment.value),
      closeByShare: (brief ? [] : look.stack.shares).map((share, i) => ({
        share,
        close: window.closeRoughly(i),
      })),
      remelt: closed?.remelt ?? null,
      demold: opening,
      wallPeak,
      causes: ranges.causes,
      levers,
      whatIf: further ? calibrated(whatIf(scenario, station, options), flat, look) : [],
      folk: { ...FOLK, share: overlap(FOLK.from, FOLK.to, open, close) },
      colors: chain.colors,
      quick: { open: quickly.open, close: quickly.close },
      full: quick ? null : { open, close },
      courseOpen: courseOfMarch(
        openColor.record,
        openColor.names,
        ["hottest 0", "surface", "wall"],
        Math.min(openColor.record.end, 1.3 * Math.max(open, close)),
      ),
      courseClosed: closed?.course ?? null,
    },
    cautions: [
      ...cautionsFor(job, wallPeak, levers, last),
      ...moltenSprueCautions(scenario, opening?.low ?? Number.POSITIVE_INFINITY),
    ],
    ignored: [...ignoredBy(quick, job), ...ignoredByPreheat(given)],
    effort: {
      cells: openColor.cells,
      steps: window.steps() + (closed?.steps ?? 0),
      energyImbalance: Math.max(openColor.record.imbalance, closed?.imbalance ?? 0),
    },
  };
}

/** What opens and closes the window, with the time of each rule alone. */
function reasonsOf(look: Look, job: Job, closed: Closed | null) {
  const { window, place } = look;
  const bySkin = job.layer.ready === "skin" && window.skin < window.setAt;
  return {
    opensBy: { code: bySkin ? ("skin" as const) : ("set" as const) },
    closesBy: { code: closesBy(look) },
    reason: {
      set: window.setAt,
      skin: window.skin,
      bond: window.lastBond(place),
      healing: window.lastHealing(place),
      remelt: closed?.remelt.depth ?? 0,
    },
  };
}

/** The interface when the next color comes at some time, where it is judged. */
function jointAt({ window, place }: Look, t: number): Layered["joint"] {
  const { peaks, healings } = window.interfaceAt(t);
  return { temperature: peaks[place], healing: healings[place] };
}

function cautionsFor(
  job: Job,
  wallPeak: number,
  levers: readonly Lever[],
  closed: Closed | null,
): CautionCode[] {
  return [
    ...plasticCautions(job, [job.shot, ...hotColorsOf(job)], levers),
    ...moldCautions(job, closed?.wallOpened, levers),
    ...waterCautions(job),
    ...faceCautions(job, wallPeak),
  ];
}

/** The station that the first color lies in: the tail for a tail, else the fattest. */
export function layeredStation({ bait, layer: { form } }: Job): Station {
  const thin = (s: Station) => Math.min(s.width, s.height);
  return bait.stations.reduce((a, b) =>
    form === "tail" ? (thin(b) <= thin(a) ? b : a) : thin(b) > thin(a) ? b : a,
  );
}

function closesBy({ window, close, place }: Look): "bond" | "healing" {
  return close > 0 && Number.isFinite(close) ? window.closesBy(place) : "bond";
}

/** Ends of the window over the uncertain inputs: how they move is taken from one dimension. */
function rangesOf(scenario: Scenario, station: Station, { open, close }: Look, { window }: Look) {
  const index = scenario.job.bait.stations.indexOf(station);
  const near = { ...window, roughly: true };
  const [opening, closing] = spreadOf(
    scenario,
    (s) => {
      const { open, close } = windowQuickly(s, s.job.bait.stations[index], near);
      return [open, close];
    },
    uncertainColors(scenario.job),
    { least: MEMBERS, most: MEMBERS, mostEndless: MEMBERS_ENDLESS },
  );
  return {
    open: withClock(scaledTo(opening.range, open), scenario),
    close: close > 0 ? withClock(scaledTo(closing.range, close), scenario) : nothing(),
    causes: { open: causeOf(opening, scenario.job), close: causeOf(closing, scenario.job) },
  };
}

const nothing = (): Range => ({ value: 0, low: 0, high: 0 });

/** A round body cools faster than a sheet as thick: carried over from a single color. */
function roundOverFlat(scenario: Scenario, station: Station): number {
  const limit = scenario.job.limits.demold;
  const own = cool(barModel(scenario, standInOf(station)), limit, SEARCHING).time;
  const sheet = { form: "flat", across: station.height } as const;
  const flat = cool(barModel(scenario, sheet), limit, SEARCHING).time;
  // a sheet as thick may never cool where the bar does
  return Number.isFinite(own) && Number.isFinite(flat) ? own / flat : 1;
}

function demoldRange(
  { opensAfter }: Closed,
  flat: boolean,
  scenario: Scenario,
  station: Station,
): Quantified {
  const index = scenario.job.bait.stations.indexOf(station);
  const [single] = spreadOf(scenario, (s) => [
    cool(barModel(s, standInOf(s.job.bait.stations[index])), s.job.limits.demold, SEARCHING).time,
  ]);
  const factor = flat ? roundOverFlat(scenario, station) : 1;
  return quantified(scaledTo(single.range, opensAfter * factor), "duration");
}

/** What the answer's window is of the quick one. */
function factorsOf(
  quick: Look,
  full: Look,
): { readonly opening: number; readonly closing: number } {
  const factor = (a: number, b: number) => (a > 0 && b > 0 && Number.isFinite(a / b) ? a / b : 1);
  return { opening: factor(full.open, quick.open), closing: factor(full.close, quick.close) };
}

/** The table of one dimension, carried over to the window of the answer by what both say of the job itself. */
function calibrated(rows: readonly WhatIf[], quick: Look, full: Look): WhatIf[] {
  const { opening, closing } = factorsOf(quick, full);
  return rows.map((row) => ({
    ...row,
    open: opening * row.open,
    close: closing * row.close,
  }));
}

/** Share of the span from..to that lies within open..close. */
function overlap(from: number, to: number, open: number, close: number): number {
  return Math.max(0, Math.min(to, close) - Math.max(from, open)) / (to - from);
}

interface Chain {
  readonly colors: readonly NextColor[];
  /** After the last of more than two colors. */
  readonly closed?: Closed;
  readonly noMomentFor: number | null;
}

/** What is known of the first color: its look, the one in one dimension, the ranges of its window and its best moment. */
interface FirstColor {
  readonly look: Look;
  readonly flat: Look;
  readonly ranges: { readonly open: Range; readonly close: Range };
  readonly moment: Range | null;
}

/**
 * Every color that another follows, each followed at its best moment. Those after the first are looked at in one dimension, and
 * carried over by what that is off for the first; their ranges are its own.
 */
function chainOf(stack: Stack, job: Job, { look, flat, ranges, moment }: FirstColor): Chain {
  const told = (number: number, open: Range, close: Range, best: Range | null): NextColor => ({
    number,
    open: quantified(open, "duration"),
    close: quantified(close, "duration"),
    injectAt: best && quantified(best, "duration"),
  });
  const colors = [told(1, ranges.open, ranges.close, moment)];
  const { opening, closing } = factorsOf(flat, look);
  let { openColor } = flat;
  let at = moment;
  for (let k = 1; k + 1 < stack.colors.length && at !== null; k++) {
    const depth = job.layer.depth + (stack.colors.length - 1) * THICK_NEXT;
    openColor = coolOpenColor(stack, k, colorRules(job), {
      solving: QUICK,
      horizon: colorHorizon(depth),
      start: openColor.stateAt(Math.min(at.value, openColor.record.end)),
    });
    const window = windowOf(openColor);
    const open = scaledTo(ranges.open, opening * opens(window, job));
    const close = scaledTo(ranges.close, closing * window.close());
    at = bestMoment(open, close, job);
    colors.push(told(k + 1, open, close, at));
  }
  if (stack.colors.length < 3 || at === null)
    return { colors, noMomentFor: colors.length > 1 && at === null ? colors.length + 1 : null };
  const closed = closeAt(stack, openColor, at.value, job.limits.demold);
  return { colors, closed, noMomentFor: null };
}

function ignoredBy(quick: boolean, { layer: { form, more } }: Job): IgnoredCode[] {
  const always: IgnoredCode[] = [
    "fill_time",
    "flow_heat",
    "shrink_gap",
    "constant_contact",
    "plasticizer_migration",
    "air_drafts",
  ];
  if (quick || more.length > 0) always.unshift("one_dimension");
  if (quick) always.unshift("corners_of_block", "mold_ends");
  if (form === "stripe" || form === "tail") always.push("uneven_fill", "filled_as_belly");
  return [...new Set(always)];
}
