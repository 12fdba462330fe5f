/** What makes the window for the second color longer: each lever is pulled, and the window looked at again. */
import type { Lever } from "../../answers/answer.ts";
import { deepestColor } from "../../job/color-depth.ts";
import type { Job, Station } from "../../job/types.ts";
import type { Scenario } from "../../models/scenario.ts";
import { warmerHalf, withMold } from "../../models/start.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import {
  comparedLook,
  HOTTER,
  hotterLook,
  isCompared,
  type Look,
  quickAnswer,
  quickLook,
} from "./look.ts";
import { opens } from "./quick.ts";

/** Gains below this share of the window are not worth a line. */
const LEAST_GAIN = 0.03;
/** Hottest that a second color is asked for where its entry says nothing, and warmest mold that is tried, K. */
const HOTTEST = 463.15;
const WARMEST_MOLD = 343.15;
/** A mold is preheated by so much, and by no less than is worth the while, K. */
const WARMER = 20;
const LEAST_WARMER = 3;

interface Pulled {
  readonly code: Lever["code"];
  readonly job: Job;
  readonly effort: NonNullable<Lever["effort"]>;
  readonly change?: Lever["change"];
}

/** What fills its bait to a hair is rounded past it. */
const ROOM_LEFT = 0.98;

/** Levers that this job leaves to be pulled. */
function leversFor({ job }: Scenario, { station, wallPeak }: Asked): Pulled[] {
  const { layer } = job;
  const allowed = layer.second.material.plastisol?.pourMost ?? HOTTEST;
  // a thermometer that is off must not carry what is advised past it
  const most = allowed - job.uncertainty.shotTemperature;
  const hotter = Math.min(layer.second.temperature + HOTTER, most);
  // its face gets as much warmer as the mold, and no warmer than it bears
  const left = (wallLimitOf(job) ?? Number.POSITIVE_INFINITY) - wallPeak;
  const start = warmerHalf(job);
  const warmer = Math.min(start + Math.min(WARMER, left), WARMEST_MOLD);
  // the colors that are poured on it keep their depth
  const others = layer.more.reduce((sum, { depth }) => sum + depth, 0);
  const room = ROOM_LEFT * (deepestColor(layer.form, job.bait.thickness) - others);
  const deeper = Math.min(1.5 * layer.depth, 0.45 * station.height, room);
  const pulled: Pulled[] = [];
  if (warmer > start + LEAST_WARMER)
    pulled.push({
      code: "preheat_mold",
      job: withMold(job, warmer),
      effort: 1,
      change: { path: "run.preheat", kind: "temperature", to: warmer },
    });
  if (hotter > layer.second.temperature)
    pulled.push({
      code: "hotter_second",
      job: { ...job, layer: { ...layer, second: { ...layer.second, temperature: hotter } } },
      effort: 1,
      change: { path: "layer.second.temperature", kind: "temperature", to: hotter },
    });
  if (deeper > layer.depth)
    pulled.push({
      code: "thicker_layer",
      job: { ...job, layer: { ...layer, depth: deeper } },
      effort: 2,
      change: { path: "layer.depth", kind: "length", to: deeper },
    });
  if (layer.ready === "set")
    pulled.push({
      code: "close_on_skin",
      job: { ...job, layer: { ...layer, ready: "skin" } },
      effort: 1,
    });
  return pulled;
}

/** Length of the window, s. */
const lengthOf = ({ open, close }: Pick<Look, "open" | "close">): number =>
  Math.max(0, close - open);

/**
 * Windows of changed jobs as their own answers have them: where it only opens sooner, from the look of the answer; else
 * looked at on a coarser grid, and carried over by what it and the answer both say of the job itself.
 */
function makeCompared(
  scenario: Scenario,
  { station, look, quick }: Asked,
): (pulled: Pulled) => number {
  const index = scenario.job.bait.stations.indexOf(station);
  const looked = quick ? quickLook : comparedLook;
  let own = quick || isCompared(look, scenario.job) ? look : undefined;
  // a deeper color leaves another share of its section
  const answered = (to: Look, job: Job) =>
    quick ? quickAnswer(to, job.bait.stations[index], job) : to;
  return ({ code, job }) => {
    // the same window, entered sooner
    if (code === "close_on_skin") return lengthOf({ ...look, open: opens(look.window, job) });
    own ??= comparedLook(scenario, station, look.window);
    const to = answered(
      code === "hotter_second"
        ? hotterLook(own, job)
        : looked({ ...scenario, job }, job.bait.stations[index], own.window),
      job,
    );
    const carried = (key: "open" | "close") => {
      const factor = look[key] / own![key];
      return Number.isFinite(factor) && factor > 0 ? factor * to[key] : to[key];
    };
    return lengthOf({ open: carried("open"), close: carried("close") });
  };
}

/** The look of the answer, and whether it is the quick one. */
interface Asked {
  readonly station: Station;
  readonly look: Look;
  readonly quick: boolean;
  /** Hottest that the cavity face gets, K. */
  readonly wallPeak: number;
}

/**
 * Levers with the length of the window that the answer has once they are pulled, s, the longest first. Where the window is
 * shorter than the hands, quicker hands are named as well.
 *
 * @param given the job as it was asked, whose keys a lever changes
 */
export function layerLevers(given: Job, scenario: Scenario, asked: Asked): Lever[] {
  const now = lengthOf(asked.look);
  const pulled = leversFor(scenario, asked);
  const lengthWith = makeCompared(scenario, asked);
  const found = pulled
    .map((one): Lever => {
      const { code, effort, change } = one;
      const value = lengthWith(one);
      return {
        code,
        ...(change && { change }),
        gives: { kind: "duration", value },
        gain: now > 0 ? value / now - 1 : Number.POSITIVE_INFINITY,
        effort,
      };
    })
    .filter(({ gain, gives }) => (gives?.value ?? 0) > 0 && (gain ?? 0) > LEAST_GAIN)
    .sort((a, b) => (b.gives?.value ?? 0) - (a.gives?.value ?? 0));
  const short = now < scenario.job.layer.handling;
  return short && now > 0 ? [...found, { code: "faster_hands" }] : found;
}
