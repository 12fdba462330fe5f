/** What was noticed of a shape's file, and what was done about it. */
import type { Finding, FindingCode } from "../../lib/shape/slice.ts";

const counted = (n: number | undefined, one: string, many: string) =>
  n === 1 ? `one ${one}` : `${n ?? "some"} ${many}`;
const share = (x: number | undefined) =>
  `${Math.max(1, Math.round(100 * (x ?? 0)))} % of its length`;

const LINES: Readonly<Record<FindingCode, (finding: Finding) => string>> = {
  mesh_open: ({ count }) =>
    `The mesh is open: ${counted(count, "edge has", "edges have")} one triangle only. Its volume is that of its slices; close it in the program that drew it to be sure.`,
  mesh_shared_edges: ({ count }) =>
    `${counted(count, "edge is", "edges are")} shared by more than two triangles: bodies that touch, or a wall inside. The slices decide.`,
  mesh_turned: ({ count }) =>
    `Triangles face different ways at ${counted(count, "edge", "edges")}: the slices decide, not the faces.`,
  mesh_inside_out: () => "The mesh is inside out; it was turned.",
  mesh_flat_triangles: ({ count }) =>
    `${counted(count, "triangle has", "triangles have")} no area and were left out.`,
  mesh_welded: ({ count }) =>
    `Corners that lay a little apart were joined: ${counted(count, "open edge", "open edges")} closed by it.`,
  cuts_bridged: ({ count }) =>
    `${counted(count, "gap", "gaps")} in the slices were bridged straight.`,
  several_pieces: ({ count }) =>
    `It is cut into several pieces${count === undefined ? "" : ` over ${share(count)}`}, like a forked tail: the largest piece is the section, the volume is that of all.`,
  hollow: ({ count }) =>
    `It is hollow over ${share(count)}: the heat is reckoned for a full section, the volume without the hollow.`,
  off_middle: () => "It bends to the side: sections are taken straight across its length.",
  width_from_height: () =>
    "There is no top view: it is taken as wide as it is high. Draw one and name it top.",
  stations_sorted: () => "The stations were put in order from the nose.",
  few_stations: ({ count }) =>
    `The stations are few for this shape: joined by straight sides they would hold ${Math.round(100 * (count ?? 0))} % less. More stations, where it bends, narrow the volume and the weight.`,
  far_from_weight: () =>
    "Shape and weighing do not agree: check the unit or the scale of the file, salt or bubbles in the plastic, and the sprue that was weighed with it.",
};

/** One finding as a sentence, with its place where it has one. */
export function findingLine(finding: Finding): string {
  const place = finding.place?.map((x) => Number(x.toPrecision(3))).join(", ");
  const line = LINES[finding.finding](finding);
  const sentence = `${line.charAt(0).toUpperCase()}${line.slice(1)}`;
  return place === undefined ? sentence : `${sentence} The first is near ${place}.`;
}
