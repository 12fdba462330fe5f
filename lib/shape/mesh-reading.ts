/** From an STL file to the slices of a bait. Lengths m. */
import { InputError } from "../units/problem.ts";
import { isWhole, type Mesh, type MeshFaults, meshFaults, weld, weldNearby } from "./mesh-check.ts";
import { crossedTriangles } from "./mesh-crossed.ts";
import { type MeshMeasures, meshMeasures } from "./mesh-measures.ts";
import { type Axes, type Cut, meshCuts } from "./mesh-slices.ts";
import type { Point } from "./outline.ts";
import { evenlySpread, extentOf, largestCircle, measuresOf } from "./polygon.ts";
import { cutsAlong, type Finding, type Reading, type Slice, slicedVolume } from "./slice.ts";
import { readStl } from "./stl.ts";

/** How the coordinates of a file are meant. */
export interface MeshOptions {
  /** m to a unit of the file. */
  readonly unit: number;
  /** Which coordinate points up; left out: z, or y where the bait lies along z. */
  readonly up?: "x" | "y" | "z";
  /** Which end is the nose: the thicker one where left out. */
  readonly nose?: "low" | "high";
}

/** No bait is longer or shorter, m: then the file is likely in another unit. */
const LONGEST = 1;
const SHORTEST = 0.01;
/** Up to here every edge is looked at; beyond, only where the quick look finds something. */
const LOOKED_AT = 300_000;
/** Corners of an outline that is kept. */
const CORNERS = 64;

/**
 * Reads a bait from an STL file.
 *
 * @throws InputError as `readStl`; `bait_too_long`, `bait_too_short` with the unit that would fit; `mesh_without_volume`
 * @example readMesh(new TextEncoder().encode(`solid t ${["0 0 0 v 0 20 0 v 60 0 0", "0 0 0 v 0 0 20 v 0 20 0",
 * "0 0 0 v 60 0 0 v 0 0 20", "60 0 0 v 0 20 0 v 0 0 20"].map((p) => `facet normal 0 0 0 outer loop vertex
 * ${p.replaceAll("v", "vertex")} endloop endfacet`).join(" ")} endsolid t`), { unit: 0.001 }).length // 0.06
 */
export function readMesh(bytes: Uint8Array, options: MeshOptions): Reading {
  const triangles = readStl(bytes);
  const measures = meshMeasures(triangles);
  const axes = axesOf(measures, options);
  checkLength(measures.most[axes.along] - measures.least[axes.along], options.unit);
  const planes = cutsAlong(measures.least[axes.along], measures.most[axes.along]);
  const found: Finding[] = [];
  let mesh: Mesh;
  let whole = isWhole(triangles);
  if (whole && triangles.count > LOOKED_AT) {
    mesh = weld(crossedTriangles(triangles, axes.along, planes));
  } else {
    mesh = weld(triangles);
    let faults = meshFaults(mesh);
    if (faults.open > 0) {
      const nearby = weldNearby(triangles);
      const again = meshFaults(nearby);
      if (again.open < faults.open) {
        found.push({ finding: "mesh_welded", count: faults.open - again.open });
        [mesh, faults] = [nearby, again];
      }
    }
    found.push(...findingsOf(faults));
    whole = faults.open + faults.shared + faults.turned === 0;
  }
  const { unit } = options;
  const cuts = meshCuts(mesh, axes, planes);
  const bridged = cuts.reduce((sum, cut) => sum + cut.bridged, 0);
  if (bridged > 0) found.push({ finding: "cuts_bridged", count: bridged });
  const long = (measures.most[axes.along] - measures.least[axes.along]) * unit;
  const reading = sliced(cuts, long, unit, found);
  const volume = whole ? Math.abs(measures.volume) * unit ** 3 : slicedVolume(reading);
  if (!(volume > 1e-9 * long ** 3))
    throw new InputError([{ code: "mesh_without_volume", path: "" }]);
  if (whole && measures.volume < 0) found.push({ finding: "mesh_inside_out" });
  const nose =
    options.nose ??
    (measures.centroid[axes.along] <= (measures.least[axes.along] + measures.most[axes.along]) / 2
      ? "low"
      : "high");
  const placed = nose === "low" ? reading : turnedAround(reading);
  if (!whole) return { ...placed, findings: found };
  const along = (measures.centroid[axes.along] - measures.least[axes.along]) * unit;
  return {
    ...placed,
    findings: found,
    measures: {
      length: long,
      volume,
      surface: measures.surface * unit ** 2,
      centroid: {
        along: nose === "low" ? along : long - along,
        across: measures.centroid[axes.across] * unit - reading.middle[0],
        up: measures.centroid[axes.up] * unit - reading.middle[1],
      },
      second: {
        along: measures.second[axes.along] * unit ** 5,
        across: measures.second[axes.across] * unit ** 5,
        up: measures.second[axes.up] * unit ** 5,
      },
    },
  };
}

