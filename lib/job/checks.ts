/** What no single key can tell: two values of a job that do not go together. Works on what can be read, valid or not. */

import type { Point } from "../shape/outline.ts";
import { outlineFault } from "../shape/outline-fault.ts";
import type { Kind } from "../units/kinds.ts";
import type { Problem } from "../units/problem.ts";
import { isProblem, valueIn } from "../units/quantity.ts";
import { deepestColor, usualColor } from "./color-depth.ts";
import type { Leaf } from "./defaults.ts";
import { shown } from "./fields.ts";

interface Read {
  readonly value: number;
  readonly unit: string;
  readonly given: string;
}

/**
 * Every problem between two keys.
 *
 * @param catalogs of the plastic that the job names: no longer flows below, K
 * @param settled paths that are not judged: wrong already, or a default that gives way
 */
export function problemsBetween(
  leaves: readonly Leaf[],
  file: Record<string, unknown>,
  settled: ReadonlySet<string>,
  catalogs: { readonly setTemperature: number | undefined },
): Problem[] {
  const byPath = new Map(leaves.map((leaf) => [leaf.path, leaf]));
  const problems: Problem[] = [];

  const read = (path: string): Read | undefined => {
    const leaf = settled.has(path) ? undefined : byPath.get(path);
    if (leaf?.quantity === undefined || isProblem(leaf.quantity)) return undefined;
    return { ...leaf.quantity, given: String(leaf.given) };
  };
  const inUnitOf = (si: number, { unit }: Read, kind: Kind) =>
    `${Number(valueIn(si, unit, kind).toPrecision(4))} ${unit}`;
  /** The value at `path` must stay below (or above) a bound that follows from others. */
  const hold = (
    code: string,
    path: string,
    kind: Kind,
    bound: { most?: number; least?: number },
  ) => {
    const found = read(path);
    if (!found) return;
    const { most, least } = bound;
    if (most !== undefined && found.value > most * (1 + 1e-12))
      problems.push({ code, path, given: found.given, most: inUnitOf(most, found, kind) });
    if (least !== undefined && found.value < least * (1 - 1e-12))
      problems.push({ code, path, given: found.given, least: inUnitOf(least, found, kind) });
  };

  const shot = read("shot.temperature");
  for (const path of ["mold.temperature", "mold.upperTemperature", "run.preheat"])
    if (shot) hold("mold_hotter_than_shot", path, "temperature", { most: shot.value - 20 });
  const room = read("room.temperature");
  // a body never gets colder than what it cools in
  if (room) hold("limit_below_room", "limits.demold", "temperature", { least: room.value + 2 });
  if (shot) hold("limit_above_shot", "limits.demold", "temperature", { most: shot.value - 20 });
  // a shot that has set already flows nowhere
  if (shot) hold("limit_above_shot", "limits.set", "temperature", { most: shot.value - 5 });

  // opened above that, it runs out
  const set = read("limits.set")?.value ?? catalogs.setTemperature;
  if (set !== undefined) hold("limit_above_set", "limits.demold", "temperature", { most: set });

  sizeProblems(file, read, hold, problems);

  const depth = read("pour.depth");
  if (depth)
    hold("masters_stand_out", "pour.masters.height", "length", { most: depth.value - 1e-3 });
  const bait = read("bait.length");
  if (bait) hold("mold_shorter", "mold.length", "length", { least: bait.value });
  if (bait)
    for (const path of ["swim.hook.at", ...weightPlaces(file)])
      hold("outside_bait", path, "length", { most: bait.value });
  plateProblems(file["mold"], read, hold);
  lessProblems(file["mix"], read, problems);
  return problems;
}

