/** A body as many thin slices, from whatever it was read; and what was noticed while reading. Lengths m. */
import type { BodyMeasures } from "./body.ts";
import type { Point } from "./outline.ts";
import type { SectionForm } from "./section-form.ts";

/** One cut at right angles to the body's length. */
export interface Slice {
  /** From the nose. */
  readonly at: number;
  readonly width: number;
  readonly height: number;
  /** How far its middle lies above the axis. */
  readonly rise: number;
  /** m2, of all that is cut. */
  readonly area: number;
  /** Diameter of the largest circle that fits in. */
  readonly thickness: number;
  readonly form: SectionForm;
  /** Its own outline, where it is known better than by width, height and form. */
  readonly outline?: readonly Point[];
}

/** What was noticed of a file, and mended or left as it is. */
const findings = [
  "mesh_open", // edges with one triangle: the volume is that of its slices
  "mesh_shared_edges",
  "mesh_turned", // some triangles face inward
  "mesh_inside_out",
  "mesh_flat_triangles",
  "mesh_welded", // corners joined that lay a little apart
  "cuts_bridged",
  "several_pieces", // a cut of more than one piece: a forked tail
  "hollow",
  "off_middle", // the body bends sideways
  "width_from_height", // no top view
  "stations_sorted",
  "far_from_weight",
  "few_stations", // straight sides between them would hold much less
] as const;
export type FindingCode = (typeof findings)[number];

/** Something about a mesh that its reader should know, as a code of a sentence. */
export interface Finding {
  readonly finding: FindingCode;
  /** How many, or which share. */
  readonly count?: number;
  /** Where, in the coordinates of the file. */
  readonly place?: readonly number[];
}

/** A file read: slices, and measures where they are known better than by the slices. */
export interface Reading {
  readonly length: number;
  readonly slices: readonly Slice[];
  readonly measures?: BodyMeasures;
  readonly findings: readonly Finding[];
}

/** Cuts along a body. */
const CUTS = 96;

/** Places of the cuts. */
export function cutsAlong(from: number, to: number): number[] {
  return Array.from({ length: CUTS }, (_, k) => from + ((k + 0.5) / CUTS) * (to - from));
}

/** Volume as the slices have it, m3. */
export function slicedVolume({ length, slices }: Pick<Reading, "length" | "slices">): number {
  return slices.reduce((sum, { area }) => sum + area, 0) * (length / slices.length);
}
