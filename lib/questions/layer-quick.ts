/** The window for the second color in one dimension, for searches, ranges and levers. */
import { type ColorWindow, lieOpen, windowOf } from "./color-window.ts";
import type { Job, Station } from "./job-types.ts";
import { layerStack } from "./layer-stack.ts";
import { colorRules, horizonOf } from "./layer-table.ts";
import type { Supposed } from "./supposed.ts";

/** When a color may be closed in, by the rule of the job: s. */
export function opens(window: ColorWindow, { layer: { ready } }: Job): number {
  return ready === "skin" ? Math.min(window.skin, window.set) : window.set;
}

/** Opening and closing of the window, s. */
export function windowQuickly(
  supposed: Supposed,
  station: Station,
): { open: number; close: number } {
  const { job } = supposed;
  const stack = layerStack(supposed, station.height);
  const lying = lieOpen(stack, 0, colorRules(job), {
    solving: { resolution: 0.8, tolerance: 1e-3 },
    horizon: horizonOf(job.layer.depth),
  });
  const window = windowOf(lying);
  return { open: opens(window, job), close: window.close() };
}