/** What the masters take up is taken from a box: a volume is what is left to fill, and both can't be meant. */
function lessProblems(
  mix: unknown,
  read: (path: string) => Read | undefined,
  problems: Problem[],
): void {
  const pours = typeof mix === "object" && mix !== null && "pours" in mix ? mix.pours : [];
  if (!Array.isArray(pours)) return;
  pours.slice(0, 200).forEach((pour: unknown, i) => {
    if (typeof pour !== "object" || pour === null) return;
    const { volume, box } = pour as Record<string, unknown>;
    const less = read(`mix.pours[${i}].less`);
    if ((volume ?? null) === null || (box ?? null) !== null || !less || !(less.value > 0)) return;
    problems.push({ code: "less_of_volume", path: `mix.pours[${i}].less`, given: less.given });
  });
}

/** The least that a plate may be behind the cavity, m: nearer ones are refused by themselves. */
const NEAREST_PLATE = 1e-3;

/** Plates that don't lie in the wall behind the cavity, or not before the back plate. */
function plateProblems(mold: unknown, read: (path: string) => Read | undefined, hold: Hold): void {
  const wall = read("mold.wall");
  if (!wall) return;
  hold("plate_outside_mold", "mold.back.distance", "length", { most: wall.value });
  const keys = typeof mold === "object" && mold !== null ? (mold as Record<string, unknown>) : {};
  const isBacked = keys["back"] !== undefined && keys["back"] !== null;
  const back = isBacked ? read("mold.back.distance")?.value : undefined;
  const behind = Math.min(wall.value, back ?? wall.value);
  const count = Array.isArray(keys["inserts"]) ? keys["inserts"].length : 0;
  for (let i = 0; i < Math.min(count, 200); i++) {
    const path = `mold.inserts[${i}]`;
    const thickness = read(`${path}.thickness`)?.value ?? 0;
    if (thickness > (behind - NEAREST_PLATE) * (1 + 1e-12))
      hold("plate_fills_wall", `${path}.thickness`, "length", { most: behind - NEAREST_PLATE });
    else hold("plate_outside_mold", `${path}.distance`, "length", { most: behind - thickness });
  }
}

/** Where the places of the weights stand in the file. */
function weightPlaces(file: Record<string, unknown>): string[] {
  const swim = file["swim"];
  const weights =
    typeof swim === "object" && swim !== null && "weights" in swim ? swim.weights : [];
  return Array.isArray(weights) ? weights.slice(0, 200).map((_, i) => `swim.weights[${i}].at`) : [];
}

type Hold = (
  code: string,
  path: string,
  kind: Kind,
  bound: { most?: number; least?: number },
) => void;

function sizeProblems(
  file: Record<string, unknown>,
  read: (path: string) => Read | undefined,
  hold: Hold,
  problems: Problem[],
): void {
  const bait = file["bait"];
  const keys = typeof bait === "object" && bait !== null ? (bait as Record<string, unknown>) : {};
  const given = (key: string) => keys[key] !== undefined && keys[key] !== null;
  if (
    !given("thickness") &&
    !given("stations") &&
    !given("outline") &&
    !Object.hasOwn(keys, "thickness")
  ) {
    problems.push({ code: "missing", path: "bait.thickness", suggestion: "16 mm" });
    return;
  }
  if (given("width") && (given("stations") || given("outline")))
    problems.push({ code: "width_twice", path: "bait.width", given: shown(keys["width"]) });
  const stations = Array.isArray(keys["stations"]) ? keys["stations"] : [];
  const fromStations = stationProblems(stations.length, read, hold, problems);
  const thickness = read("bait.thickness");
  if (thickness && fromStations > 0 && Math.abs(thickness.value / fromStations - 1) > 0.1)
    problems.push({
      code: "thickness_differs",
      path: "bait.thickness",
      given: thickness.given,
      possible: [
        `${Number(valueIn(fromStations, thickness.unit, "length").toPrecision(3))} ${thickness.unit}`,
      ],
    });
  outlineProblems(keys, read, problems);
  const thickest = Math.max(thickness?.value ?? 0, fromStations);
  if (thickest > 0) colorProblems(file["layer"], thickest, read, hold);
  nameProblems(stations, problems);
}

