import { type ShapeAnswer, type ShapeOptions, shape } from "../../../lib/questions/shape/shape.ts";
import { formatQuantity, timeText } from "../../../lib/units/format.ts";
import { findingLine } from "../../messages/findings.ts";
import { inBoth, rangeInBoth } from "../report.ts";
import { shapeDrawings } from "../shape-views.ts";
import { lengthsOf, listText, tableText } from "../table.ts";
import type { Question, Telling } from "./question.ts";

const SOURCES = {
  stations: "the stations of the job, joined smoothly (straight sides are in the range, too)",
  drawing: "the drawing",
  mesh: "the mesh",
} as const;

/** The shape of what was read from another file than the job. */
export const shapeWith =
  (options: ShapeOptions): Question<ShapeAnswer>["run"] =>
  (job, more) =>
    shape(job, { ...more, ...options });

export const shapeQuestion: Telling<ShapeAnswer> = {
  reads: ["bait", "shot.material", "uncertainty.thickness"],
  text({ answer }, job, system) {
    const long = (si: number) => formatQuantity(si, "length", { system, fractions: true });
    const { thickest, thinnest, slowest, sections } = answer;
    const size = lengthsOf(
      sections.flatMap((s) => [s.at, s.width, s.height, s.thickness]),
      system,
    );
    return {
      headline: [
        `One bait: ${rangeInBoth(answer.volume, "volume", system)}.`,
        `It weighs ${rangeInBoth(answer.mass, "mass", system)} in ${job.shot.material.name}.`,
        ...(answer.even
          ? [`As thick all along: ${inBoth(thickest.thickness, "length", system)}.`]
          : [
              `Thickest: ${inBoth(thickest.thickness, "length", system)}, ${long(thickest.at)} from the nose. Thinnest, tips left out: ${inBoth(thinnest.thickness, "length", system)}, at ${long(thinnest.at)}.`,
            ]),
        ...(answer.coolsAlike
          ? []
          : [`Slowest to cool: ${slowest.name}, ${long(slowest.at)} from the nose.`]),
      ],
      body: [
        `Read from ${SOURCES[answer.source]}: ${inBoth(answer.length, "length", system)} long, surface ${formatQuantity(answer.surface.value, "area", { system })}.`,
        `A master of this size displaces ${rangeInBoth(answer.displaced, "volume", system)}.`,
        `Its middle of volume lies ${long(answer.centroid.along)} from the nose.`,
        ...(answer.source === "stations"
          ? []
          : [`Joined through the sections below, the volume is ${off(answer.joined)}.`]),
        ...answer.weighed.map(
          ({ by, measured, difference, agrees }) =>
            `${by === "weight" ? "Weighed" : "Displaced"}: ${formatQuantity(measured, by === "weight" ? "mass" : "volume", { system })}, ${off(difference)}: ${agrees ? "agrees with the shape" : "does not agree with the shape"}.`,
        ),
        "",
        ...tableText(
          ["section", "from the nose", "width", "height", "thickness", "opens, quick look"],
          sections.map((s) => [
            s.name,
            size(s.at),
            size(s.width),
            size(s.height),
            size(s.thickness),
            Number.isFinite(s.opens) ? timeText(s.opens) : "never",
          ]),
        ),
        ...(answer.findings.length === 0
          ? []
          : ["", "Noticed", ...listText(answer.findings.map(findingLine))]),
      ],
    };
  },
  drawings: ({ answer }) => shapeDrawings(answer),
};

function off(share: number): string {
  const percent = Math.round(Math.abs(share) * 1000) / 10;
  if (percent === 0) return "the same";
  return `${percent} % ${share > 0 ? "more" : "less"}`;
}
