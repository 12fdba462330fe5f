/** The window for the second color in one dimension, for searches, ranges and levers. */

import type { Job, Station } from "../../job/types.ts";
import { type ColorWindow, type Near, windowOf } from "../../models/layer/color-window.ts";
import { coolOpenColor } from "../../models/layer/open-color.ts";
import { layerStack } from "../../models/layer/stack.ts";
import type { Scenario } from "../../models/scenario.ts";
import { colorHorizon, colorRules } from "./table.ts";

/** When a color may be closed in, by the rule of the job: s. */
export function opens(window: ColorWindow, { layer: { ready } }: Job): number {
  return ready === "skin" ? Math.min(window.skin, window.setAt) : window.setAt;
}

/** Opening and closing of the window, s; looked for from that of a similar case. */
export function windowQuickly(
  scenario: Scenario,
  station: Station,
  near?: Near,
): { open: number; close: number } {
  const { job } = scenario;
  const stack = layerStack(scenario, station.height);
  const openColor = coolOpenColor(stack, 0, colorRules(job), {
    solving: { resolution: 0.8, tolerance: 1e-3 },
    horizon: colorHorizon(job.layer.depth),
  });
  const window = windowOf(openColor, undefined, near);
  return { open: opens(window, job), close: window.close() };
}
