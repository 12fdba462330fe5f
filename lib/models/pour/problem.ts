/**
 * A pour as a heat problem: bench, bed of clay with masters, resin, box, air.
 *
 * 1-D from the bench up for what is searched, a cut across the box for the answer. SI and kelvin.
 */
import type { HeatProblem, Layer, Shape, Stage } from "../../heat/problem.ts";
import type { Job, Plate } from "../../job/types.ts";
import type { Material } from "../../materials/material.ts";
import { toMaterial } from "../../materials/to-material.ts";
import type { Outline, Point } from "../../shape/outline.ts";
import { stationOutline } from "../../shape/station-outline.ts";
import { airAt, type Exchange, type RoomFace, waterAt, wholeCoefficient } from "../surroundings.ts";
import { masterVolume } from "./masters.ts";
import type { PouredResin } from "./resin.ts";

/** What surrounds a pour and may be changed to see what it does. */
export interface PourSetting {
  readonly depth: number; // m
  readonly room: number; // K
  /** Temperature of resin and hardener as poured, K. */
  readonly stock: number;
  readonly fan: boolean;
  /** Temperature of the water that the box stands in, K; null: in the room. */
  readonly bath: number | null;
  /** Plate within the resin; null: none. */
  readonly plate: PourPlate | null;
}

/** A plate that lies level in the pour. Lengths m, contact to the resin W/(m2 K). */
interface PourPlate extends Pick<Plate, "material" | "thickness" | "width" | "contact"> {
  /** From the bed to its underside. */
  readonly over: number;
}

export function settingOf(job: Job): PourSetting {
  const { pour, room } = job;
  const { plate } = pour;
  return {
    depth: pour.depth,
    room: room.temperature,
    stock: pour.stock,
    fan: room.air === "fan",
    bath: room.air === "bath" ? room.bathTemperature : null,
    plate: plate === null ? null : { ...plate, over: pour.masters.height + plate.distance },
  };
}

/** The job in another room: resin that lies in it is as warm as it, what was warmed or chilled apart stays as it is. */
export function inRoom(job: Job, temperature: number): Job {
  const { room, pour } = job;
  const stock = pour.stockOfRoom ? temperature : pour.stock;
  return { ...job, room: { ...room, temperature }, pour: { ...pour, stock } };
}

/** Resin in the box over bed and masters, m3. */
export function pouredVolume(job: Job): number {
  const { box, depth, masters } = job.pour;
  return Math.max(0, box.length * box.width * depth - masters.count * masterVolume(job));
}

/** How much warmer than the air a face is taken to be for the coefficient of still air, K. */
const SURFACE_EXCESS = 15;

/** What the faces of the box exchange with the room, or a bath. Nothing lies on the open resin: water would spoil it. */
export function pourFaces(
  job: Job,
  setting: PourSetting,
): { readonly top: Exchange; readonly side: Exchange; readonly under: Exchange } {
  const { box } = job.pour;
  const { room } = setting;
  const emissivity = job.pour.material.emissivity.value;
  const wide = (box.length * box.width) / (2 * (box.length + box.width));
  const air = (facing: RoomFace["facing"], length: number, emissivity: number) =>
    airAt(job.room, {
      facing,
      length,
      along: Math.min(box.length, box.width),
      above: SURFACE_EXCESS,
      emissivity,
      // no fan blows under the bench
      fan: setting.fan && facing !== "down",
      air: room,
    });
  const high = job.pour.clay.thickness + setting.depth;
  // a box in a bath stands in the water up to its rim
  const bath = setting.bath === null ? null : waterAt(setting.bath);
  return {
    top: air("up", wide, emissivity),
    side: bath ?? air("side", high, box.material.emissivity.value),
    under: bath ?? air("down", wide, job.pour.bench.material.emissivity.value),
  };
}

/** Every material of a pour by the name that its problems use. */
function materialsOf(
  job: Job,
  resin: PouredResin,
  plate: PourPlate | null,
): Record<string, Material> {
  const { clay, bench, box, masters } = job.pour;
  return {
    clay: toMaterial(clay.material),
    bench: toMaterial(bench.material),
    box: toMaterial(box.material),
    master: toMaterial(masters.material),
    resin: resin.material,
    ...(plate && { [PLATE]: toMaterial(plate.material) }),
  };
}

/** Region and material of a plate in the pour. */
export const PLATE = "plate";
/** The resin over a plate, and its hottest. */
const UPPER = "upper";
export const HOT_ABOVE = "hot above";

