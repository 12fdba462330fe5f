/** After opening: skin and core over time in air and in water, when the bait may be touched, when bagged. K, s, m. */

import type {
  Answer,
  Cause,
  CautionCode,
  IgnoredCode,
  Lever,
  Quantified,
  Reason,
} from "../../answers/answer.ts";
import { touchLimit } from "../../formulas/touch.ts";
import type { Job } from "../../job/types.ts";
import { isMolten, type StandIn, standInOf } from "../../models/bait/bar.ts";
import { moldBurnsFrom, moldCautions, plasticCautions } from "../../models/cautions.ts";
import { DRAFTING, LONGEST_COOLING } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { causeOf, EffortSum, spreadOf } from "../../models/ranged.ts";
import { type Scenario, scenarioOf, scenarioSurroundings } from "../../models/scenario.ts";
import { moltenSprueCautions } from "../../models/sprue/molten.ts";
import { ignoredByPreheat } from "../../models/start.ts";
import type { Kind } from "../../units/kinds.ts";
import {
  cooledBelow,
  coolSince,
  faceAsOpened,
  type MoldOfBar,
  type Opened,
  type OutOfMold,
  outOfMold,
} from "./cooling.ts";
import { openingOf, stationThatDecides } from "./opening.ts";

/** Contacts that are asked about, s: flicked out of the mold, lifted, held in the hand. */
const CONTACTS = [1, 10, 60] as const;

/** The core counts as cold when it is this much above what is around it, K. */
const NEARLY_COLD = 5;

/** Lying flat before bagging, s; common practice, no source. */
const REST = { least: 24 * 3600, most: 48 * 3600 } as const;

/**
 * Hottest that a soft, wet bait may be for a contact, K: the stricter of the published limits for plastics and for hot
 * water, since it clings to the skin as water does.
 *
 * @param duration of contact, 1 s or more
 * @example touchableBelow(60) - 273.15 // 52.4
 */
export function touchableBelow(duration: number): number {
  return Math.min(touchLimit("plastic", duration), touchLimit("water", duration));
}

/** From when on a bait may be touched for so long. */
export interface SafeFrom {
  /** Contact, s. */
  readonly contact: number;
  /** Hottest that it may be then, K. */
  readonly limit: number;
  /** s after opening, from which on the mean of the bait is below. */
  readonly from: Quantified;
}

/** A bait in air or in water after opening. Times in s from opening, temperatures in K. */
export interface Outside {
  /** Of the air or the water, K. */
  readonly ambient: number;
  /** Hottest that the skin gets after opening, and when, s after opening. */
  readonly skinPeak: Quantified;
  readonly skinPeakAfter: number;
  readonly safe: readonly SafeFrom[];
  /** Core nearly as cold as what is around it, s after opening. */
  readonly cold: Quantified;
  readonly course: Pick<OutOfMold, "times" | "skin" | "mean" | "core">;
}

/** When a bait may be held, and bagged. Times in s from opening, temperatures in K. */
export interface TouchContent {
  /** The mold is opened this long after the shot, s. */
  readonly opening: number;
  /** When the bar or sheet of one dimension is as far as the section is then, s. */
  readonly openingOfBar: number;
  /** Its mold, in which its mean is the section's by then: heat of neighboring cavities. */
  readonly moldOfBar: MoldOfBar;
  readonly openedBy: "timer" | "demold";
  /** The fattest station, which decides. */
  readonly station: string;
  readonly skin: Quantified; // K, at opening, of the section at its hottest place
  readonly mean: Quantified;
  readonly core: Quantified;
  /** The core has not set at opening: it runs out hot. */
  readonly molten: boolean;
  /** Earliest moment at which the bait may be held in the hand, in air, s after opening. */
  readonly safe: Quantified;
  readonly decidedBy: Reason;
  /** What makes most of the range of `safe`, or of the core when it is safe at once; null when nothing is uncertain. */
  readonly cause: Cause | null;
  readonly air: Outside;
  readonly water: Outside;
  /** From opening until it may be bagged, s: cold through, and the rest that is usual. */
  readonly bag: { readonly least: number; readonly most: number };
  readonly levers: readonly Lever[];
}

/** The answer to `touch`. */
export type TouchAnswer = Answer<"touch", TouchContent>;

/** What it cools to, K. */
const around = ({ room }: Job, water: boolean): number =>
  water ? room.bathTemperature : room.temperature;

/**
 * When the bait may be touched, in s after opening, as it lies in air or in water.
 *
 * The mold is opened at `run.timer`, or when `demold` says so. From then on the bait is a bar or sheet in the open: its
 * skin is cool and is heated again from inside. It is taken out as hot as the section is, on average and at its core. In
 * the hand nothing cools it, so its mean counts, not its skin.
 *
 * @param given the job
 * @param options `quick`: opened by the one-dimensional answer
 * @returns times in s after opening, temperatures in K; holds for healthy adult skin
 * @throws InputError when the job can't be computed
 * @source ISO 13732-1 (from memory); Moritz & Henriques, Am. J. Pathol. 23 (1947) 695
 * @example touch(readJob("bait: { thickness: 16 mm }").job).answer.openedBy // "demold"
 */
