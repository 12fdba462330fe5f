/** What makes the window for the second color longer, each tried in one dimension. */
import type { Lever } from "../../answers/answer.ts";
import type { Job, Station } from "../../job/types.ts";
import type { Scenario } from "../../models/scenario.ts";
import { wallLimitOf } from "../../models/wall-limit.ts";
import { windowQuickly } from "./quick.ts";

/** Gains below this share of the window are not worth a line. */
const LEAST_GAIN = 0.03;

/**
 * Levers with the length of the window that they give, s, the longest first.
 *
 * @param needed the window is empty or shorter than the hands: quicker hands are named as well
 */
export function layerLevers(scenario: Scenario, station: Station, needed: boolean): Lever[] {
  const { job } = scenario;
  const { layer, mold } = job;
  const length = (changed: Job): number => {
    const { open, close } = windowQuickly({ ...scenario, job: changed }, station);
    return Math.max(0, close - open);
  };
  const now = length(job);
  const lever = (
    code: Lever["code"],
    changed: Job,
    change?: Lever["change"],
    effort: NonNullable<Lever["effort"]> = 1,
  ): Lever => {
    const value = length(changed);
    return {
      code,
      ...(change && { change }),
      gives: { kind: "duration", value },
      gain: now > 0 ? value / now - 1 : Number.POSITIVE_INFINITY,
      effort,
    };
  };
  const most = layer.second.material.plastisol?.pourMost ?? 463.15;
  const hotter = Math.min(layer.second.temperature + 10, most);
  // no warmer than its face bears
  const bears = wallLimitOf(job) ?? 343.15;
  const warmer = Math.min(mold.temperature + 20, 343.15, bears);
  const deeper = Math.min(1.5 * layer.depth, 0.45 * station.height);
  const tried: Lever[] = [
    lever(
      "preheat_mold",
      { ...job, mold: { ...mold, temperature: warmer, upperTemperature: warmer } },
      { path: "mold.temperature", kind: "temperature", to: warmer },
    ),
  ];
  if (hotter > layer.second.temperature)
    tried.push(
      lever(
        "hotter_second",
        { ...job, layer: { ...layer, second: { ...layer.second, temperature: hotter } } },
        { path: "layer.second.temperature", kind: "temperature", to: hotter },
      ),
    );
  if (deeper > layer.depth)
    tried.push(
      lever(
        "thicker_layer",
        { ...job, layer: { ...layer, depth: deeper } },
        { path: "layer.depth", kind: "length", to: deeper },
        2,
      ),
    );
  if (layer.ready === "set")
    tried.push(lever("close_on_skin", { ...job, layer: { ...layer, ready: "skin" } }));
  const found = tried
    .filter(({ gain, gives }) => (gives?.value ?? 0) > 0 && (gain ?? 0) > LEAST_GAIN)
    .sort((a, b) => (b.gives?.value ?? 0) - (a.gives?.value ?? 0));
  return needed && now > 0 ? [...found, { code: "faster_hands" }] : found;
}
