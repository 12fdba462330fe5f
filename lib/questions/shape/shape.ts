/** What the shape of a bait comes to: size, weight, thickest and thinnest spot, the sections that matter. SI. */

import type { Answer, Quantified } from "../../answers/answer.ts";
import { productOf, type Range } from "../../confidence/range.ts";
import type { Bait, Job } from "../../job/types.ts";
import { barModel, standInOf } from "../../models/bait/bar.ts";
import { baitBody, caliperedVolume, volumeByStations } from "../../models/bait/body.ts";
import { cool, SEARCHING } from "../../models/cooling.ts";
import type { QuestionOptions } from "../../models/question-options.ts";
import { EffortSum, quantified } from "../../models/ranged.ts";
import { scenarioOf } from "../../models/scenario.ts";
import {
  type Body,
  type BodyMeasures,
  bodyMeasures,
  bodyOf,
  type Thickness,
  thickestAndThinnest,
} from "../../shape/body.ts";
import { chooseStations, FEW_STATIONS, type NamedSection } from "../../shape/choose-stations.ts";
import type { Point } from "../../shape/outline.ts";
import { extentOf, largestCircle, measuresOf } from "../../shape/polygon.ts";
import { cutsAlong, type Finding, type Reading, type Slice } from "../../shape/slice.ts";
import { stationOf } from "./stations.ts";

/** A section that is worth its place in the job. */
export interface ShapeSection {
  readonly name: string;
  readonly at: number; // m from the nose
  readonly width: number; // m
  readonly height: number; // m
  /** Of the largest circle that fits in, m. */
  readonly thickness: number;
  readonly area: number; // m2
  /** Until its hottest point is at the limit, as the quick look has it, s; Infinity: never. */
  readonly opens: number;
  /** Its corners around the axis, m. */
  readonly outline: readonly Point[];
}

/** A weighing beside what the shape says. */
interface Weighed {
  /** What was weighed: the bait, or the water that it displaces. */
  readonly by: "weight" | "displaced";
  readonly measured: number; // kg or m3
  readonly expected: Quantified;
  /** measured / expected - 1. */
  readonly difference: number;
  /** False: farther apart than the ranges of both bear out. */
  readonly agrees: boolean;
}

/** Size, volume and weight of a bait, and its sections. SI. */
export interface ShapeContent {
  readonly source: "stations" | "drawing" | "mesh";
  readonly length: number; // m
  readonly volume: Quantified;
  /** Of one bait in the plastic of the job. */
  readonly mass: Quantified;
  readonly surface: Quantified;
  /** Resin, water or silicone that one master displaces, m3. */
  readonly displaced: Quantified;
  readonly thickest: Thickness;
  readonly thinnest: Thickness;
  /** As thick all along, tips left out: no place is the thickest. */
  readonly even: boolean;
  readonly centroid: BodyMeasures["centroid"];
  /** Second moments of the volume about the centroid, m5. */
  readonly second: BodyMeasures["second"];
  readonly sections: readonly ShapeSection[];
  /** The section that cools slowest, and when it could be opened. */
  readonly slowest: { readonly name: string; readonly at: number; readonly opens: number };
  /** All sections open at once: none is the slowest. */
  readonly coolsAlike: boolean;
  /** Volume of the body joined through the sections over that of the source, less one. */
  readonly joined: number;
  readonly weighed: readonly Weighed[];
  readonly findings: readonly Finding[];
  /** For drawing it: at even places, from nose to tail. */
  readonly views: readonly Pick<Slice, "at" | "width" | "height" | "rise" | "thickness">[];
}

/** The answer to `shape`. */
export type ShapeAnswer = Answer<"shape", ShapeContent>;

/** A file's shape instead of the job's stations, and how it is to be read. */
export interface ShapeOptions extends QuestionOptions {
  /** A drawing or mesh that was read; left out: the stations of the job. */
  readonly reading?: Reading & { readonly source: "drawing" | "mesh" };
  /** One bait on the scale, kg. */
  readonly weight?: number;
  /** Water that it displaces, m3. */
  readonly displaced?: number;
}

/** A mesh is taken to be made to this share of its volume: print, sanding. A guess. */
const MESH_SHARE = 0.02;
/** Less than this share between two spots is no difference, of thickness or of time. */
const EVEN = 1e-3;
/** A weighing of one bait is right to this share: trimmed sprue, bubbles. A guess. */
const WEIGHING = 0.03;

/**
 * Size, weight and sections of a bait, from the stations of its job or from a drawing or mesh that was read.
 *
 * @param job from `readJob`: its plastic, its mold and its limits
 * @returns lengths m, masses kg, times s
 * @throws InputError when the shape has no volume
 * @example (shape(readJob("bait: { length: 100 mm, stations: [{ at: 50 mm, width: 20 mm, height: 20 mm }, { at: 51 mm, width: 20 mm, height: 20 mm }] }").job).answer.volume.value * 1e6).toFixed(0) // "21"
 */