/** The bait lies along its longest side. */
function axesOf({ least, most }: MeshMeasures, { up }: MeshOptions): Axes {
  const size = [0, 1, 2].map((axis) => most[axis] - least[axis]);
  const along = size.indexOf(Math.max(...size)) as 0 | 1 | 2;
  const wanted =
    up === undefined ? (along === 2 ? 1 : 2) : (["x", "y", "z"].indexOf(up) as 0 | 1 | 2);
  if (wanted === along)
    throw new InputError([
      {
        code: "up_along_bait",
        path: "up",
        given: ["x", "y", "z"][along],
        possible: ["x", "y", "z"].filter((_, axis) => axis !== along),
      },
    ]);
  return { along, up: wanted as 0 | 1 | 2, across: (3 - along - wanted) as 0 | 1 | 2 };
}

const UNITS: readonly (readonly [string, number])[] = [
  ["mm", 1e-3],
  ["in", 0.0254],
  ["cm", 1e-2],
  ["m", 1],
];

function checkLength(size: number, unit: number): void {
  const long = size * unit;
  if (long >= SHORTEST && long <= LONGEST) return;
  const fits = UNITS.find(([, other]) => size * other >= 0.03 && size * other <= 0.5);
  throw new InputError([
    {
      code: long > LONGEST ? "bait_too_long" : "bait_too_short",
      path: "unit",
      given: `${Number((long * 1000).toPrecision(3))} mm`,
      least: "10 mm",
      most: "1000 mm",
      ...(fits && { suggestion: `unit=${fits[0]}` }),
    },
  ]);
}

function findingsOf(faults: MeshFaults): Finding[] {
  const list: Finding[] = [];
  const tell = (finding: Finding["finding"], count: number, place: readonly number[] | null) => {
    if (count > 0) list.push({ finding, count, ...(place && { place }) });
  };
  tell("mesh_open", faults.open, faults.openAt);
  tell("mesh_shared_edges", faults.shared, faults.sharedAt);
  tell("mesh_turned", faults.turned, faults.turnedAt);
  tell("mesh_flat_triangles", faults.flat, null);
  return list;
}

/** Loops of a cut: the largest that is no hole, and the area of all. */
function piecesOf(loops: Cut["loops"]) {
  const known = loops.map((loop) => ({ loop, ...measuresOf(loop) }));
  const holes = known.map(
    ({ loop }, i) =>
      known.filter((other, k) => k !== i && isInside(loop[0], other.loop)).length % 2 === 1,
  );
  const solid = known.filter((_, i) => !holes[i]);
  return {
    area: known.reduce((sum, { area }, i) => sum + (holes[i] ? -area : area), 0),
    main: solid.reduce<(typeof known)[number] | undefined>(
      (a, b) => (a && a.area >= b.area ? a : b),
      undefined,
    ),
    pieces: solid.length,
    hollow: holes.includes(true),
  };
}

function isInside([x, y]: Point, ring: readonly Point[]): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [[ax, ay], [bx, by]] = [ring[j], ring[i]];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  }
  return inside;
}

function sliced(
  cuts: readonly Cut[],
  length: number,
  unit: number,
  found: Finding[],
): Reading & { middle: Point } {
  let [several, hollow] = [0, 0];
  const raw = cuts.map(({ loops }, k) => {
    const { area, main, pieces, hollow: holed } = piecesOf(loops);
    if (pieces > 1) several++;
    if (holed) hollow++;
    const at = ((k + 0.5) / cuts.length) * length;
    if (!main) return { at, area: 0, thickness: 0, outline: undefined, box: undefined };
    const outline = evenlySpread(main.loop, CORNERS).map(([x, y]): Point => [x * unit, y * unit]);
    return {
      at,
      area: area * unit * unit,
      thickness: 2 * largestCircle(outline).radius,
      outline,
      box: extentOf(main.loop.map(([x, y]): Point => [x * unit, y * unit])),
    };
  });
  const thick = raw.map(({ thickness }) => thickness);
  const box = raw[thick.indexOf(Math.max(...thick))].box;
  const middle: Point = box ? [(box.left + box.right) / 2, (box.bottom + box.top) / 2] : [0, 0];
  if (several > 0) found.push({ finding: "several_pieces", count: several / cuts.length });
  if (hollow > 0) found.push({ finding: "hollow", count: hollow / cuts.length });
  const aside = raw.map(({ box }) => (box ? Math.abs((box.left + box.right) / 2 - middle[0]) : 0));
  if (box && Math.max(...aside) > 0.25 * (box.right - box.left))
    found.push({ finding: "off_middle" });
  const slices = raw.map(({ at, area, thickness, outline, box }): Slice => {
    if (!box || !outline)
      return { at, area, thickness, width: 0, height: 0, rise: 0, form: "round" };
    return {
      at,
      area,
      thickness,
      width: box.right - box.left,
      height: box.top - box.bottom,
      rise: (box.bottom + box.top) / 2 - middle[1],
      form: "round",
      outline,
    };
  });
  return { length, slices, findings: found, middle };
}

/** Seen from the other end. Left and right change places with it. */
function turnedAround(reading: Reading): Reading {
  const slices = reading.slices
    .map(
      (slice): Slice => ({
        ...slice,
        at: reading.length - slice.at,
        ...(slice.outline && { outline: slice.outline.map(([x, y]): Point => [-x, y]) }),
      }),
    )
    .reverse();
  return { ...reading, slices };
}