export function touch(given: Job, options: QuestionOptions = {}): TouchAnswer {
  const { shouldStop } = options;
  const scenario = scenarioOf(given, options);
  const { job } = scenario;
  const effort = new EffortSum();
  const stop = shouldStop && { shouldStop };
  const { timer } = job.run;
  const { opening, openingOfBar, moldOfBar, told, section } = openingOf(scenario, options);
  const { name: station, index, wide } = stationThatDecides(job);
  const bodyOf = (s: Scenario): StandIn => standInOf(s.job.bait.stations[index]);
  const opened = (s: Scenario, water: boolean): Opened => {
    const { open, dip } = scenarioSurroundings(s);
    return {
      scenario: s,
      body: bodyOf(s),
      opening: openingOfBar,
      moldOfBar,
      wide,
      around: water ? dip : open,
      ...stop,
    };
  };
  const limits = CONTACTS.map(touchableBelow);
  const sides = [false, true].map((water) => {
    const ambient = around(job, water);
    const own = opened(scenario, water);
    const below = cooledBelow(own, limits, ambient + NEARLY_COLD);
    effort.add(below);
    const end = Number.isFinite(below.core) ? Math.max(below.core, 60) : LONGEST_COOLING;
    const course = outOfMold(own, end);
    effort.add(course);
    return { water, ambient, below, course, end };
  });
  // a section's skin is hottest beside its neighbor, a bar's is the same all around
  const hotter = section ? told * Math.max(0, section.skin - sides[0].course.skin[0]) : 0;
  // skin, mean and core at opening; then for air and water: skin at its hottest, the limits, core cold
  const numbers = (s: Scenario): number[] => {
    const both = sides.map(({ water, ambient, end, below, course }) => {
      if (s === scenario) return { below, course, ambient };
      const one = opened(s, water);
      const own = around(s.job, water);
      return {
        below: cooledBelow(one, limits, own + NEARLY_COLD, DRAFTING),
        course: outOfMold(one, end, DRAFTING),
        ambient: own,
      };
    });
    const { skin, mean, core } = both[0].course;
    return [
      skin[0] + hotter,
      mean[0],
      core[0],
      ...both.flatMap(({ below, course, ambient }) => [
        Math.max(...course.skin, course.skin[0] + hotter),
        ...below.limits.map((t, c) => (t > 0 ? t : -coolSince(course, limits[c], ambient))),
        below.core,
      ]),
    ];
  };
  const perSide = limits.length + 2;
  const throughZero = [0, 1].flatMap((k) => limits.map((_, c) => 4 + k * perSide + c));
  const spreadings = spreadOf(scenario, numbers, [], { most: 64, throughZero });
  const range = (i: number, kind: Kind): Quantified => {
    const { value, low, high } = spreadings[i].range;
    const least = kind === "duration" ? 0 : Number.NEGATIVE_INFINITY;
    return {
      kind,
      value: Math.max(least, value),
      low: Math.max(least, low),
      high: Math.max(least, high),
    };
  };
  const outside = sides.map(({ ambient, course }, k): Outside => {
    const first = 3 + k * perSide;
    const { times, skin, mean, core } = course;
    return {
      ambient,
      skinPeak: range(first, "temperature"),
      skinPeakAfter:
        Math.max(...skin) > skin[0] + hotter ? times[skin.indexOf(Math.max(...skin))] : 0,
      safe: inOrder(CONTACTS.map((_, c) => range(first + 1 + c, "duration"))).map((from, c) => ({
        contact: CONTACTS[c],
        limit: limits[c],
        from,
      })),
      cold: range(first + perSide - 1, "duration"),
      course: { times, skin, mean, core },
    };
  });
  const [air, water] = outside;
  const held = air.safe[air.safe.length - 1].from;
  const cold = Math.min(air.cold.value, water.cold.value);
  const heldIndex = 3 + limits.length;
  const reheats = held.high > 0;
  const skinOpened = range(0, "temperature");
  // what the section's hottest skin is above the bar's, its face is, too, and bad luck moves both; it is no hotter than the skin
  const handledAt =
    skinOpened.high < moldBurnsFrom(job)
      ? Number.NEGATIVE_INFINITY
      : faceAsOpened(opened(scenario, false)) + hotter + skinOpened.high - skinOpened.value;
  const cautions: CautionCode[] = [
    ...(reheats ? (["touch_burn"] as const) : []),
    ...plasticCautions(job, [job.shot]),
    ...moltenSprueCautions(scenario, opening, stop),
    ...moldCautions(job, handledAt),
    "water_near_melt",
  ];
  return {
    question: "touch",
    answer: {
      opening,
      openingOfBar,
      moldOfBar,
      openedBy: timer === null ? "demold" : "timer",
      station,
      skin: range(0, "temperature"),
      mean: range(1, "temperature"),
      core: range(2, "temperature"),
      molten: isMolten(range(2, "temperature").value, job),
      safe: held,
      decidedBy: { code: "core_reheats", name: station },
      cause: causeOf(spreadings[reheats ? heldIndex : 2], job),
      air,
      water,
      bag: { least: cold + REST.least, most: cold + REST.most },
      levers: reheats ? leversOf(water, held) : [],
    },
    cautions,
    ignored: [
      "one_dimension",
      ...(options.quick && job.mold.cavities > 1 ? (["neighbor_cavities"] as const) : []),
      "constant_contact",
      "shrink_gap",
      "air_drafts",
      "plasticizer_migration",
      ...ignoredByPreheat(given),
    ] satisfies IgnoredCode[],
    effort: effort.done(),
  };
}

/** A longer touch is never safe sooner than a shorter one, in no case: nor are the ends of its range, whatever their surfaces miss. */
function inOrder(ranges: readonly Quantified[]): Quantified[] {
  const ordered: Quantified[] = [];
  for (const range of ranges) {
    const { value, low, high } = ordered.at(-1) ?? range;
    ordered.push({
      ...range,
      value: Math.max(value, range.value),
      low: Math.max(low, range.low),
      high: Math.max(high, range.high),
    });
  }
  return ordered;
}

function leversOf(water: Outside, held: Quantified): Lever[] {
  const inWater = water.safe[water.safe.length - 1].from.value;
  if (!(inWater < held.value)) return [];
  return [{ code: "dunk", gives: { kind: "duration", value: inWater } }];
}