interface RunOptions {
  /** End, s. */
  readonly until: number;
  readonly estimateGrid?: boolean;
  readonly estimateSteps?: boolean;
  readonly resolution?: number;
  readonly tolerance?: number;
  readonly times?: readonly number[];
  readonly snapshots?: readonly number[];
  readonly everyStep?: boolean;
  readonly shouldStop?: () => boolean;
}

/** A pour far from the box walls: bench, bed, resin, air. Probes `hot` (resin), `hot above` (resin over a plate), `bed`, `top`, `bottom`. */
export function pourLine(
  job: Job,
  resin: PouredResin,
  setting: PourSetting,
  { until, ...options }: RunOptions,
): HeatProblem {
  const faces = pourFaces(job, setting);
  const { bench, clay } = job.pour;
  const bed = bench.thickness + clay.thickness;
  const poured = resinLayers(setting);
  return {
    frame: "slab",
    materials: materialsOf(job, resin, setting.plate),
    layers: [
      { name: "bench", material: "bench", thickness: bench.thickness, initial: setting.room },
      { name: "bed", material: "clay", thickness: clay.thickness, initial: setting.room },
      ...poured,
    ],
    boundary: { left: faces.under, right: faces.top },
    stages: [{ until }],
    probes: {
      hot: { kind: "hottest", region: "resin" },
      ...(poured.some(({ name }) => name === UPPER) && {
        [HOT_ABOVE]: { kind: "hottest" as const, region: UPPER },
      }),
      bed: { kind: "face", region: "bed", neighbor: "resin", of: "hottest" },
      bottom: { kind: "point", x: bed, side: "right" },
      top: { kind: "point", x: bed + setting.depth, side: "left" },
    },
    ...options,
  };
}

/** Less resin over a plate is none, m. */
const LEAST_LAYER = 1e-4;

/** A plate that the resin hardly reaches is none. */
const isIn = ({ over }: PourPlate, depth: number): boolean => depth - over > LEAST_LAYER;

function resinLayers({ depth, stock, room, plate }: PourSetting): Layer[] {
  const resin = (name: string, thickness: number): Layer => ({
    name,
    material: "resin",
    thickness,
    initial: stock,
  });
  if (plate === null || !isIn(plate, depth)) return [resin("resin", depth)];
  // a film of resin over a plate is part of it: the pour stays as deep as it is
  const above = depth - plate.over;
  const thickness = above - plate.thickness > LEAST_LAYER ? plate.thickness : above;
  const over = above - thickness;
  return [
    { ...resin("resin", plate.over), contact: plate.contact },
    {
      name: PLATE,
      material: PLATE,
      thickness,
      initial: room,
      ...(over > LEAST_LAYER && { contact: plate.contact }),
    },
    ...(over > LEAST_LAYER ? [resin(UPPER, over)] : []),
  ];
}

/** Sizes of the cut across the box, m: y up from the bench's underside, x from the outside of the left wall. */
interface SectionSizes {
  readonly width: number;
  readonly height: number;
  readonly wall: number;
  /** Height of the bed's surface. */
  readonly bed: number;
  readonly depth: number;
  /** The outline of each master, bedded to its middle. */
  readonly masters: readonly Outline[];
}

export function sectionSizes(job: Job, { depth }: PourSetting): SectionSizes {
  const { box, clay, bench, masters } = job.pour;
  const bed = bench.thickness + clay.thickness;
  const pitch = box.width / Math.max(1, masters.count);
  // masters that would overlap are drawn as wide as there is room
  const width = Math.min(masters.width, 0.95 * pitch);
  const height = Math.min(masters.height, 0.95 * depth, 0.95 * clay.thickness);
  return {
    width: box.width + 2 * box.wall,
    height: bed + depth,
    wall: box.wall,
    bed,
    depth,
    masters: Array.from({ length: masters.count }, (_, i) =>
      masterOutline(job, { width, height }, [box.wall + pitch * (i + 0.5), bed]),
    ),
  };
}

/** The bait's own section at its tallest station, or an ellipse where the masters were measured by themselves. */
function masterOutline(
  { bait, pour }: Job,
  { width, height }: { readonly width: number; readonly height: number },
  center: Point,
): Outline {
  const tallest = bait.stations.reduce((a, b) => (b.height > a.height ? b : a));
  const { form, outline } = tallest;
  const own = pour.masters.ofBait
    ? { form, ...(outline && { outline }) }
    : { form: "round" as const };
  return stationOutline({ ...own, width, height: 2 * height }, center);
}

