/** The window after the first color, as it is looked at: in a section of the mold, or quickly in one dimension. */
import type { Job, Station } from "../../job/types.ts";
import {
  type ColorWindow,
  coolOpenColor,
  type Near,
  type OpenColor,
  windowOf,
} from "../../models/layer/color-window.ts";
import { JUDGED_UP_TO, layerSection } from "../../models/layer/section.ts";
import { layerStack, type Stack } from "../../models/layer/stack.ts";
import type { Scenario } from "../../models/scenario.ts";
import { opens } from "./quick.ts";
import { colorRules, horizonOf } from "./table.ts";

const QUICK = { resolution: 2 } as const;
const FULL = { resolution: 1, tolerance: 1e-3 } as const;
/**
 * Behind a back of metal or water the section has half as many cells more, and is solved as it is, at twice the price each. So
 * coarse a window closes 0.8 % before that of cells half as wide, not 0.4 % before it (measured).
 */
const FULL_BACKED = { resolution: 0.8, tolerance: 1e-3 } as const;
/** For windows that are compared: what the grid adds is alike in all. */
const COMPARING = { resolution: 0.65, tolerance: 1e-3 } as const;

export interface Look {
  readonly stack: Stack;
  readonly openColor: OpenColor;
  readonly window: ColorWindow;
  readonly open: number;
  readonly close: number;
  /** Probe of the interface up to which it is judged. */
  readonly place: number;
}

/** A second color hotter by so much is looked at with the same open color, K. */
export const HOTTER = 10;

function lookAt(
  stack: Stack,
  job: Job,
  solving: typeof QUICK | typeof FULL | typeof FULL_BACKED | typeof COMPARING,
  near?: Near,
): Look {
  const horizon = horizonOf(job.layer.depth);
  const hottest = job.layer.second.temperature + HOTTER;
  const openColor = coolOpenColor(stack, 0, colorRules(job), { solving, horizon }, hottest);
  return lookOf(stack, openColor, job, near);
}

function lookOf(stack: Stack, openColor: OpenColor, job: Job, near?: Near): Look {
  const window = windowOf(openColor, job.layer.second.temperature, near);
  const place = stack.shares.reduce((best, share, i) => (share <= JUDGED_UP_TO ? i : best), 0);
  const open = opens(window, job);
  return { stack, openColor, window, open, close: window.close(place), place };
}

/**
 * In one dimension.
 *
 * @param near the window of a similar case: where it closes, this one is looked for first
 */
export function quickLook(scenario: Scenario, station: Station, near?: Near): Look {
  return lookAt(layerStack(scenario, station.height), scenario.job, QUICK, near);
}

/** In the section of the station. */
export function fullLook(scenario: Scenario, station: Station, near?: Near): Look {
  const stack = layerSection(scenario, station);
  // what is lifted off with the upper half: it alone, or a back and plates with it
  const isBacked = stack.upper.length > 1;
  return lookAt(stack, scenario.job, isBacked ? FULL_BACKED : FULL, near);
}

/** In the section, as windows are compared. */
export function comparedLook(scenario: Scenario, station: Station, near?: Near): Look {
  return lookAt(layerSection(scenario, station), scenario.job, COMPARING, near);
}

/** The same color that lies open, under a job whose second color is hotter, by HOTTER at most. */
export function hotterLook({ stack, openColor, window }: Look, job: Job): Look {
  return lookOf(stack, openColor, job, window);
}
