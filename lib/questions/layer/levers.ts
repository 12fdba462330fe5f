/** What makes the window for the second color longer: each lever is pulled, and the window looked at again. */
import type { Lever } from "../../answers/answer.ts";
import type { Job, Station } from "../../job/types.ts";
import type { Near } from "../../models/layer/color-window.ts";
import type { Scenario } from "../../models/scenario.ts";
import { moldTemperaturePath } from "../../models/start.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { fullLook, type Look, quickLook } from "./look.ts";

/** Gains below this share of the window are not worth a line. */
const LEAST_GAIN = 0.03;
/** Hottest that a second color is asked for where its entry says nothing, and warmest mold that is tried, K. */
const HOTTEST = 463.15;
const WARMEST_MOLD = 343.15;

interface Pulled {
  readonly code: Lever["code"];
  readonly job: Job;
  readonly effort: NonNullable<Lever["effort"]>;
  readonly change?: Lever["change"];
}

/** Levers that this job leaves to be pulled. */
function leversFor(given: Job, { job }: Scenario, station: Station): Pulled[] {
  const { layer, mold } = job;
  const most = layer.second.material.plastisol?.pourMost ?? HOTTEST;
  const hotter = Math.min(layer.second.temperature + 10, most);
  // no warmer than its face bears
  const warmer = Math.min(mold.temperature + 20, wallLimitOf(job) ?? WARMEST_MOLD, WARMEST_MOLD);
  const deeper = Math.min(1.5 * layer.depth, 0.45 * station.height);
  const pulled: Pulled[] = [];
  if (warmer > mold.temperature)
    pulled.push({
      code: "preheat_mold",
      job: { ...job, mold: { ...mold, temperature: warmer, upperTemperature: warmer } },
      effort: 1,
      change: { path: moldTemperaturePath(given), kind: "temperature", to: warmer },
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

const lengthOf = ({ open, close }: Look): number => Math.max(0, close - open);

/** Where a case closes in its section, by what one dimension says of it beside the job. */
function nearBy({ window }: Look, flat: Look, quickly: Look): Near {
  const lateness = ({ close, window: { evenUntil } }: Look) => close / evenUntil;
  const more = lateness(quickly) / lateness(flat);
  return {
    close: (upTo) => window.close(upTo) * (Number.isFinite(more) ? more : 1),
    evenUntil: window.evenUntil,
  };
}

/**
 * Levers with the length of the window that the answer has once they are pulled, s, the longest first. Where the window is
 * shorter than the hands, quicker hands are named as well.
 *
 * @param given the job as it was asked, whose keys a lever changes
 * @param asked the look of the answer, and the one in one dimension: the same for a quick answer
 */
export function layerLevers(
  given: Job,
  scenario: Scenario,
  asked: { readonly station: Station; readonly look: Look; readonly flat: Look },
): Lever[] {
  const { station, look, flat } = asked;
  const now = lengthOf(look);
  const index = scenario.job.bait.stations.indexOf(station);
  const found = leversFor(given, scenario, station)
    .map(({ code, job, effort, change }): Lever => {
      const changed = { ...scenario, job };
      const own = job.bait.stations[index];
      const quickly = quickLook(changed, own, flat.window);
      const value = lengthOf(
        look === flat ? quickly : fullLook(changed, own, nearBy(look, flat, quickly)),
      );
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