/** The cut across the box at the middle of its length. Regions `block` (box), bench, bed, resin, master1 ..., plate. */
export function pourSection(
  job: Job,
  resin: PouredResin,
  setting: PourSetting,
  { until, ...options }: RunOptions,
): HeatProblem {
  const faces = pourFaces(job, setting);
  const { box, bench } = job.pour;
  const { room, stock, depth, plate } = setting;
  const size = sectionSizes(job, setting);
  const rectangle = (
    name: string,
    material: string,
    initial: number,
    [left, right, bottom, top]: readonly [number, number, number, number],
  ): Shape => ({
    name,
    material,
    initial,
    outline: {
      kind: "rectangle",
      size: [right - left, top - bottom],
      center: [(left + right) / 2, (bottom + top) / 2],
    },
  });
  const [left, right] = [size.wall, size.width - size.wall];
  const shapes: Shape[] = [
    rectangle("bench", "bench", room, [0, size.width, 0, bench.thickness]),
    rectangle("bed", "clay", room, [left, right, bench.thickness, size.bed]),
    rectangle("resin", "resin", stock, [left, right, size.bed, size.height]),
    ...size.masters.map(
      (outline, i): Shape => ({
        name: `master${i + 1}`,
        material: "master",
        initial: room,
        outline,
      }),
    ),
  ];
  if (plate !== null && isIn(plate, depth)) {
    const bottom = size.bed + plate.over;
    const top = Math.min(bottom + plate.thickness, size.height);
    const half = Math.min(plate.width ?? box.width, box.width) / 2;
    const middle = size.width / 2;
    shapes.push({
      ...rectangle(PLATE, PLATE, room, [middle - half, middle + half, bottom, top]),
      contact: plate.contact,
    });
  }
  const side = faces.side;
  const h = wholeCoefficient(side, SURFACE_EXCESS);
  const wallAlone = box.wall / conductivityOf(job);
  return {
    frame: "section",
    materials: materialsOf(job, resin, setting.plate),
    block: { width: size.width, height: size.height, material: "box", initial: room },
    shapes,
    boundary: { left: side, right: side, top: faces.top, bottom: faces.under },
    // what leaves through the two short walls of the box, spread over its length
    ends: { length: box.length, h: 1 / (1 / h + wallAlone), ambient: side.ambient as number },
    stages: [{ until }],
    probes: {
      hot: { kind: "hottest", region: "resin" },
      bed: { kind: "hottest", region: "bed" },
      ...(size.masters.length > 0 && {
        master: { kind: "hottest", region: `master${Math.ceil(size.masters.length / 2)}` },
      }),
    },
    ...options,
  };
}

function conductivityOf(job: Job): number {
  return job.pour.box.material.conductivity.value;
}

/** Layers from the bed up: depth of each in m, the time it is poured at in s. */
interface StackedPour extends RunOptions {
  readonly depths: readonly number[];
  readonly starts: readonly number[];
}

/** Poured in layers: each is empty until its own time. Names `resin`, `resin2`, ... from the bed up. */
export function pourStack(
  job: Job,
  resin: PouredResin,
  setting: PourSetting,
  { depths, starts, until, ...options }: StackedPour,
): HeatProblem {
  const faces = pourFaces(job, setting);
  const { bench, clay } = job.pour;
  const { room, stock } = setting;
  const names = depths.map((_, i) => (i === 0 ? "resin" : `resin${i + 1}`));
  const stages: Stage[] = starts.map((_, i) => ({
    until: starts[i + 1] ?? until,
    absent: names.slice(i + 1),
    exposed: faces.top,
    ...(i > 0 && { refill: [{ name: names[i], temperature: stock }] }),
  }));
  let y = bench.thickness + clay.thickness;
  const tops = depths.map((depth) => {
    y += depth;
    return y;
  });
  return {
    frame: "slab",
    materials: materialsOf(job, resin, null),
    layers: [
      { name: "bench", material: "bench", thickness: bench.thickness, initial: room },
      { name: "bed", material: "clay", thickness: clay.thickness, initial: room },
      ...depths.map(
        (thickness, i): Layer => ({ name: names[i], material: "resin", thickness, initial: stock }),
      ),
    ],
    boundary: { left: faces.under, right: faces.top },
    stages,
    probes: Object.fromEntries([
      ...names.map((name) => [name, { kind: "hottest", region: name }] as const),
      ...tops.map((x, i) => [`top${i + 1}`, { kind: "point", x, side: "left" }] as const),
      ["bed", { kind: "face", region: "bed", neighbor: "resin", of: "hottest" }] as const,
    ]),
    ...options,
  };
}