/** Colors that do not fit into the bait: each by itself, and together. */
function colorProblems(
  layer: unknown,
  thickest: number,
  read: (path: string) => Read | undefined,
  hold: Hold,
): void {
  const keys =
    typeof layer === "object" && layer !== null ? (layer as Record<string, unknown>) : {};
  const form = keys["form"] === "skin" ? "skin" : undefined;
  const most = deepestColor(form, thickest);
  hold(form === "skin" ? "lining_fills_bait" : "deeper_than_bait", "layer.depth", "length", {
    most,
  });
  const depth = read("layer.depth")?.value ?? usualColor(form, thickest);
  // the usual skin is for no color that is thinner
  if (keys["skin"] !== undefined)
    hold("skin_deeper_than_color", "layer.skin", "length", { most: depth });
  const more = Array.isArray(keys["more"]) ? keys["more"].length : 0;
  let left = most - Math.min(depth, most);
  for (let i = 0; i < Math.min(more, 200); i++) {
    const path = `layer.more[${i}].depth`;
    hold("colors_fill_bait", path, "length", { most: left });
    left = Math.max(0, left - (read(path)?.value ?? 0));
  }
}

/** Stations past the end of the bait, or twice at one place; the thickest of them, m, 0 without any. */
function stationProblems(
  count: number,
  read: (path: string) => Read | undefined,
  hold: Hold,
  problems: Problem[],
): number {
  const length = read("bait.length");
  const sizes = new Map<number, string>();
  let thickest = 0;
  for (let i = 0; i < Math.min(count, 200); i++) {
    const path = `bait.stations[${i}]`;
    if (length) hold("station_past_end", `${path}.at`, "length", { most: length.value });
    const place = read(`${path}.at`);
    const width = read(`${path}.width`)?.value;
    const height = read(`${path}.height`)?.value;
    const size = `${width} ${height}`;
    const there = place && sizes.get(place.value);
    // a copy says the same twice; two sizes at one place can't both be
    if (place && there !== undefined && there !== size)
      problems.push({ code: "station_twice", path: `${path}.at`, given: place.given });
    if (place) sizes.set(place.value, size);
    thickest = Math.max(thickest, Math.min(width ?? 0, height ?? 0));
  }
  return thickest;
}

function nameProblems(stations: readonly unknown[], problems: Problem[]): void {
  const names = stations.map((s) =>
    typeof s === "object" && s !== null ? (s as { name?: unknown }).name : undefined,
  );
  names.forEach((name, i) => {
    if (name !== undefined && names.indexOf(name) < i)
      problems.push({ code: "name_twice", path: `bait.stations[${i}].name`, given: shown(name) });
  });
}

/** Outlines that cross themselves or enclose nothing, with the place in the words of the file. */
function outlineProblems(
  bait: Record<string, unknown>,
  read: (path: string) => Read | undefined,
  problems: Problem[],
): void {
  const listed = (x: unknown) => (Array.isArray(x) ? (x as unknown[]) : []);
  const outlines: [string, unknown[]][] = [["bait.outline", listed(bait["outline"])]];
  listed(bait["stations"]).forEach((station, i) => {
    const own = typeof station === "object" && station !== null ? station : {};
    outlines.push([`bait.stations[${i}].outline`, listed((own as { outline?: unknown }).outline)]);
  });
  for (const [path, { length }] of outlines) {
    if (length < 3 || length > 500) continue;
    const corners: Point[] = [];
    let unit = "mm";
    for (let k = 0; k < length; k++) {
      const [x, y] = [0, 1].map((axis) => read(`${path}[${k}][${axis}]`));
      if (!x || !y) break;
      corners.push([x.value, y.value]);
      unit = x.unit;
    }
    const fault = corners.length === length ? outlineFault(corners) : null;
    if (!fault) continue;
    const place = fault.at.map((c) => Number(valueIn(c, unit, "length").toPrecision(4)) + 0);
    problems.push({ code: fault.code, path, given: `(${place[0]} ${unit}, ${place[1]} ${unit})` });
  }
}