export function shape(job: Job, options: ShapeOptions = {}): ShapeAnswer {
  const { reading } = options;
  const body = reading ? null : baitBody(job.bait);
  const sections = reading ? chooseStations(reading) : namedSections(job.bait);
  const joinedBody = body ?? bodyOf(reading!.length, sections);
  const joined = bodyMeasures(joinedBody);
  const measures = reading?.measures ?? (reading ? slicedMeasures(reading, joined) : joined);
  const extremes = reading ? extremesOf(reading.slices) : thickestAndThinnest(joinedBody);
  const effort = new EffortSum();
  const solved = sections.map((section): ShapeSection => {
    const outline = joinedBody.outlineAt(section.at);
    const station = stationOf(section);
    const cooled = cool(
      barModel(scenarioOf(job), standInOf(station)),
      job.limits.demold,
      SEARCHING,
    );
    effort.add(cooled.history);
    return {
      name: section.name,
      at: section.at,
      width: section.width,
      height: section.height,
      thickness: 2 * largestCircle(outline).radius,
      area: measuresOf(outline).area,
      opens: cooled.time,
      outline,
    };
  });
  const slowest = solved.reduce((a, b) => (b.opens > a.opens ? b : a));
  const source = reading?.source ?? "stations";
  const { straightLess, ...volume } = volumeRange(measures.volume, source, job, joinedBody);
  const mass = productOf(volume, job.shot.material.density);
  const weighed = weighings(options, volume, mass);
  const findings: Finding[] = [...(reading?.findings ?? [])];
  if (weighed.some(({ agrees }) => !agrees)) findings.push({ finding: "far_from_weight" });
  if (straightLess > FEW_STATIONS) findings.push({ finding: "few_stations", count: straightLess });
  const area = (factor: number) => measures.surface * factor ** (2 / 3);
  return {
    question: "shape",
    answer: {
      source,
      length: measures.length,
      volume: quantified(volume, "volume"),
      mass: quantified(mass, "mass"),
      surface: quantified(
        {
          value: measures.surface,
          low: area(volume.low / volume.value),
          high: area(volume.high / volume.value),
        },
        "area",
      ),
      displaced: quantified(volume, "volume"),
      ...extremes,
      even: extremes.thinnest.thickness >= extremes.thickest.thickness * (1 - EVEN),
      centroid: measures.centroid,
      second: measures.second,
      sections: solved,
      slowest: { name: slowest.name, at: slowest.at, opens: slowest.opens },
      coolsAlike: solved.every(({ opens }) => opens >= slowest.opens * (1 - EVEN)),
      joined: joined.volume / measures.volume - 1,
      weighed,
      findings,
      views: reading?.slices.map(viewOf) ?? viewsOf(joinedBody),
    },
    cautions: [],
    ignored: ["one_dimension"],
    effort: effort.done(),
  };
}

function namedSections({ stations, length }: Bait): NamedSection[] {
  const alone = stations.length === 1;
  return stations.map(({ name, at, width, height, form, outline, rise = 0 }) => ({
    name,
    at: alone ? length / 2 : at,
    width,
    height,
    form,
    rise,
    ...(outline && { outline }),
  }));
}

/** Of slices: what the joined body has, at the volume of the slices. */
function slicedMeasures({ slices, length }: Reading, joined: BodyMeasures): BodyMeasures {
  const volume = slices.reduce((sum, { area }) => sum + area, 0) * (length / slices.length);
  const grown = volume / joined.volume;
  const along =
    slices.reduce((sum, s) => sum + s.area * s.at, 0) / slices.reduce((sum, s) => sum + s.area, 0);
  return {
    ...joined,
    volume,
    centroid: { ...joined.centroid, along },
    second: {
      along: joined.second.along * grown,
      across: joined.second.across * grown,
      up: joined.second.up * grown,
    },
  };
}

function extremesOf(slices: readonly Slice[]): { thickest: Thickness; thinnest: Thickness } {
  const inner = slices.slice(3, -3);
  const thick = slices.reduce((a, b) => (b.thickness > a.thickness ? b : a));
  const waists = inner.filter(
    ({ thickness }, i) =>
      i > 0 &&
      i < inner.length - 1 &&
      thickness < inner[i - 1].thickness &&
      thickness <= inner[i + 1].thickness &&
      thickness < 0.9 * thick.thickness,
  );
  const pool = waists.length > 0 ? waists : inner;
  const thin = pool.reduce((a, b) => (b.thickness < a.thickness ? b : a));
  const plain = ({ at, thickness }: Slice): Thickness => ({ at, thickness });
  return { thickest: plain(thick), thinnest: plain(thin) };
}

/** A mesh is made as it is drawn, nearly; a drawing has its outline; how a body runs between stations is not known. */
function volumeRange(
  value: number,
  source: ShapeContent["source"],
  job: Job,
  body: Body,
): Range & { readonly straightLess: number } {
  if (source === "stations") {
    const { low, high, straightLess } = volumeByStations(body, job.uncertainty.thickness);
    return { value, low, high, straightLess };
  }
  const by = source === "mesh" ? null : caliperedVolume(body, job.uncertainty.thickness);
  const [low, high] = by
    ? [by.low / by.value, by.high / by.value]
    : [1 - MESH_SHARE, 1 + MESH_SHARE];
  return { value, low: value * low, high: value * high, straightLess: 0 };
}

function weighings({ weight, displaced }: ShapeOptions, volume: Range, mass: Range): Weighed[] {
  const one = (by: Weighed["by"], measured: number | undefined, range: Range): Weighed[] => {
    if (measured === undefined) return [];
    const low = range.low * (1 - WEIGHING);
    const high = range.high * (1 + WEIGHING);
    return [
      {
        by,
        measured,
        expected: quantified(range, by === "weight" ? "mass" : "volume"),
        difference: measured / range.value - 1,
        agrees: measured >= low && measured <= high,
      },
    ];
  };
  return [...one("weight", weight, mass), ...one("displaced", displaced, volume)];
}

function viewOf({ at, width, height, rise, thickness }: Slice) {
  return { at, width, height, rise, thickness };
}

function viewsOf(body: Body) {
  return cutsAlong(0, body.length).map((at) => {
    const outline = body.outlineAt(at);
    const { left, right, bottom, top } = extentOf(outline);
    const there = right > left && top > bottom;
    return {
      at,
      width: right - left,
      height: top - bottom,
      rise: (top + bottom) / 2,
      thickness: there ? 2 * largestCircle(outline).radius : 0,
    };
  });
}
