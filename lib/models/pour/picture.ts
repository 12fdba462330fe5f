/** The cut across the box of a pour as a picture: resin over its bed, with the masters as they are solved. */

import polygonClipping from "polygon-clipping";
import type { HeatProblem, Snapshot } from "../../heat/problem.ts";
import type { Point } from "../../shape/outline.ts";
import { polygonOf } from "../../shape/parts.ts";
import {
  drawable,
  type Polygon,
  type SectionLine,
  type SectionPicture,
} from "../bait/section-picture.ts";
import { PLATE } from "./problem.ts";

/**
 * @param problem of `pourSection`
 * @param snapshots of its history, K
 */
export function pourPicture(
  { block, shapes = [] }: Pick<HeatProblem, "block" | "shapes">,
  snapshots: readonly Snapshot[],
): SectionPicture {
  if (!block) throw new Error("a cut across the box has a block");
  const { width, height } = block;
  const box: Polygon = [
    [
      [0, 0],
      [width, 0],
      [width, height],
      [0, height],
    ],
  ];
  const lines = shapes.flatMap(({ material, outline }): SectionLine[] => {
    const part = material === "master" ? "master" : material === PLATE ? "insert" : "edge";
    const pieces = polygonClipping.intersection([polygonOf(outline)], [box]);
    return pieces.flatMap((polygon) =>
      polygon.map((ring) => ({ part, points: ring.slice(0, -1) as readonly Point[] })),
    );
  });
  return { fields: snapshots.map(drawable), lines, width, height };
}
