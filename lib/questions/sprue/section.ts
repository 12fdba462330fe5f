/** The fattest station in the real block, in two dimensions, at the moment that feeding ends. */

import type { Snapshot } from "../../heat/problem.ts";
import { simulate } from "../../heat/simulate.ts";
import { setTemperature } from "../../models/bait/bar.ts";
import { sectionModel } from "../../models/bait/section.ts";
import { plastisolOf } from "../../models/plastisol.ts";
import type { Scenario } from "../../models/scenario.ts";
import type { Shells } from "../../models/sprue/cooling.ts";
import { coveredAreas } from "../../shape/clip.ts";
import { type Outline, ringsOf } from "../../shape/outline.ts";
import type { Feed, FeedOptions } from "./feed.ts";
import { shrinkLeft, skinShare } from "./shrink-left.ts";

/** A true section at the moment that feeding ends. */
export interface SectionFeed {
  readonly station: string;
  readonly mean: number; // K
  readonly center: number; // K
  /** Volume share that it still shrinks. */
  readonly left: number;
  /** Of it: called for by plastic that still flows, and not fed. */
  readonly unfed: number;
  /** Set skin as a share of half the thickness, by the area that still flows. */
  readonly skin: number;
  /** Mean of the bar or sheet that stands for the station in a quick answer, less this one, K. */
  readonly barAbove: number;
}

/** null when feeding never ends. */
export function sectionFeed(
  scenario: Scenario,
  { ends, fattest }: Feed,
  options: FeedOptions = {},
): SectionFeed | null {
  if (!Number.isFinite(ends)) return null;
  const { job } = scenario;
  const { station, name } = fattest.part;
  const { problem } = sectionModel(scenario, station);
  const at = Math.max(ends, 0.01);
  const { probes, snapshots, effort } = simulate({
    ...problem,
    stages: [{ until: at }],
    times: [at],
    snapshots: [at],
    ...(options.shouldStop && { shouldStop: options.shouldStop }),
  });
  options.effort?.add({ effort });
  const outline = problem.shapes!.find((shape) => shape.name === "bait")!.outline;
  const mean = probes["mean"][0];
  const pieces = piecesOf(snapshots[0], outline, mean);
  const { expansion } = plastisolOf(job);
  const unfed = shrinkLeft(pieces, expansion.value, setTemperature(job), job.room.temperature);
  return {
    station: name,
    mean,
    center: probes["hottest"][0],
    left: unfed.left,
    unfed: unfed.unfed,
    skin: skinShare(unfed.fluid, "round"),
    barAbove: fattest.mean - mean,
  };
}

/** A cell counts as the body's own from this share on. */
const WHOLE = 0.999;

/** The cells of a field that lie in an outline. Those that it cuts hold mold too: they share the heat that is left. */
function piecesOf({ x, y, temperature }: Snapshot, outline: Outline, mean: number): Shells {
  const lines = [x, y].map((axis) => Float64Array.from(axis));
  const { area } = coveredAreas(ringsOf(outline), lines[0], lines[1]);
  const nx = x.length - 1;
  const share: number[] = [];
  const T: number[] = [];
  let [whole, heat, cut] = [0, 0, 0];
  area.forEach((covered, c) => {
    const [i, j] = [c % nx, Math.floor(c / nx)];
    const box = (x[i + 1] - x[i]) * (y[j + 1] - y[j]);
    if (covered < WHOLE * box) {
      cut += covered;
      return;
    }
    share.push(covered);
    T.push(temperature[c]);
    whole += covered;
    heat += covered * temperature[c];
  });
  if (cut > 0) {
    share.push(cut);
    T.push((mean * (whole + cut) - heat) / cut);
  }
  return { share: Float64Array.from(share, (a) => a / (whole + cut)), T: Float64Array.from(T) };
}
