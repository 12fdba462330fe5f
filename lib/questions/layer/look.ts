/** The window after the first color, as it is looked at: in a section of the mold, or quickly in one dimension. */
import type { Job, Station } from "../../job/types.ts";
import type { Solving } from "../../models/cooling.ts";
import { type ColorWindow, type Near, windowOf } from "../../models/layer/color-window.ts";
import { sharesInSection } from "../../models/layer/judged-edge.ts";
import { coolOpenColor, type OpenColor } from "../../models/layer/open-color.ts";
import { JUDGED_UP_TO, layerSection } from "../../models/layer/section.ts";
import { layerStack, type Stack } from "../../models/layer/stack.ts";
import type { Scenario } from "../../models/scenario.ts";
import { opens } from "./quick.ts";
import { colorHorizon, colorRules } from "./table.ts";

const QUICK = { resolution: 2 } as const;
/** A window closes within 2 % of that of cells half as wide in nine of ten, on the whole 0.2 % before it (measured: 26 jobs). */
const FULL = { resolution: 1.1, tolerance: 1e-3 } as const;
/**
 * Behind a back of metal or water the section has more cells, and is solved as it is, at twice the price each. So coarse a window
 * closes as near, but for 0.3 %.
 */
const FULL_BACKED = { resolution: 0.9, tolerance: 1e-3 } as const;
/** A lining is too thin for a coarser grid. */
const LINING = { resolution: 1, tolerance: 1e-3 } as const;
/** For windows that are compared: what the grid adds is alike in all. */
const COMPARING = { resolution: 0.7, tolerance: 1e-3 } as const;

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

function lookAt(stack: Stack, job: Job, solving: Solving, near?: Near): Look {
  const horizon = colorHorizon(job.layer.depth);
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

/** The quick answer: in one dimension, its times as those of the section are of it, about. */
export function quickAnswer(flat: Look, station: Station, job: Job): Look {
  const { opening, closing } = sharesInSection(station, job.layer);
  const one = flat.window;
  const window: ColorWindow = {
    ...one,
    setAt: opening * one.setAt,
    close: (upTo) => closing * one.close(upTo),
    closeRoughly: (upTo) => closing * one.closeRoughly(upTo),
    lastBond: (upTo) => closing * one.lastBond(upTo),
    lastHealing: (upTo) => closing * one.lastHealing(upTo),
    // what the edge is by then, the middle is later
    interfaceAt: (t) => one.interfaceAt(t / closing),
    evenUntil: closing * one.evenUntil,
  };
  return { ...flat, window, open: opens(window, job), close: closing * flat.close };
}

/** How a section is looked at for an answer, and as windows are compared. */
function solvingOf({ upper }: Stack, { layer: { form } }: Job) {
  // what is lifted off with the upper half: it alone, or a back and plates with it
  if (upper.length > 1) return { answer: FULL_BACKED, compared: FULL_BACKED };
  if (form === "skin") return { answer: LINING, compared: LINING };
  return { answer: FULL, compared: COMPARING };
}

/** In the section of the station. */
const sectionLook =
  (by: "answer" | "compared") =>
  (scenario: Scenario, station: Station, near?: Near): Look => {
    const { job } = scenario;
    const stack = layerSection(scenario, station);
    return lookAt(stack, job, solvingOf(stack, job)[by], near);
  };

export const fullLook = sectionLook("answer");

/** As windows are compared. */
export const comparedLook = sectionLook("compared");

/** Whether windows are compared as the answer is looked at. */
export function isCompared({ stack }: Look, job: Job): boolean {
  const { answer, compared } = solvingOf(stack, job);
  return answer === compared;
}

/** The same color that lies open, under a job whose second color is hotter, by HOTTER at most. */
export function hotterLook({ stack, openColor, window }: Look, job: Job): Look {
  return lookOf(stack, openColor, job, window);
}
